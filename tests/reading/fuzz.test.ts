import { describe, expect, test } from 'vitest';
import { Random } from '../../nesting/packing/random.ts';
import { checkReading } from '../support/checkReading.ts';
import { mutated } from '../support/mutateDrawing.ts';
import { ownSeeds } from '../support/seedDrawings.ts';

/** A short run of `tests/bench/fuzzReaders.ts`, always the same; the script goes on for as long as it is told. */
const CASES = 120;

describe('changed drawings are read or refused in a sentence', () => {
  const seeds = ownSeeds();

  test.each(seeds)('$name is sound as it is', async ({ bytes, kind }) => {
    expect(await checkReading(bytes, kind)).toEqual({ fault: null, read: true });
  });

  test.each(['svg', 'dxf', 'pdf'] as const)('%s', async (kind) => {
    const own = seeds.filter((seed) => seed.kind === kind);
    let read = 0;
    for (let number = 0; number < CASES; number++) {
      const random = new Random(number, 7);
      const seed = own[random.below(own.length)];
      if (!seed) throw new Error(`no ${kind} to start from`);
      const check = await checkReading(mutated(seed, seeds, random), kind);
      expect(check.fault, `case ${number} from ${seed.name}`).toBeNull();
      if (check.read) read++;
    }
    // Changes that nothing survives would test the refusal alone.
    expect(read).toBeGreaterThan(CASES / 5);
  });
});
