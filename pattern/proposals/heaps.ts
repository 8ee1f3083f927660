import { combine } from '../../nesting/geometry/boolean.ts';
import { boundingBox, perimeter, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { DrawingOutline, ReadDrawing } from '../reading/drawing.ts';
import type { WorkBudget } from '../reading/simplify.ts';
import { UNITING_MM, uniteOutlines } from '../reading/uniteOutlines.ts';
import { groundsOf } from './ground.ts';

/** Outlines drawn side by side that may make up one piece. */
export interface Heap {
  /** Their ids, the largest first. */
  readonly ids: readonly string[];
  readonly widthMm: number;
  readonly heightMm: number;
  /**
   * Width of the strips that are drawn round the rest as its seam allowance: then it is surely one piece, and the rest
   * is its finished shape. Null where the outlines are of any kind.
   */
  readonly allowanceMm: number | null;
  /** Ids of those that make up the finished shape; empty where there are no strips. */
  readonly core: readonly string[];
}

/** Outlines belong together if they share at least this part of the smaller one's girth … */
const SHARED_PART = 0.15;
/** … and cover no more than this part of it. */
const COVERED_PART = 0.02;
/** An allowance is no wider (common practice, no source). */
const WIDEST_ALLOWANCE_MM = 30;
/** Strips of one allowance differ in width by no more. */
const SAME_WIDTH_MM = 0.6;
/** Shapes of more corners are no parts of a piece drawn from rectangles and strips. */
const MOST_CORNERS = 200;
const MOST_PARTS = 60;
/** Comparisons of edges for one drawing: some tenths of a second at the most. */
const WORK = 10_000_000;

const heaps = new WeakMap<ReadDrawing, readonly Heap[]>();

/** The heaps of a drawing, the largest first. Pieces laid edge to edge on a cloth are none. */
export function heapsOf(reading: ReadDrawing): readonly Heap[] {
  let known = heaps.get(reading);
  if (!known) {
    known = find(reading);
    heaps.set(reading, known);
  }
  return known;
}

function find(reading: ReadDrawing): Heap[] {
  const grounds = groundsOf(reading);
  const levels = new Map<string, DrawingOutline[]>();
  for (const outline of reading.outlines) {
    if (outline.ring.length > MOST_CORNERS || outline.onPage === 'outside') continue;
    if (grounds.has(outline.id) || (outline.parent !== null && grounds.has(outline.parent))) continue;
    const key = `${outline.pageNumber ?? ''} ${outline.parent ?? ''}`;
    const level = levels.get(key);
    if (level) level.push(outline);
    else levels.set(key, [outline]);
  }
  const budget: WorkBudget = { left: WORK };
  return [...levels.values()]
    .flatMap((level) => together(level, budget))
    .flatMap((parts) => heapOf(parts))
    .sort((p, q) => q.widthMm * q.heightMm - p.widthMm * p.heightMm);
}

/** Outlines of one level in groups that hang together by shared edges, two or more to a group. */
function together(level: readonly DrawingOutline[], budget: WorkBudget): DrawingOutline[][] {
  const byLeft = [...level].sort((p, q) => p.box.minX - q.box.minX);
  const group = byLeft.map((_, i) => i);
  const rootOf = (i: number): number => {
    let root = i;
    while (group[root] !== root) root = group[root] as number;
    return root;
  };
  for (let i = 0; i < byLeft.length; i++) {
    const a = byLeft[i] as DrawingOutline;
    for (let k = i + 1; k < byLeft.length; k++) {
      const b = byLeft[k] as DrawingOutline;
      budget.left -= 1;
      if (budget.left < 0) return [];
      if (b.box.minX > a.box.maxX + UNITING_MM) break;
      if (b.box.minY > a.box.maxY + UNITING_MM || b.box.maxY < a.box.minY - UNITING_MM) continue;
      if (rootOf(i) !== rootOf(k) && abut(a, b, budget)) group[rootOf(k)] = rootOf(i);
    }
  }
  const groups = new Map<number, DrawingOutline[]>();
  byLeft.forEach((outline, i) => {
    const root = rootOf(i);
    const found = groups.get(root);
    if (found) found.push(outline);
    else groups.set(root, [outline]);
  });
  return [...groups.values()].filter(({ length }) => length > 1 && length <= MOST_PARTS);
}

function abut(a: DrawingOutline, b: DrawingOutline, budget: WorkBudget): boolean {
  budget.left -= a.ring.length * b.ring.length;
  if (budget.left < 0) return false;
  const girth = Math.min(perimeter(a.ring), perimeter(b.ring));
  return sharedLength(a.ring, b.ring) >= SHARED_PART * girth && !covers(a, b);
}

/** How long edges of the rings run along each other. */
function sharedLength(p: Outline, q: Outline): number {
  let length = 0;
  for (let i = 0; i < p.length; i++)
    for (let k = 0; k < q.length; k++)
      length += alongside(
        p[i] as Point,
        p[(i + 1) % p.length] as Point,
        q[k] as Point,
        q[(k + 1) % q.length] as Point,
      );
  return length;
}

function alongside(a: Point, b: Point, c: Point, d: Point): number {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) return 0;
  const ux = (b[0] - a[0]) / length;
  const uy = (b[1] - a[1]) / length;
  const along = (point: Point): number => (point[0] - a[0]) * ux + (point[1] - a[1]) * uy;
  const off = (point: Point): number => Math.abs((point[1] - a[1]) * ux - (point[0] - a[0]) * uy);
  if (off(c) > UNITING_MM || off(d) > UNITING_MM) return 0;
  const [from, to] = [along(c), along(d)];
  return Math.max(0, Math.min(length, Math.max(from, to)) - Math.max(0, Math.min(from, to)));
}

