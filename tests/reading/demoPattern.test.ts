import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { saddleRoll, turnsAndWindows } from '../../fixtures/patterns/draw.ts';
import { signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import {
  bodyPanel,
  flap,
  frontPocket,
  LINING_FOLD_EDGE,
  liningBodyHalf,
  sideGusset,
} from '../../pattern/demo/shapes.ts';
import { grainFromLine, readSvg } from '../../pattern/reading/index.ts';
import { ROOT } from '../support/sharedFolder.ts';
import { drawn, expectSize, outlineOf } from './readings.ts';

const text = readFileSync(`${ROOT}fixtures/patterns/saddle-roll.svg`, 'utf8');
const drawing = drawn(readSvg(text, 'saddle-roll.svg'));

const PIECES: readonly (readonly [
  id: string,
  shape: Outline,
  width: number,
  height: number,
  name: string,
])[] = [
  ['body', bodyPanel(), 460, 310, 'Body'],
  ['lining-half', liningBodyHalf(), 230, 310, 'Lining'],
  ['side-gusset', sideGusset(), 320, 140, 'Side gusset'],
  ['front-pocket', frontPocket(), 240, 170, 'Front pocket'],
  ['flap', flap(), 300, 220, 'Flap'],
];

test('the drawings are what the script draws', () => {
  expect(text).toBe(saddleRoll());
  expect(readFileSync(`${ROOT}fixtures/patterns/turns-and-windows.svg`, 'utf8')).toBe(turnsAndWindows());
});

describe('the demo pattern', () => {
  test.each(PIECES)('%s is read as the shape of the demo project', (id, shape, width, height, name) => {
    const outline = outlineOf(drawing, id);
    expectSize(outline, width, height, 1e-6);
    expect(outline.suggestedName).toBe(name);
    expect(outline).toMatchObject({ depth: 0, parent: null, onPage: 'inside', mending: null });
    // Both lie within 0.05 mm of the same curves: their areas differ by less than that all around.
    expect(Math.abs(outline.areaMm2 - signedArea(shape))).toBeLessThan(2 * (width + height) * 0.05);
    expect(outlineOf(drawing, `${id}-sew`)).toMatchObject({ parent: id, dashed: true });
    const grain = drawing.openLines.find((line) => line.id === `${id}-grain`);
    expect(grain?.parent).toBe(`${id}-sew`);
    expect(grainFromLine(grain ?? { points: [] })).toBeCloseTo(90, 9);
  });

  test('the shapes start at the origin, run counter-clockwise, and the half is half of the whole', () => {
    for (const [, shape, width, height] of PIECES) {
      const xs = shape.map(([x]) => x);
      const ys = shape.map(([, y]) => y);
      expect([Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]).toEqual([
        0,
        width,
        0,
        height,
      ]);
      expect(signedArea(shape)).toBeGreaterThan(0);
    }
    expect(liningBodyHalf().slice(LINING_FOLD_EDGE, LINING_FOLD_EDGE + 2)).toEqual([
      [0, 310],
      [0, 0],
    ]);
    expect(signedArea(liningBodyHalf()) * 2).toBeCloseTo(signedArea(bodyPanel()), 6);
  });

  test('the test square is 50 mm, the keepers are clones, one with a hole, the guides stay hidden', () => {
    expectSize(outlineOf(drawing, 'test-square'), 50, 50, 1e-9);
    expect(outlineOf(drawing, 'test-square').textInside).toEqual(['50 mm']);
    expect(drawing.outlines.filter(({ clone }) => clone).map(({ id }) => id)).toEqual([
      'keeper-1/keeper',
      'keeper-2/keeper-1/keeper',
      'keeper-turned/keeper',
    ]);
    expect(outlineOf(drawing, 'keeper-hole').parent).toBe('keeper-1/keeper');
    expect(drawing.outlines.some(({ id }) => id === 'guide')).toBe(false);
    expect(drawing.warnings.map(({ code }) => code)).toEqual(['hidden', 'open']);
  });
});
