import { describe, expect, it } from 'vitest';
import { layOf, smallProject } from '../support/layOf.ts';

/** A rectangle along the cloth, drawn turned by some degrees off its own grain line. */
const turned = (along: number, across: number, deg: number): [number, number][] => {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return (
    [
      [0, 0],
      [across, 0],
      [across, along],
      [0, along],
    ] as const
  ).map(([x, y]) => [x * c - y * s, x * s + y * c]);
};

describe('a tilt off the grain', () => {
  // Arithmetic: a strip 500 × 98 mm whose grain line is 2° askew is 115 mm wide on the straight grain.
  const askew = (tiltDeg: number) =>
    smallProject({
      cloth: { kind: 'roll', widthMm: 110, tiltDeg, foldable: false, shopStepMm: 1 },
      pieces: [{ name: 'strip', outline: turned(500, 98, 2), plain: 1 }],
    });

  it('lets a piece lie that is too wide on the straight grain, and no more than that', async () => {
    const strict = await layOf(askew(0));
    expect(strict.results[0]!.verdict).toBe('cannot fit');
    expect(strict.notices.map(({ code }) => code)).toContain('tooWide');
    const tilted = await layOf(askew(2.5));
    expect(tilted.results[0]!.verdict).toBe('fits');
    const { grainDeg } = tilted.results[0]!.segments[0]!.placed[0]!;
    const off = Math.min(grainDeg % 180, 180 - (grainDeg % 180));
    expect(off).toBeGreaterThan(0.6);
    expect(off).toBeLessThanOrEqual(2.5 + 1e-6);
  });
});
