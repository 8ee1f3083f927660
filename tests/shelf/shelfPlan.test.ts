import { describe, expect, it } from 'vitest';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import { shelfPlanSchema } from '../../pattern/exchange/shelf.ts';
import { shelfPlan } from '../../pattern/shelf/shelfPlan.ts';
import { box, layOf, smallProject } from '../support/layOf.ts';

const about = { projectId: 'p', name: 'Vinyl, single layer', now: '2026-02-01T10:00:00.000Z' };
const round = Array.from({ length: 400 }, (_, i): [number, number] => [
  60 + 50 * Math.cos((i * Math.PI) / 200),
  60 + 50 * Math.sin((i * Math.PI) / 200),
]);

describe('a plan kept with the cloth', () => {
  it('names what is cut, counts a pair as two, and sketches every piece within the cloth', async () => {
    const project = smallProject({
      pieces: [
        { name: 'Flap', outline: box(100, 60), plain: 2, mirrored: 2 },
        { name: 'Disc', outline: round, plain: 1 },
      ],
      cloth: { kind: 'roll', widthMm: 500, selvedgeMm: 10, squaringMm: 20 },
    });
    for (const spread of ['single', 'folded'] as const) {
      const lay = (await layOf(project, { spread })).results[0]!;
      const plan = shelfPlan(project, lay, about);
      expect(shelfPlanSchema.parse(plan)).toEqual(plan);
      expect(plan.pieces.toSorted((a, b) => a.name.localeCompare(b.name))).toEqual([
        { name: 'Disc', copies: 1 },
        { name: 'Flap', copies: 4 },
      ]);
      const cloth = boundingBox(plan.outline);
      for (const ring of plan.placed) {
        const piece = boundingBox(ring);
        expect(ring.length).toBeLessThanOrEqual(60);
        expect(piece.minX).toBeGreaterThanOrEqual(cloth.minX);
        expect(piece.maxX).toBeLessThanOrEqual(cloth.maxX);
        expect(piece.minY).toBeGreaterThanOrEqual(cloth.minY);
        expect(piece.maxY).toBeLessThanOrEqual(cloth.maxY);
      }
    }
  });

  it('sketches a remnant by its own outline, where it lies on the plan', async () => {
    const project = smallProject({
      pieces: [{ name: 'Flap', outline: box(100, 60), plain: 1 }],
      cloth: { kind: 'remnant', outline: box(300, 200).map(([x, y]) => [x + 50, y + 70]) },
    });
    const plan = shelfPlan(project, (await layOf(project)).results[0]!, about);
    expect(boundingBox(plan.outline)).toEqual({ minX: 0, minY: 0, maxX: 300, maxY: 200 });
    expect(plan.placed).toHaveLength(1);
  });
});
