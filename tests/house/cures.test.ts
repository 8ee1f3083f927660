import { describe, expect, test } from 'vitest';
import { cureOf, WAYS } from '../../client/state/cures.ts';
import { STEPS } from '../../client/state/route.ts';
import { en as planWords } from '../../client/strings/en.ts';
import { projectSchema } from '../../pattern/exchange/project.ts';
import { layWords } from '../../pattern/lay/words/index.ts';
import { read, sourceFiles, withoutComments } from './sources.ts';

/** Files in which a notice or a problem of a piece is made: they name its type. */
const tellers = sourceFiles().filter(
  (path) =>
    /^(pattern|server)\//.test(path) && /\b(Notice|Problem|PieceProblem|ClothFault)\b/.test(read(path)),
);

/** Every code written in a source as what a notice has. Codes put together are given as far as they are written. */
function codesIn(path: string): string[] {
  const code = withoutComments(read(path));
  const written = [
    ...code.matchAll(/\bcode(?::|\s=)\s*(['`])([\w.${}]+)\1/g),
    // One of two: `const code = offRepeat ? 'offRepeat' : 'tooWide'`.
    ...code.matchAll(/\bcode = \w+ \? (')(\w+)'/g),
    ...code.matchAll(/\bcode = \w+ \? '\w+' : (')(\w+)'/g),
  ].map(([, , name]) => name!);
  // tell('warning', 'flawOutside', …) and tell('grainAcross', 'warning').
  const told = [...code.matchAll(/\btell\(\s*'(\w+)',\s*'(\w+)'/g)].map(([, a, b]) =>
    LEVELS.has(a!) ? b! : a!,
  );
  return [...written, ...told];
}

const LEVELS = new Set(['error', 'warning', 'info']);
const written = [...new Set(tellers.flatMap(codesIn))].sort();
/** Where a code is put together, its second halves: those that have words. */
const HALVES: Readonly<Record<string, readonly string[]>> = {
  'spread.': Object.keys(layWords('en').whyNot),
  'match.': Object.keys(layWords('en').match),
};
const codes = written.flatMap((code) => {
  const [whole, begin] = /^([\w]+\.)\$\{[\w.]+\}$/.exec(code) ?? [];
  return whole === undefined ? [code] : HALVES[begin!]!.map((half) => `${begin}${half}`);
});

describe('no dead ends', () => {
  test('every code a notice can have is found in the sources', () => {
    // As many as there were when this was written, and some that are written in a way of their own.
    expect(codes.length).toBeGreaterThan(65);
    for (const code of ['crossesItself', 'flawOutside', 'grainAcross', 'tooWide', 'offRepeat', 'outOfTime'])
      expect(codes).toContain(code);
  });

  test('every code a notice can have leads to a cure, and no cure is for nothing', () => {
    expect(codes.filter((code) => !(code in WAYS))).toEqual([]);
    expect(Object.keys(WAYS).filter((code) => !codes.includes(code))).toEqual([]);
  });

  test('every cure is a place that some view has', () => {
    const views = sourceFiles()
      .filter((path) => path.startsWith('client/views/'))
      .map(read)
      .join('\n');
    const spots = [...views.matchAll(/data-spot=(?:"([\w-]+)"|\{`([\w-]+)\$|\{[^}]*\? '([\w-]+)')/g)].map(
      ([, plain, begin, chosen]) => plain ?? begin ?? chosen,
    );
    const project = projectSchema.parse({
      format: 'clothlay-project',
      version: 2,
      name: 'Two',
      pieces: [
        {
          id: 'p',
          name: 'Flap',
          outline: [
            [0, 0],
            [9, 0],
            [9, 9],
          ],
        },
      ],
      materials: [{ id: 'm', name: 'Canvas' }],
      cloths: [{ kind: 'roll', id: 'c', name: 'Roll', materialId: 'm', widthMm: 1400 }],
    });
    for (const code of codes) {
      for (const about of [{}, { materialId: 'm' }, { materialId: 'm', clothId: 'c', pieceId: 'p' }]) {
        const cure = cureOf({ code, ...about }, project);
        expect(STEPS).toContain(cure.step);
        expect(spots, `${code} leads to ${cure.at}`).toContain(cure.at.replace(/-.*$/, '-'));
      }
    }
  });

  test('a step of every cure has words for its link', () => {
    for (const step of STEPS) expect(planWords.lacks.goes[step].length).toBeGreaterThan(3);
  });
});
