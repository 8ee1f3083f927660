import type { Point } from '../../nesting/packing/types.ts';
import type { DrawingOutline, ReadDrawing } from '../reading/drawing.ts';
import { distanceToSegment } from '../reading/flatten.ts';
import type { WorkBudget } from '../reading/simplify.ts';
import { jointProposals } from './jointLetters.ts';

/** Two outlines are drawn alike if their measures differ by less. Millimetres, about what files round to. */
const ALIKE_MM = 0.05;
const ALIKE_AREA_PART = 1e-3;
/** … and no corner of one lies farther from the line of the other: curves may be flattened differently. */
const SAME_LINE_MM = 0.2;
/** Corners compared of an outline. */
const MOST_CORNERS = 96;
/** Distances measured for one drawing: some tenths of a second at the most. */
const WORK = 20_000_000;

/** Outlines that are copies of one: as drawn (or turned by half), and mirror images. */
export interface DrawnAlike {
  readonly same: readonly DrawingOutline[];
  readonly mirrored: readonly DrawingOutline[];
}

const lettered = new WeakMap<ReadDrawing, ReadonlySet<string>>();

/** Outlines with a letter at an edge that belongs to another. */
function letteredOutlines(reading: ReadDrawing): ReadonlySet<string> {
  const known = lettered.get(reading);
  if (known) return known;
  const { pairs, lone } = jointProposals(reading);
  const found = new Set(
    [...pairs.flatMap(({ first, second }) => [first, second]), ...lone].map(({ outlineId }) => outlineId),
  );
  lettered.set(reading, found);
  return found;
}

const budgets = new WeakMap<ReadDrawing, WorkBudget>();

/** Others of the same shape at the same depth. Copies turned otherwise are not among them: their grain differs. */
export function drawnAlike(reading: ReadDrawing, outline: DrawingOutline): DrawnAlike {
  const budget = budgets.get(reading) ?? { left: WORK };
  budgets.set(reading, budget);
  const same: DrawingOutline[] = [];
  const mirrored: DrawingOutline[] = [];
  // Parts of one piece are often of one size; letters at their edges tell them apart.
  const apart = letteredOutlines(reading);
  if (apart.has(outline.id)) return { same, mirrored };
  for (const other of reading.outlines) {
    if (
      other.id === outline.id ||
      apart.has(other.id) ||
      other.depth !== outline.depth ||
      (other.onPage === 'outside') !== (outline.onPage === 'outside') ||
      Math.abs(other.widthMm - outline.widthMm) >= ALIKE_MM ||
      Math.abs(other.heightMm - outline.heightMm) >= ALIKE_MM ||
      Math.abs(other.areaMm2 - outline.areaMm2) >= ALIKE_AREA_PART * outline.areaMm2
    )
      continue;
    const how = likeness(outline, other, budget);
    if (how === 'same') same.push(other);
    else if (how === 'mirrored') mirrored.push(other);
  }
  return { same, mirrored };
}

/** How two outlines of the same measures are alike; null where they are other shapes, or the budget is spent. */
export function likeness(
  a: Pick<DrawingOutline, 'ring' | 'box'>,
  b: Pick<DrawingOutline, 'ring' | 'box'>,
  budget: WorkBudget,
): 'same' | 'mirrored' | null {
  const from = centred(a);
  const onto = centred(b);
  for (const [sx, sy, how] of [
    [1, 1, 'same'],
    [-1, -1, 'same'],
    [-1, 1, 'mirrored'],
    [1, -1, 'mirrored'],
  ] as const) {
    const turned = from.map(([x, y]): Point => [sx * x, sy * y]);
    if (liesAlong(turned, onto, budget) && liesAlong(onto, turned, budget)) return how;
    if (budget.left < 0) return null;
  }
  return null;
}

function centred({ ring, box }: Pick<DrawingOutline, 'ring' | 'box'>): Point[] {
  const x0 = (box.minX + box.maxX) / 2;
  const y0 = (box.minY + box.maxY) / 2;
  return ring.map(([x, y]): Point => [x - x0, y - y0]);
}

/** Whether the corners of one ring lie on the line of the other. */
function liesAlong(corners: readonly Point[], line: readonly Point[], budget: WorkBudget): boolean {
  const step = Math.max(1, Math.ceil(corners.length / MOST_CORNERS));
  for (let i = 0; i < corners.length; i += step) {
    const corner = corners[i] as Point;
    let isNear = false;
    for (let k = 0; k < line.length && !isNear; k++) {
      budget.left -= 1;
      isNear =
        distanceToSegment(corner, line[k] as Point, line[(k + 1) % line.length] as Point) <= SAME_LINE_MM;
    }
    if (!isNear || budget.left < 0) return false;
  }
  return true;
}
