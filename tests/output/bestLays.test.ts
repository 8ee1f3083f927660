import { describe, expect, it } from 'vitest';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type ClothLay, type Roll, remnantSchema, rollSchema } from '../../pattern/exchange/project.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { bestOnRoll, onePerCloth } from '../../pattern/output/bestLays.ts';
import { box, smallProject, solveChecked } from '../support/layOf.ts';

/** A layout as the engine gives it, with other lengths and counts. */
async function layouts(...of: Partial<ClothLay>[]): Promise<ClothLay[]> {
  const request = layRequestSchema.parse({
    project: smallProject({
      cloth: { kind: 'roll', widthMm: 500, shopStepMm: 100 },
      pieces: [{ name: 'p', outline: box(200, 200), plain: 2 }],
    }),
    choices: [{ materialId: 'cloth', spread: 'single' }],
    maxSteps: 5,
  });
  const { results } = await runLay(request, solveChecked, () => {}, new AbortController().signal);
  return of.map((over) => ({ ...results[0]!, ...over }));
}

/** A roll that the layout could be of. */
function rollOf({ clothId, materialId }: ClothLay): Roll {
  return rollSchema.parse({ kind: 'roll', id: clothId, name: 'Roll', materialId, widthMm: 500 });
}

describe('the layout taken of several ways to lay a roll', () => {
  it('is the cheapest, then the shortest, then the one with the fewest pieces to trace', async () => {
    const lays = await layouts(
      { costCents: 900, usedMm: 300, piecesToTrace: 1 },
      { costCents: 800, usedMm: 420, piecesToTrace: 1 },
      { costCents: 800, usedMm: 400.2, piecesToTrace: 9 },
      { costCents: 800, usedMm: 400.9, piecesToTrace: 5 },
      { costCents: 800, usedMm: 400, piecesToTrace: 6 },
    );
    expect(bestOnRoll(lays)).toBe(lays[3]);
  });

  it('goes by the length to buy where a price is missing, and is never one that is not complete', async () => {
    const lays = await layouts(
      { costCents: null, buyMm: 500 },
      { costCents: 800, buyMm: 400 },
      { costCents: 100, buyMm: 300, verdict: 'not found' },
    );
    expect(bestOnRoll(lays)).toBe(lays[1]);
    expect(bestOnRoll(lays.slice(2))).toBeNull();
    expect(bestOnRoll([])).toBeNull();
  });
});

describe('what is cut from when ways to lay were compared', () => {
  it('is one layout a roll, and every remnant', async () => {
    const [short, long, open] = await layouts(
      { spread: 'folded', usedMm: 400, buyMm: 400 },
      { spread: 'single', usedMm: 450, buyMm: 500 },
      { clothId: 'second', verdict: 'not found', spread: 'single' },
    );
    const roll = rollOf(short!);
    const remnant = remnantSchema.parse({
      kind: 'remnant',
      id: 'rest',
      name: 'Rest',
      materialId: short!.materialId,
      outline: box(300, 300),
    });
    const lays = [
      { ...open!, clothId: 'rest', usedMm: 0 },
      { ...open!, clothId: 'gone' },
      long!,
      short!,
      open!,
      { ...open!, spread: 'folded' as const },
    ];
    const project = { ...emptyProject('Small'), cloths: [remnant, roll, { ...roll, id: 'second' }] };
    expect(onePerCloth(project, lays)).toEqual([lays[0], short, open]);
  });
});
