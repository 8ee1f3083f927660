import { signedArea } from '../../../nesting/geometry/rings.ts';
import type { Point } from '../../../nesting/packing/types.ts';
import { joinLines } from '../joinLines.ts';
import type { DrawnShape } from '../walk.ts';
import type { PenLine } from './strips.ts';

/** A line that was drawn as a filled strip. */
export interface PenStrip {
  readonly line: PenLine;
  readonly layer: string;
  readonly colour: string | null;
}

/** Strips may fall short of each other, or overlap, by about the pen's width where they meet round a corner. */
const REACH = 1.2;

/** Strips as shapes; those of one pen, colour and layer that meet round a ring are joined. Ids go on after `count`. */
export function penShapes(strips: readonly PenStrip[], prefix: string, count: number): DrawnShape[] {
  const groups = new Map<string, PenStrip[]>();
  for (const strip of strips) {
    const key = `${strip.layer} ${strip.colour} ${strip.line.widthMm.toFixed(1)}`;
    const group = groups.get(key);
    if (group) group.push(strip);
    else groups.set(key, [strip]);
  }
  const made: DrawnShape[] = [];
  const add = (points: readonly Point[], closed: boolean, { line, layer, colour }: PenStrip): void => {
    made.push({
      id: `${prefix}${count + made.length + 1}`,
      elementId: '',
      label: '',
      groupLabel: '',
      groupKey: `${layer} strips ${line.widthMm.toFixed(1)}`,
      shape: 'path',
      polylines: [{ points: [...points], closed }],
      strokeMm: line.widthMm,
      strokeColour: colour,
      fillColour: null,
      dashed: false,
      filled: false,
      clone: false,
      layer,
    });
  };
  for (const group of groups.values()) {
    const open = group.filter(({ line }) => !line.closed);
    const widthMm = open[0]?.line.widthMm ?? 0;
    const gone = new Set<PenStrip>();
    for (const { from } of joinLines(
      open.map(({ line }) => line.points),
      REACH * Math.max(0.05, widthMm),
    )) {
      const joined = from.map((i) => open[i] as PenStrip);
      const first = joined[0];
      if (!first || joined.length < 2) continue;
      for (const strip of joined) gone.add(strip);
      add(cornered(joined.map(({ line }) => line.points)), true, first);
    }
    for (const strip of group) if (!gone.has(strip)) add(strip.line.points, strip.line.closed, strip);
  }
  return made;
}

/** Lines that follow each other round a ring, each turned the right way, meeting where their last stretches cross. */
function cornered(lines: readonly (readonly Point[])[]): Point[] {
  const turned = lines.map((line, i) => {
    const next = lines[(i + 1) % lines.length] as readonly Point[];
    const end = line[line.length - 1] as Point;
    const start = line[0] as Point;
    const ends = [next[0] as Point, next[next.length - 1] as Point];
    const reach = (p: Point): number => Math.min(...ends.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])));
    return reach(end) <= reach(start) ? [...line] : [...line].reverse();
  });
  const ring: Point[] = [];
  turned.forEach((line, i) => {
    const next = turned[(i + 1) % turned.length] as Point[];
    ring.push(...line.slice(1, -1));
    ring.push(
      meeting(
        line[line.length - 2] as Point,
        line[line.length - 1] as Point,
        next[0] as Point,
        next[1] as Point,
      ),
    );
  });
  if (signedArea(ring) < 0) ring.reverse();
  return ring;
}

/** Where the line a–b, made longer, crosses c–d; the middle of b and c if they run on into each other. */
function meeting(a: Point, b: Point, c: Point, d: Point): Point {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  const [vx, vy] = [d[0] - c[0], d[1] - c[1]];
  const cross = ux * vy - uy * vx;
  const middle: Point = [(b[0] + c[0]) / 2, (b[1] + c[1]) / 2];
  if (Math.abs(cross) < 0.05 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return middle;
  const t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross;
  const point: Point = [a[0] + ux * t, a[1] + uy * t];
  const gap = Math.hypot(b[0] - c[0], b[1] - c[1]);
  return Math.hypot(point[0] - middle[0], point[1] - middle[1]) <= 2 * gap + 0.5 ? point : middle;
}
