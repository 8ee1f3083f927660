import type { Outline, Point } from '../../nesting/packing/types.ts';
import { withoutRepeats } from '../pieces/withoutRepeats.ts';
import { arc } from './arcs.ts';

/** Shapes known by a few measures, upright as they are used, their lower left corner at the origin. Millimetres. */

export type ShapeName =
  | 'roundedRectangle'
  | 'trapezoid'
  | 'circle'
  | 'semicircle'
  | 'boxedCorner'
  | 'curvedBottom';

export type Measures = Readonly<Record<string, number>>;

/** Which measures a shape has, in the order in which they are asked for. */
export const SHAPE_MEASURES = {
  roundedRectangle: ['width', 'height', 'radius'],
  trapezoid: ['top', 'bottom', 'height'],
  circle: ['diameter'],
  semicircle: ['diameter'],
  boxedCorner: ['width', 'height', 'corner'],
  curvedBottom: ['width', 'height', 'radius'],
} as const satisfies Record<ShapeName, readonly string[]>;

export const SHAPE_NAMES = Object.keys(SHAPE_MEASURES) as readonly ShapeName[];

/** What is wrong with the measures of a shape: which one, and the largest it may be (mm); null if nothing is. */
export interface MeasureFault {
  readonly measure: string;
  readonly mostMm: number | null;
}

/** The first fault in the measures of a shape, all of them in mm. */
export function measureFault(name: ShapeName, m: Measures): MeasureFault | null {
  const missing = SHAPE_MEASURES[name].find((measure) => !((m[measure] ?? 0) > 0));
  if (missing !== undefined) return { measure: missing, mostMm: null };
  const { width = 0, height = 0, radius = 0, corner = 0 } = m;
  const most = (measure: string, value: number, mostMm: number): MeasureFault | null =>
    value > mostMm ? { measure, mostMm } : null;
  switch (name) {
    case 'roundedRectangle':
      return most('radius', radius, Math.min(width, height) / 2);
    case 'curvedBottom':
      return most('radius', radius, Math.min(width / 2, height));
    case 'boxedCorner':
      // A strip of cloth must be left between the two corners, and above them.
      return corner < Math.min(width / 2, height)
        ? null
        : { measure: 'corner', mostMm: Math.min(width / 2, height) };
    default:
      return null;
  }
}

/**
 * The outline of a shape, counter-clockwise. `boxedCorner` is a panel with a square cut out of each lower corner;
 * `curvedBottom` a bag's side with its lower corners rounded, all round if the radius is half the width.
 *
 * @throws RangeError for measures with a `measureFault`
 */
export function shapeOutline(name: ShapeName, m: Measures): Outline {
  const fault = measureFault(name, m);
  if (fault) throw new RangeError(`shapeOutline: ${name} can't have ${fault.measure} ${m[fault.measure]}`);
  const { width = 0, height = 0, radius = 0, corner = 0, top = 0, bottom = 0, diameter = 0 } = m;
  switch (name) {
    case 'roundedRectangle':
      return closed([
        ...arc(width - radius, radius, radius, -Math.PI / 2, 0),
        ...arc(width - radius, height - radius, radius, 0, Math.PI / 2),
        ...arc(radius, height - radius, radius, Math.PI / 2, Math.PI),
        ...arc(radius, radius, radius, Math.PI, 1.5 * Math.PI),
      ]);
    case 'trapezoid': {
      const middle = Math.max(top, bottom) / 2;
      return [
        [middle - bottom / 2, 0],
        [middle + bottom / 2, 0],
        [middle + top / 2, height],
        [middle - top / 2, height],
      ];
    }
    case 'circle':
      return closed(arc(diameter / 2, diameter / 2, diameter / 2, -Math.PI / 2, 1.5 * Math.PI));
    case 'semicircle':
      // Its straight side on top, as a pocket hangs.
      return closed([...arc(diameter / 2, diameter / 2, diameter / 2, -Math.PI, 0)]);
    case 'boxedCorner':
      return [
        [corner, 0],
        [width - corner, 0],
        [width - corner, corner],
        [width, corner],
        [width, height],
        [0, height],
        [0, corner],
        [corner, corner],
      ];
    case 'curvedBottom':
      return closed([
        ...arc(width - radius, radius, radius, -Math.PI / 2, 0),
        [width, height],
        [0, height],
        ...arc(radius, radius, radius, Math.PI, 1.5 * Math.PI),
      ]);
  }
}

function closed(points: readonly Point[]): Outline {
  return withoutRepeats(points);
}