function covers(a: DrawingOutline, b: DrawingOutline): boolean {
  const most = COVERED_PART * Math.min(a.areaMm2, b.areaMm2);
  const width = Math.min(a.box.maxX, b.box.maxX) - Math.max(a.box.minX, b.box.minX);
  const height = Math.min(a.box.maxY, b.box.maxY) - Math.max(a.box.minY, b.box.minY);
  if (width <= 0 || height <= 0 || width * height <= most) return false;
  try {
    const common = combine('intersection', [a.ring], [b.ring]);
    return common.reduce((sum, { outer }) => sum + Math.abs(signedArea(outer)), 0) > most;
  } catch {
    // Figures the clipper can't do: they are left as they are.
    return true;
  }
}

/** The outlines as one heap; none where they don't make one shape. */
function heapOf(parts: readonly DrawingOutline[]): Heap[] {
  const whole = united(parts);
  if (!whole) return [];
  const box = boundingBox(whole);
  const common = {
    ids: [...parts].sort((p, q) => q.areaMm2 - p.areaMm2).map(({ id }) => id),
    widthMm: box.maxX - box.minX,
    heightMm: box.maxY - box.minY,
  };
  const strips = parts.filter(isStrip);
  const [thinnest = 0, widest = 0] = [Math.min(...strips.map(breadth)), Math.max(...strips.map(breadth))];
  const core = parts.filter((part) => !strips.includes(part));
  if (strips.length >= 2 && widest - thinnest <= SAME_WIDTH_MM && core.length > 0) {
    const finished = united(core);
    if (finished && isAround(box, boundingBox(finished), widest))
      return [{ ...common, allowanceMm: widest, core: core.map(({ id }) => id) }];
  }
  return [{ ...common, allowanceMm: null, core: [] }];
}

const breadth = ({ widthMm, heightMm }: DrawingOutline): number => Math.min(widthMm, heightMm);

const isStrip = (part: DrawingOutline): boolean =>
  breadth(part) <= WIDEST_ALLOWANCE_MM &&
  part.areaMm2 > 0.98 * part.widthMm * part.heightMm &&
  Math.max(part.widthMm, part.heightMm) >= 2 * breadth(part);

/** Whether the whole stands out over the finished shape by the strips' width on at least two sides, and no farther. */
function isAround(
  whole: ReturnType<typeof boundingBox>,
  finished: ReturnType<typeof boundingBox>,
  width: number,
): boolean {
  const sides = [
    finished.minX - whole.minX,
    whole.maxX - finished.maxX,
    finished.minY - whole.minY,
    whole.maxY - finished.maxY,
  ];
  const isOut = (side: number): boolean => Math.abs(side - width) <= 2 * SAME_WIDTH_MM;
  return sides.filter(isOut).length >= 2 && sides.every((side) => isOut(side) || side < SAME_WIDTH_MM);
}

function united(parts: readonly DrawingOutline[]): Outline | null {
  try {
    const found = uniteOutlines(parts.map(({ ring }) => ring));
    return found.length === 1 && found[0]?.holes.length === 0 ? found[0].ring : null;
  } catch {
    return null;
  }
}
