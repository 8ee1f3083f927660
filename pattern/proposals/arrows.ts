import { boundingBox, distance } from '../../nesting/geometry/rings.ts';
import type { Point } from '../../nesting/packing/types.ts';
import type { DrawingLine, DrawingOutline, ReadDrawing } from '../reading/drawing.ts';

/** A straight line with an arrow head at one end or at both. */
export interface Arrow {
  /** The lines that draw its shaft: several where it runs over several sheets. */
  readonly lineIds: readonly string[];
  readonly from: Point;
  readonly to: Point;
  readonly lengthMm: number;
  /** Whether a head is drawn at `from`, and at `to`. */
  readonly heads: readonly [boolean, boolean];
  /** What its heads are drawn with: closed outlines and open lines. */
  readonly headIds: readonly string[];
}

/** A straight stroke of an open line. */
export interface Stroke {
  readonly lineIds: readonly string[];
  readonly from: Point;
  readonly to: Point;
  readonly lengthMm: number;
  readonly pageNumber: number | undefined;
  readonly markers: readonly [boolean, boolean];
}

/** A shorter stroke than this is no shaft, mm. */
const SHORTEST_MM = 5;
/** Heads are no larger, mm, and take up no more of their arrow than this part. */
const HEAD_MM = 25;
const HEAD_PART = 0.45;
/** Strokes that are meant to meet are this near, mm: about a wide pen. */
const MEETING_MM = 1.2;
/** Lines cut at the edge of a sheet meet again this near, mm. */
const RUNNING_ON_MM = 0.6;
/** An arrow head opens by so much to each side of its shaft, degrees. */
const HALF_OPENING_DEG = { least: 8, most: 65 } as const;
/** A line bends by no more than this from point to point where it runs on straight, degrees. */
const STRAIGHT_DEG = 4;
/** Beyond so many strokes only lines with markers are looked at: such a drawing is a picture. */
const MOST_STROKES = 40_000;

/** Every arrow in a drawing, whether its heads are filled, open, or markers of the file. */
export function findArrows(reading: Pick<ReadDrawing, 'openLines' | 'outlines'>): readonly Arrow[] {
  return arrowsAmong(findStrokes(reading), reading.outlines);
}

/** Every straight stroke of a drawing; what goes straight on from line to line, as over the edge of a sheet, is one. */
export function findStrokes({ openLines }: Pick<ReadDrawing, 'openLines'>): readonly Stroke[] {
  const strokes = openLines.flatMap(strokesOf);
  return strokes.length > MOST_STROKES ? strokes : runningOn(strokes);
}

/** The arrows among these strokes; filled heads are small outlines. Of a picture only lines with markers. */
export function arrowsAmong(
  strokes: readonly Stroke[],
  outlines: readonly DrawingOutline[],
): readonly Arrow[] {
  const isPicture = strokes.length > MOST_STROKES;
  const ends = isPicture ? new Grid([]) : new Grid(strokes.filter(({ lengthMm }) => lengthMm <= HEAD_MM));
  const heads = isPicture ? [] : outlines.filter(isSmall);
  const arrows: Arrow[] = [];
  for (const stroke of strokes) {
    if (stroke.lengthMm < SHORTEST_MM) continue;
    const headIds: string[] = [];
    const hasHead = (at: Point, other: Point, marked: boolean): boolean => {
      const drawn = openHead(ends, stroke, at, other) ?? filledHead(heads, stroke, at, other);
      if (drawn) headIds.push(...drawn);
      return marked || drawn !== null;
    };
    const found: [boolean, boolean] = [
      hasHead(stroke.from, stroke.to, stroke.markers[0]),
      hasHead(stroke.to, stroke.from, stroke.markers[1]),
    ];
    if (found[0] || found[1])
      arrows.push({
        lineIds: stroke.lineIds,
        from: stroke.from,
        to: stroke.to,
        lengthMm: stroke.lengthMm,
        heads: found,
        headIds: [...new Set(headIds)].filter((id) => !stroke.lineIds.includes(id)),
      });
  }
  return arrows;
}

/** The straight strokes that a line is drawn with. */
export function strokesOf({ id, points, markers, pageNumber }: DrawingLine): Stroke[] {
  const strokes: Stroke[] = [];
  let start = 0;
  const last = points.length - 1;
  for (let i = 1; i <= last; i++) {
    if (i < last && bendAt(points, i) < STRAIGHT_DEG) continue;
    const [from, to] = [points[start] as Point, points[i] as Point];
    strokes.push({
      lineIds: [id],
      from,
      to,
      lengthMm: distance(from, to),
      pageNumber,
      markers: [start === 0 && (markers?.start ?? false), i === last && (markers?.end ?? false)],
    });
    start = i;
  }
  return strokes;
}

