/**
 * What a cut list may ask beside plain copies (sets, joins, pieces from elsewhere, places held back), on random
 * projects: nothing is lost, nothing is cut twice, and what is left of a cloth holds no piece.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference, intersection } from '../../nesting/geometry/boolean.ts';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { verify } from '../../nesting/verify/index.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { projectSchema } from '../../pattern/exchange/project.ts';
import { layProject } from '../../pattern/lay/layProject.ts';
import { leavingsOf } from '../../pattern/shelf/offcuts.ts';
import { box, solveChecked } from '../support/layOf.ts';

const never = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} };
const MATERIALS = ['outer', 'lining'] as const;

const rowOf = fc.record({
  materialId: fc.constantFrom(...MATERIALS),
  plain: fc.integer({ min: 0, max: 2 }),
  mirrored: fc.integer({ min: 0, max: 2 }),
  heldBack: fc.boolean(),
  isElsewhere: fc.boolean(),
  joins: fc.integer({ min: 0, max: 2 }),
});
const pieceOf = fc.record({
  w: fc.integer({ min: 40, max: 200 }),
  h: fc.integer({ min: 40, max: 500 }),
  row: rowOf,
});

describe('any cut list', () => {
  it('property: each copy is cut once, in whole or in its lengths, from a cloth it may come from', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(pieceOf, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 1, max: 2 }),
        async (pieces, times) => {
          const project = projectSchema.parse({
            format: 'clothlay-project',
            version: 2,
            name: 'test',
            // Longer at one side, so that each has two hands.
            pieces: pieces.map(({ w, h }, i) => ({
              id: `p${i}`,
              name: `p${i}`,
              outline: box(w, h).map(([x, y], corner) => [x, corner === 2 ? y + 12 : y]),
            })),
            materials: MATERIALS.map((id) => ({ id, name: id })),
            cutList: pieces.map(({ row: { isElsewhere, joins, ...row } }, i) => ({
              ...row,
              pieceId: `p${i}`,
              ...(isElsewhere ? { elsewhere: MATERIALS.filter((id) => id !== row.materialId) } : {}),
              ...(joins > 0 ? { joins: { most: joins, allowanceMm: 10 } } : {}),
            })),
            cloths: MATERIALS.map((id) => ({ kind: 'roll', id, name: id, materialId: id, widthMm: 450 })),
            sets: [{ id: 's', name: 'bag', times }],
          });
          const request = layRequestSchema.parse({ project, seconds: 1, maxSteps: 3 });
          const solve: typeof solveChecked = async (problem, options) => {
            const result = await solveChecked(problem, options);
            expect(verify(problem, result.layout)).toEqual([]);
            return result;
          };
          const { results } = await layProject(request, solve, () => {}, never);
          const placed = results.flatMap(({ materialId, segments }) =>
            segments.flatMap((segment) => segment.placed.map((one) => ({ ...one, materialId }))),
          );
          for (const { pieceId, materialId, plain, mirrored, elsewhere } of project.cutList) {
            const own = placed.filter((one) => one.pieceId === pieceId);
            // Of a piece joined from lengths each length is cut as often as the piece is asked for.
            const counts = new Map<string, number>();
            for (const { part } of own) {
              const name = `${part?.n ?? 1} of ${part?.of ?? 1}`;
              counts.set(name, (counts.get(name) ?? 0) + 1);
            }
            const whole = [...counts].filter(([name]) => name.startsWith('1 of '));
            const asked = times * (plain + mirrored);
            expect(whole.reduce((sum, [, count]) => sum + count, 0)).toBe(asked);
            for (const [name, count] of counts) expect(count).toBe(counts.get(name.replace(/^\d+/, '1')));
            const allowed = [materialId, ...(elsewhere ?? [])];
            for (const one of own) expect(allowed).toContain(one.materialId);
          }
          for (const lay of results) {
            const cloth = project.cloths.find(({ id }) => id === lay.clothId)!;
            const { offcuts } = leavingsOf(lay, cloth, { shortMm: 40, longMm: 60 });
            const pieces = lay.segments.flatMap((segment) => segment.placed.map(({ outline }) => outline));
            for (const { outline, holes } of offcuts) {
              const ground = difference([outline], holes).flatMap((part) => [part.outer, ...part.holes]);
              for (const common of intersection(ground, pieces))
                expect(Math.abs(signedArea(common.outer))).toBeLessThan(1);
            }
          }
        },
      ),
      { numRuns: 30 },
    );
  }, 60_000);

  it('property: with nap up and down the pieces of one set point the same way', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(pieceOf, { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 2, max: 3 }),
        async (pieces, times) => {
          const project = projectSchema.parse({
            format: 'clothlay-project',
            version: 2,
            name: 'test',
            pieces: pieces.map(({ w, h }, i) => ({ id: `p${i}`, name: `p${i}`, outline: box(w, h) })),
            materials: [{ id: 'outer', name: 'outer' }],
            cutList: pieces.map(({ row: { plain, mirrored } }, i) => ({
              pieceId: `p${i}`,
              materialId: 'outer',
              plain: plain + 1,
              mirrored,
            })),
            cloths: [
              { kind: 'roll', id: 'c', name: 'c', materialId: 'outer', widthMm: 450, nap: 'upAndDown' },
            ],
            sets: [{ id: 's', name: 'bag', times }],
          });
          const request = layRequestSchema.parse({ project, seconds: 1, maxSteps: 3 });
          const { results } = await layProject(request, solveChecked, () => {}, never);
          const tops = new Map<number, Set<number>>();
          for (const { sets = [], topDeg } of results[0]!.segments.flatMap(({ placed }) => placed)) {
            expect(sets).toHaveLength(1);
            for (const set of sets) tops.set(set, (tops.get(set) ?? new Set()).add(Math.round(topDeg)));
          }
          expect([...tops.keys()].sort()).toEqual(Array.from({ length: times }, (_, i) => i + 1));
          for (const ways of tops.values()) {
            expect(ways.size).toBe(1);
            expect([0, 180]).toContain([...ways][0]);
          }
        },
      ),
      { numRuns: 20 },
    );
  }, 60_000);
});
