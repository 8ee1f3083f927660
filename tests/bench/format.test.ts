import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, test } from 'vitest';
import type { SearchResult } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { rectangle } from '../support/layouts.ts';
import { ROOT } from '../support/sharedFolder.ts';
import { densityPercent, type LayoutFile, problemFileSchema, toLayoutFile, toProblem } from './format.ts';
import { grown, ownStrips } from './problems.ts';

const square = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];
const triangle = [
  [0, 0],
  [40, 0],
  [0, 30],
];
const sheets = {
  name: 'two sheets',
  sheets: [
    {
      id: 's1',
      quantity: 2,
      outline: square,
      holes: [
        [
          [1, 1],
          [2, 1],
          [1, 2],
        ],
      ],
      flaws: [
        [
          [5, 5],
          [6, 5],
          [5, 6],
        ],
      ],
    },
  ],
  pieces: [
    { id: 'flap 1', quantity: 2, mirroredQuantity: 1, rotations: [0, 180], outline: triangle },
    { id: 'disc', quantity: 0, mirroredQuantity: 1, rotations: 'any', outline: triangle },
  ],
};

describe('benchmark files', () => {
  const file = problemFileSchema.parse(sheets);

  test('mirrored copies become items of their own, holes and flaws are blocked', () => {
    expect(toProblem(file)).toMatchObject({
      containers: [{ kind: 'sheet', id: 's1', quantity: 2, blocked: [{ length: 3 }, { length: 3 }] }],
      items: [
        {
          id: 'plain flap 1',
          quantity: 2,
          poses: [
            { rotation: 0, mirrored: false },
            { rotation: 180, mirrored: false },
          ],
        },
        {
          id: 'mirrored flap 1',
          quantity: 1,
          poses: [
            { rotation: 0, mirrored: true },
            { rotation: 180, mirrored: true },
          ],
        },
        { id: 'mirrored disc', quantity: 1, poses: [{ rotation: 0, mirrored: true }], anyAngle: true },
      ],
      gap: 0,
    });
  });

  test('placements go back with the piece, the copy after the plain ones, sheets counted from 1', () => {
    const placement = {
      container: 's1',
      containerCopy: 1,
      rotation: 180,
      mirrored: true,
      x: 3,
      y: 4,
      copy: 0,
    };
    const result: SearchResult = {
      verdict: 'fits',
      layout: { placements: [{ ...placement, item: 'mirrored flap 1' }], unplaced: [], length: 0 },
      steps: 1,
    };
    expect(toLayoutFile(file, result, { seconds: 1, seed: 2, threads: 3 })).toEqual({
      problem: 'two sheets',
      seconds: 1,
      seed: 2,
      threads: 3,
      verdict: 'fits',
      placements: [
        { piece: 'flap 1', copy: 2, sheet: 's1', sheetCopy: 2, rotation: 180, mirrored: true, x: 3, y: 4 },
      ],
    });
  });

  test('a file with both a strip and sheets, or neither, is refused', () => {
    expect(problemFileSchema.safeParse({ ...sheets, stripWidth: 5 }).success).toBe(false);
    expect(problemFileSchema.safeParse({ ...sheets, sheets: undefined }).success).toBe(false);
  });

  test('density is the placed area over the strip up to the used length', () => {
    const strip = toProblem(
      problemFileSchema.parse({
        name: 'one',
        stripWidth: 50,
        pieces: [{ id: 'a', quantity: 1, rotations: [0], outline: rectangle(30, 25) }],
      }),
    );
    const at = {
      item: 'plain a',
      copy: 0,
      container: 'strip',
      containerCopy: 0,
      rotation: 0,
      mirrored: false,
    };
    const layout = { placements: [{ ...at, x: 0, y: 0 }], unplaced: [], length: 30 };
    expect(verify(strip, layout)).toEqual([]);
    expect(densityPercent(strip, layout)).toBeCloseTo(50, 10);
    expect(densityPercent(strip, { placements: [], unplaced: [], length: 0 })).toBe(0);
  });

  test('grown and own problems ask for as many pieces as they say', () => {
    const count = (pieces: readonly { quantity: number }[]) =>
      pieces.reduce((sum, { quantity }) => sum + quantity, 0);
    for (const asked of [50, 100, 1_000]) expect(count(grown(asked).pieces)).toBe(asked);
    expect(ownStrips().map(({ pieces }) => count(pieces))).toEqual([21, 50]);
  });
});

describe('npm run measure', () => {
  const run = promisify(execFile);
  const measure = (...args: string[]) =>
    run(process.execPath, ['--import', 'tsx', 'tests/bench/measure.ts', ...args], { cwd: ROOT });

  test('writes a layout that verify accepts, and its verdict', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'clothlay-measure-'));
    try {
      const [problemPath, layoutPath] = [join(folder, 'problem.json'), join(folder, 'layout.json')];
      writeFileSync(problemPath, JSON.stringify(sheets));
      await measure(problemPath, '--seconds', '5', '--threads', '1', '--seed', '7', '--out', layoutPath);
      const written: LayoutFile = JSON.parse(readFileSync(layoutPath, 'utf8'));
      expect(written).toMatchObject({
        problem: 'two sheets',
        seconds: 5,
        threads: 1,
        seed: 7,
        verdict: 'fits',
      });
      const placements = written.placements.map(({ piece, copy, sheet, sheetCopy, ...pose }) => {
        const plain = piece === 'flap 1' && copy < 2;
        return {
          ...pose,
          item: `${plain ? 'plain' : 'mirrored'} ${piece}`,
          copy: piece === 'flap 1' && !plain ? copy - 2 : copy,
          container: sheet!,
          containerCopy: sheetCopy! - 1,
        };
      });
      const problem = toProblem(problemFileSchema.parse(sheets));
      expect(verify(problem, { placements, unplaced: [], length: 0 })).toEqual([]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  test('says how it is called, and names a number that is none', async () => {
    await expect(measure()).rejects.toMatchObject({ code: 2, stderr: expect.stringContaining('usage') });
    await expect(measure('some.json', '--out', 'x', '--seconds', 'ten')).rejects.toMatchObject({
      code: 2,
      stderr: expect.stringContaining('"ten"'),
    });
  });
});
