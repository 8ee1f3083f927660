import { describe, expect, it } from 'vitest';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import type { Cloth, ClothLay, Spread } from '../../pattern/exchange/project.ts';
import { shelfItemSchema } from '../../pattern/exchange/shelf.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { leavingsOf } from '../../pattern/shelf/offcuts.ts';
import { putBack } from '../../pattern/shelf/putBack.ts';
import { box, smallProject, solveChecked } from '../support/layOf.ts';

const never = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} };
const ten = { shortMm: 100, longMm: 100 };

async function laid(
  cloth: Record<string, unknown>,
  pieces: Parameters<typeof smallProject>[0]['pieces'],
  spread: Spread = 'single',
): Promise<{ lay: ClothLay; cloth: Cloth }> {
  const project = smallProject({ pieces, cloth });
  const request = layRequestSchema.parse({
    project,
    seconds: 1,
    maxSteps: 300,
    choices: [{ materialId: 'cloth', spread }],
  });
  const { results } = await runLay(request, solveChecked, () => {}, never);
  return { lay: results[0]!, cloth: project.cloths[0]! };
}

const areas = (lay: ClothLay): number =>
  lay.segments
    .flatMap(({ placed }) => placed)
    .reduce((sum, { outline }) => sum + Math.abs(signedArea(outline)), 0);

describe('what a lay leaves', () => {
  it('of a remnant: the cloth without the pieces and flaws, as an outline with its largest rectangle', async () => {
    const { lay, cloth } = await laid({ kind: 'remnant', outline: box(500, 400) }, [
      { name: 'panel', outline: box(400, 200), plain: 1, piece: { grainDeg: 0 } },
    ]);
    const { offcuts, restOfRollMm } = leavingsOf(lay, cloth, ten);
    expect(restOfRollMm).toBe(0);
    const left = offcuts.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
    expect(left).toBeLessThanOrEqual(500 * 400 - areas(lay) + 1);
    const [best] = offcuts[0]!.rectangles;
    expect((best!.maxX - best!.minX) * (best!.maxY - best!.minY)).toBeGreaterThanOrEqual(500 * 200 - 1);
  });

  it('leaves out what is smaller than the maker keeps, and slivers of what she keeps', async () => {
    const { lay, cloth } = await laid({ kind: 'remnant', outline: box(500, 250) }, [
      { name: 'panel', outline: box(480, 200), plain: 1, piece: { grainDeg: 0 } },
    ]);
    expect(leavingsOf(lay, cloth, ten).offcuts).toEqual([]);
    const kept = leavingsOf(lay, cloth, { shortMm: 30, longMm: 200 }).offcuts;
    expect(kept).toHaveLength(1);
  });

  it('of a roll: what was bought and not used counts, the roll itself is shorter', async () => {
    const pieces = [{ name: 'panel', outline: box(1000, 350), plain: 1, piece: { grainDeg: 90 } }];
    const bought = await laid({ kind: 'roll', widthMm: 1000, shopStepMm: 500 }, pieces);
    // 35 cm used of the 50 cm bought.
    expect(bought.lay.buyMm).toBe(500);
    const [spare] = leavingsOf(bought.lay, bought.cloth, ten).offcuts;
    expect(spare!.areaMm2).toBeCloseTo(150 * 1000, -1);
    const shelf = await laid({ kind: 'roll', widthMm: 1000, availableMm: 2000 }, pieces);
    const left = leavingsOf(shelf.lay, shelf.cloth, ten);
    expect(left.restOfRollMm).toBeCloseTo(1650, 3);
    expect(left.offcuts).toEqual([]);
  });

  it('opens what lies on a fold, and counts both layers of what does not', async () => {
    const { lay, cloth } = await laid(
      { kind: 'roll', widthMm: 1000, shopStepMm: 10 },
      [{ name: 'panel', outline: box(300, 600), plain: 1, mirrored: 1, piece: { grainDeg: 90 } }],
      'folded',
    );
    const { offcuts } = leavingsOf(lay, cloth, ten);
    const whole = 1000 * lay.segments[0]!.lengthMm;
    const left = offcuts.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
    expect(left).toBeCloseTo(whole - 2 * 300 * 600, -1);
    expect(offcuts.length).toBeLessThanOrEqual(2);
  });

  it('refuses a threshold of nothing before it looks at anything', async () => {
    const { lay, cloth } = await laid({ kind: 'remnant', outline: box(500, 400) }, [
      { name: 'panel', outline: box(400, 200), plain: 1 },
    ]);
    for (const least of [
      { shortMm: 0, longMm: 100 },
      { shortMm: 100, longMm: Number.NaN },
    ])
      expect(() => leavingsOf(lay, cloth, least)).toThrow(RangeError);
  });
});

describe('putting it back on the shelf', () => {
  it('makes remnants with the rules of the cloth, from the corner, with a value by area', async () => {
    const { lay, cloth } = await laid(
      {
        kind: 'roll',
        widthMm: 1000,
        shopStepMm: 500,
        nap: 'oneWay',
        foldable: false,
        priceCentsPerMetre: 2000,
        shrinkAlongPercent: 10,
      },
      [{ name: 'panel', outline: box(1000, 350), plain: 1, piece: { grainDeg: 90 } }],
    );
    const leavings = leavingsOf(lay, cloth, ten);
    let n = 0;
    const items = putBack(leavings, leavings.offcuts, {
      cloth,
      entry: null,
      projectName: 'Pannier',
      freshId: () => `shelf-${++n}`,
      nameOf: (i) => `Olive, offcut ${i}`,
    });
    expect(items).toHaveLength(1);
    const item = shelfItemSchema.parse(items[0]);
    expect(item).toMatchObject({
      leftFrom: 'Pannier',
      cloth: { kind: 'remnant', nap: 'oneWay', name: 'Olive, offcut 1' },
    });
    expect(item.cloth).not.toHaveProperty('widthMm');
    // It was washed before it was cut.
    expect(item.cloth.shrinkAlongPercent).toBe(0);
    const xs = item.cloth.kind === 'remnant' ? item.cloth.outline.map(([x]) => x) : [];
    expect(Math.min(...xs)).toBe(0);
    // 100 mm of 1 m width at 20.00 a metre: the 500 mm bought wash to 450, 350 are used.
    expect(item.valueCents).toBeCloseTo(200, -1);
  });

  it('keeps the entry of what is left of a roll', async () => {
    const { lay, cloth } = await laid({ kind: 'roll', widthMm: 1000, availableMm: 2000 }, [
      { name: 'panel', outline: box(1000, 500), plain: 1, piece: { grainDeg: 90 } },
    ]);
    const entry = {
      id: 'mine',
      cloth,
      fibre: 'linen',
      place: 'box 3',
      picture: null,
      valueCents: 4000,
      addedAt: '2026-01-01T00:00:00.000Z',
      state: { kind: 'free' },
    } as const;
    const items = putBack(leavingsOf(lay, cloth, ten), [], {
      cloth,
      entry,
      projectName: 'Pannier',
      freshId: () => 'fresh',
      nameOf: String,
    });
    expect(items).toMatchObject([{ id: 'mine', fibre: 'linen', place: 'box 3', valueCents: 3000 }]);
    expect(items[0]!.cloth).toMatchObject({ kind: 'roll', availableMm: 1500 });
  });
});
