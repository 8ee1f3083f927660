/** Pieces on a border print, and prints that run off the grain: every layout passes the checker in `layOf`. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ClothLay } from '../../pattern/exchange/project.ts';
import { box, layOf, smallProject } from '../support/layOf.ts';

const WIDTH_MM = 1000;
const cloth = (more: object = {}) => ({
  kind: 'roll',
  widthMm: WIDTH_MM,
  selvedgeMm: 10,
  squaringMm: 0,
  border: { side: 'low', fromEdgeMm: 30, depthMm: 150, keepOff: true },
  ...more,
});
const panel = (plain: number, more: object = {}) => ({
  name: 'Panel',
  outline: box(200, 300),
  plain,
  piece: { onBorder: { beyondMm: 0 }, ...more },
});
const facing = { name: 'Facing', outline: box(250, 120), plain: 3 };

/** Where pieces lie across the cloth, from its lower edge. */
function across(lay: ClothLay, name: string): [number, number][] {
  return lay.segments.flatMap(({ placed }) =>
    placed
      .filter(({ pieceId }) => pieceId === name)
      .map(({ outline }): [number, number] => {
        const ys = outline.map(([, y]) => y + 10);
        return [Math.min(...ys), Math.max(...ys)];
      }),
  );
}

describe('a border print', () => {
  it('bears the lower edges of the pieces that sit on it, upright, whatever the grain; the others keep off', async () => {
    const project = smallProject({ pieces: [panel(4), facing], cloth: cloth({ nap: 'oneWay' }) });
    const { results, notices } = await layOf(project);
    const lay = results[0]!;
    expect(lay.verdict).toBe('fits');
    const sitting = across(lay, 'Panel');
    expect(sitting).toHaveLength(4);
    for (const [low, high] of sitting) {
      expect(low).toBeCloseTo(30, 6);
      expect(high).toBeCloseTo(330, 6);
    }
    expect(
      lay.segments.flatMap(({ placed }) => placed).filter(({ topDeg }) => topDeg === 90),
    ).not.toHaveLength(0);
    for (const [low] of across(lay, 'Facing')) expect(low).toBeGreaterThanOrEqual(180 - 1e-6);
    // Four panels of 200 mm stand side by side.
    expect(lay.usedMm).toBeCloseTo(800, 3);
    expect(notices.map(({ code }) => code)).toContain('grainAcross');
  });

  it('along both edges takes the half of the length; a hem lies beyond the line', async () => {
    const both = { side: 'both', fromEdgeMm: 30, depthMm: 150, keepOff: true };
    const project = smallProject({
      pieces: [panel(4, { onBorder: { beyondMm: 15 } })],
      cloth: cloth({ border: both }),
    });
    const lay = (await layOf(project)).results[0]!;
    expect(lay.usedMm).toBeCloseTo(400, 3);
    const at = across(lay, 'Panel').toSorted((a, b) => a[0] - b[0]);
    expect(at.map(([low]) => Math.round(low))).toEqual([15, 15, WIDTH_MM - 30 + 15 - 300, 685]);
  });

  it('keeps to the motifs along it where a piece lies on one too', async () => {
    const project = smallProject({
      pieces: [panel(3, { motif: { at: [100, 0], onMotif: [0, 0], toleranceMm: 0 } })],
      cloth: cloth({ repeat: { alongMm: 240, acrossMm: 500, fromEndMm: 100, fromSelvedgeMm: 30 } }),
    });
    const lay = (await layOf(project)).results[0]!;
    const middles = lay.segments[0]!.placed.map(({ outline }) => {
      const xs = outline.map(([x]) => x);
      return (Math.min(...xs) + Math.max(...xs)) / 2;
    });
    expect(middles.toSorted((a, b) => a - b).map(Math.round)).toEqual([100, 340, 580]);
  });

  it('is never folded, and says what is wrong with it before anything is packed', async () => {
    const folded = await layOf(smallProject({ pieces: [panel(2)], cloth: cloth() }), { spread: 'folded' });
    expect(folded.notices.map(({ code }) => code)).toContain('spread.borderHidden');
    expect(folded.results.map(({ spread }) => spread)).toEqual(['single']);
    const deep = cloth({ border: { side: 'both', fromEdgeMm: 200, depthMm: 300 } });
    const tooDeep = await layOf(smallProject({ pieces: [panel(1)], cloth: deep }));
    expect(tooDeep).toMatchObject({ results: [], notices: [{ code: 'borderTooDeep', level: 'error' }] });
    const none = await layOf(smallProject({ pieces: [panel(1)], cloth: cloth({ border: null }) }));
    expect(none.notices.map(({ code }) => code)).toContain('noBorder');
    const tall = await layOf(
      smallProject({ pieces: [{ ...panel(1), outline: box(200, 970) }], cloth: cloth() }),
    );
    expect(tall.results[0]?.reason).toMatch(/border/);
  });

  it('on a remnant lies along its lower edge', async () => {
    const project = smallProject({
      pieces: [panel(1), facing],
      cloth: {
        kind: 'remnant',
        outline: box(900, 700).map(([x, y]) => [x, y + 50]),
        border: { side: 'low', fromEdgeMm: 20, depthMm: 100 },
      },
    });
    const lay = (await layOf(project)).results[0]!;
    expect(lay.verdict).toBe('fits');
    const lows = (name: string) =>
      lay.segments[0]!.placed.filter(({ pieceId }) => pieceId === name).map(({ outline }) =>
        Math.min(...outline.map(([, y]) => y)),
      );
    expect(lows('Panel').map((y) => Math.round(y * 1e6) / 1e6)).toEqual([70]);
    for (const low of lows('Facing')) expect(low).toBeGreaterThanOrEqual(170 - 1e-6);
  });

  it('holds for any border and any pieces', async () => {
    const size = fc.integer({ min: 40, max: 260 });
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom('low', 'high', 'both'),
        fc.integer({ min: 10, max: 120 }),
        fc.integer({ min: 0, max: 200 }),
        fc.array(fc.tuple(size, size, fc.boolean()), { minLength: 1, maxLength: 4 }),
        async (side, fromEdgeMm, depthMm, sizes) => {
          const pieces = sizes.map(([w, h, sits], i) => ({
            name: `P${i}`,
            outline: box(w, h),
            plain: 2,
            piece: sits ? { onBorder: { beyondMm: 0 } } : {},
          }));
          const border = { side, fromEdgeMm, depthMm, keepOff: true };
          const lay = (await layOf(smallProject({ pieces, cloth: cloth({ border }) }), { maxSteps: 3 }))
            .results[0]!;
          expect(lay.verdict).toBe('fits');
          for (const [i, [, , sits]] of sizes.entries()) {
            for (const [low, high] of across(lay, `P${i}`)) {
              const isOn =
                (side !== 'high' && Math.abs(low - fromEdgeMm) < 1e-3) ||
                (side !== 'low' && Math.abs(high - (WIDTH_MM - fromEdgeMm)) < 1e-3);
              if (sits) expect(isOn).toBe(true);
              else if (side !== 'high') expect(low).toBeGreaterThanOrEqual(fromEdgeMm + depthMm - 1e-3);
              if (!sits && side !== 'low')
                expect(high).toBeLessThanOrEqual(WIDTH_MM - fromEdgeMm - depthMm + 1e-3);
            }
          }
        },
      ),
      { numRuns: 15 },
    );
  });
});