/** Strokes joined where two alone meet end to end and go straight on. */
function runningOn(strokes: readonly Stroke[]): Stroke[] {
  const ends = new Grid(strokes);
  const left = new Set(strokes);
  const joined: Stroke[] = [];
  const nextOf = (stroke: Stroke, at: Point): { stroke: Stroke; far: Point } | null => {
    const there = [...ends.near(at)].filter(
      (end) => distance(end.tip, at) <= RUNNING_ON_MM && end.stroke.pageNumber === stroke.pageNumber,
    );
    const others = there.filter((end) => end.stroke !== stroke);
    const [next] = others;
    if (others.length !== 1 || !next || !left.has(next.stroke)) return null;
    return { stroke: next.stroke, far: next.far };
  };
  for (const stroke of strokes) {
    if (!left.delete(stroke)) continue;
    const lineIds = [...stroke.lineIds];
    const reach: [Point, Point] = [stroke.from, stroke.to];
    const markers: [boolean, boolean] = [...stroke.markers];
    for (const side of [0, 1] as const) {
      let last = stroke;
      for (;;) {
        const next = nextOf(last, reach[side]);
        if (!next || bendAt([reach[1 - side] as Point, reach[side], next.far], 1) > STRAIGHT_DEG) break;
        left.delete(next.stroke);
        lineIds.push(...next.stroke.lineIds);
        const isForward = distance(next.stroke.from, reach[side]) <= RUNNING_ON_MM;
        markers[side] = next.stroke.markers[isForward ? 1 : 0];
        reach[side] = next.far;
        last = next.stroke;
      }
    }
    const [from, to] = reach;
    joined.push({ ...stroke, lineIds, from, to, lengthMm: distance(from, to), markers });
  }
  return joined;
}

function bendAt(points: readonly Point[], i: number): number {
  const [p, q, r] = [points[i - 1], points[i], points[i + 1]] as [Point, Point, Point];
  const [ux, uy, vx, vy] = [q[0] - p[0], q[1] - p[1], r[0] - q[0], r[1] - q[1]];
  return Math.abs((Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy) * 180) / Math.PI);
}

/** Coordinates as seen from an arrow's end: s outwards along its shaft, t to the left. */
function seenFrom(at: Point, other: Point): (point: Point) => Point {
  const length = distance(at, other);
  const [ux, uy] = [(at[0] - other[0]) / length, (at[1] - other[1]) / length];
  return ([x, y]) => {
    const [dx, dy] = [x - at[0], y - at[1]];
    return [dx * ux + dy * uy, dy * ux - dx * uy];
  };
}

/** Two short strokes that run back from the end of a shaft, one on each side. */
function openHead(ends: Grid, shaft: Stroke, at: Point, other: Point): string[] | null {
  const see = seenFrom(at, other);
  const longest = Math.min(HEAD_MM, HEAD_PART * shaft.lengthMm);
  let left: Stroke | null = null;
  let right: Stroke | null = null;
  for (const { stroke, tip, far } of ends.near(at)) {
    if (stroke === shaft || stroke.lengthMm > longest || stroke.pageNumber !== shaft.pageNumber) continue;
    if (distance(tip, at) > MEETING_MM) continue;
    const [s, t] = see(far);
    const opening = (Math.atan2(Math.abs(t), -s) * 180) / Math.PI;
    if (opening < HALF_OPENING_DEG.least || opening > HALF_OPENING_DEG.most) continue;
    if (t > 0) left = stroke;
    else right = stroke;
  }
  if (!left || !right) return null;
  const alike = left.lengthMm / right.lengthMm;
  return alike > 0.6 && alike < 1.67 ? [...left.lineIds, ...right.lineIds] : null;
}

const isSmall = ({ widthMm, heightMm }: DrawingOutline): boolean => Math.max(widthMm, heightMm) <= HEAD_MM;

/** A small closed outline on the end of a shaft that narrows to a tip in its direction. */
function filledHead(
  heads: readonly DrawingOutline[],
  shaft: Stroke,
  at: Point,
  other: Point,
): string[] | null {
  const see = seenFrom(at, other);
  const found = heads.find(({ ring, box, pageNumber }) => {
    if (pageNumber !== shaft.pageNumber) return false;
    const reach = HEAD_MM;
    if (box.minX > at[0] + reach || box.maxX < at[0] - reach) return false;
    if (box.minY > at[1] + reach || box.maxY < at[1] - reach) return false;
    const points = ring.map(see);
    const { minX: back, maxX: tip, minY: low, maxY: high } = boundingBox(points);
    const [long, wide] = [tip - back, high - low];
    if (long > HEAD_PART * shaft.lengthMm || long < 0.8 || wide < 0.8) return false;
    // The shaft ends in the head, at its back or at its tip.
    if (back > MEETING_MM || tip < -MEETING_MM) return false;
    if (Math.abs(high + low) > 0.3 * wide || wide / long < 0.25 || wide / long > 3) return false;
    const inFront = points.filter(([s]) => s > tip - 0.15 * long);
    const behind = points.filter(([s]) => s < back + 0.35 * long);
    const spread = (list: readonly Point[]): number => {
      const { minY, maxY } = boundingBox(list);
      return maxY - minY;
    };
    return spread(inFront) < 0.35 * wide && spread(behind) > 0.7 * wide;
  });
  return found ? [found.id] : null;
}

/** Ends of short strokes by place. */
class Grid {
  readonly #cells = new Map<string, { stroke: Stroke; tip: Point; far: Point }[]>();

  constructor(strokes: readonly Stroke[]) {
    for (const stroke of strokes) {
      this.#put({ stroke, tip: stroke.from, far: stroke.to });
      this.#put({ stroke, tip: stroke.to, far: stroke.from });
    }
  }

  #put(end: { stroke: Stroke; tip: Point; far: Point }): void {
    const key = keyOf(end.tip[0], end.tip[1], 0, 0);
    const cell = this.#cells.get(key);
    if (cell) cell.push(end);
    else this.#cells.set(key, [end]);
  }

  *near([x, y]: Point): Generator<{ stroke: Stroke; tip: Point; far: Point }> {
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++) yield* this.#cells.get(keyOf(x, y, i, j)) ?? [];
  }
}

const keyOf = (x: number, y: number, i: number, j: number): string =>
  `${Math.floor(x / MEETING_MM) + i},${Math.floor(y / MEETING_MM) + j}`;