describe('a print off the grain', () => {
  const repeat = { alongMm: 120, acrossMm: 90, fromEndMm: 20, fromSelvedgeMm: 40, skewDeg: 2 };
  const motif = { at: [50, 40], onMotif: [0, 0], toleranceMm: 0 };
  const project = (more: object, plain = 3) =>
    smallProject({
      pieces: [{ name: 'Pocket', outline: box(100, 80), plain, piece: { motif } }],
      cloth: { ...cloth({ border: null }), repeat: { ...repeat, ...more } },
    });
  const isMotif = (x: number, y: number): boolean => {
    const [cos, sin] = [Math.cos(Math.PI / 90), Math.sin(Math.PI / 90)];
    const [dx, dy] = [x - 20, y + 10 - 40];
    const steps = [(dx * cos + dy * sin) / 120, (dy * cos - dx * sin) / 90];
    return steps.every((step) => Math.abs(step - Math.round(step)) < 1e-6);
  };

  it('is followed by the pieces, which then lie off the grain by as much, and says so', async () => {
    const { results, notices } = await layOf(project({}));
    const lay = results[0]!;
    expect(lay.verdict).toBe('fits');
    for (const { grainDeg, outline } of lay.segments[0]!.placed) {
      expect(Math.min(grainDeg % 180, 180 - (grainDeg % 180))).toBeCloseTo(2, 6);
      const x = outline.reduce((sum, [px]) => sum + px, 0) / 4;
      const y = outline.reduce((sum, [, py]) => sum + py, 0) / 4;
      expect(isMotif(x, y)).toBe(true);
    }
    expect(notices.map(({ code }) => code)).toContain('skewed');
  });

  it('is left aslant where the pieces keep to the grain; motifs still lie on their points', async () => {
    const { results, notices } = await layOf(project({ follow: 'grain' }));
    for (const { grainDeg, outline } of results[0]!.segments[0]!.placed) {
      expect(grainDeg % 180).toBeCloseTo(0, 6);
      const x = outline.reduce((sum, [px]) => sum + px, 0) / 4;
      const y = outline.reduce((sum, [, py]) => sum + py, 0) / 4;
      expect(isMotif(x, y)).toBe(true);
    }
    const told = notices.find(({ code }) => code === 'printAslant');
    // 300 mm × tan 2° is 10.5 mm.
    expect(told?.text).toMatch(/1 cm in 30 cm/);
  });

  it('is never doubled where pieces follow it', async () => {
    const plain = smallProject({
      pieces: [{ name: 'Pocket', outline: box(100, 80), plain: 2 }],
      cloth: { ...cloth({ border: null }), repeat },
    });
    const { results, notices } = await layOf(plain, { spread: 'folded' });
    expect(results.map(({ spread }) => spread)).toEqual(['single']);
    expect(notices.map(({ code }) => code)).toContain('spread.skewed');
  });
});
