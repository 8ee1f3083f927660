import type { Point } from '../../nesting/packing/types.ts';
import type { Side } from './borders.ts';
import type { SheetHold } from './sheetLines.ts';

/** A sheet and where it lies: what its page's coordinates are moved by, mm. */
export interface LaidSheet {
  readonly hold: SheetHold;
  readonly at: Point;
}

/** Where a sheet comes to lie, and by what it was caught. */
export interface Snap {
  readonly at: Point;
  readonly by: 'lines' | 'marks' | 'edges' | null;
  /** Cut-through lines that go on upon another sheet there. */
  readonly met: number;
}

/** Ends that lie this near are one line going on, mm. */
const MEETING_MM = 0.6;
/** What the whole reach costs, in lines. */
const NEAR_WORTH = 1.5;
const FACING: Readonly<Record<Side, Side>> = { left: 'right', right: 'left', top: 'bottom', bottom: 'top' };

/**
 * The place near `at` at which a sheet fits the others: where most of its cut-through lines go on, else where its marks
 * fall on theirs, else where its edges lie along theirs. A near place counts for more than a far one; `at` itself where
 * nothing within `reachMm` catches.
 */
export function snapSheet(hold: SheetHold, at: Point, others: readonly LaidSheet[], reachMm: number): Snap {
  const near = others.filter((other) => other.hold.page !== hold.page);
  const away = ([x, y]: Point): number => Math.hypot(x - at[0], y - at[1]);
  const within = (places: readonly Point[]): Point[] => places.filter((place) => away(place) <= reachMm);
  // One more line that goes on is worth most of the reach, but not all: what lies right beside is meant.
  const nearness = (place: Point): number => (NEAR_WORTH * away(place)) / Math.max(reachMm, 1e-9);
  const lines = best(within(endPlaces(hold, near)), (place) => metAt(hold, place, near), nearness);
  const marks = best(within(markPlaces(hold, near)), (place) => marksAt(hold, place, near), nearness);
  // One line alone may be chance; a mark is printed to lay sheets by.
  if (lines && (lines.score > 1 || !marks)) return { at: lines.place, by: 'lines', met: lines.score };
  if (marks) return { at: marks.place, by: 'marks', met: metAt(hold, marks.place, near) };
  const edges = alongEdges(hold, at, near, reachMm);
  if (!edges) return { at, by: null, met: metAt(hold, at, near) };
  return { at: edges, by: 'edges', met: metAt(hold, edges, near) };
}

/** The place with the highest score less what its distance costs. */
function best(
  places: readonly Point[],
  scoreOf: (place: Point) => number,
  costOf: (place: Point) => number,
): { place: Point; score: number } | null {
  let found: { place: Point; score: number; worth: number } | null = null;
  // Many pairs of ends name the same place.
  const seen = new Set<string>();
  for (const place of places) {
    const key = place.map((value) => Math.round(value * 10)).join(' ');
    if (seen.has(key)) continue;
    seen.add(key);
    const score = scoreOf(place);
    const worth = score - costOf(place);
    if (!found || worth > found.worth) found = { place, score, worth };
  }
  return found;
}

function endPlaces(hold: SheetHold, others: readonly LaidSheet[]): Point[] {
  return others.flatMap((other) =>
    other.hold.ends.flatMap((theirs) =>
      hold.ends
        .filter(({ side }) => side === FACING[theirs.side])
        .map(
          (ours): Point => [theirs.at[0] + other.at[0] - ours.at[0], theirs.at[1] + other.at[1] - ours.at[1]],
        ),
    ),
  );
}

/** How many lines of a sheet go on upon others if it lies there. */
function metAt({ ends }: SheetHold, [x, y]: Point, others: readonly LaidSheet[]): number {
  return ends.filter(({ at, side }) =>
    others.some((other) =>
      other.hold.ends.some(
        (theirs) =>
          theirs.side === FACING[side] &&
          Math.hypot(theirs.at[0] + other.at[0] - at[0] - x, theirs.at[1] + other.at[1] - at[1] - y) <=
            MEETING_MM,
      ),
    ),
  ).length;
}

function markPlaces(hold: SheetHold, others: readonly LaidSheet[]): Point[] {
  return others.flatMap(({ hold: theirs, at: [x, y] }) =>
    theirs.marks.flatMap((mark) =>
      hold.marks.map((own): Point => [mark[0] + x - own[0], mark[1] + y - own[1]]),
    ),
  );
}

function marksAt({ marks }: SheetHold, [x, y]: Point, others: readonly LaidSheet[]): number {
  return marks.filter((own) =>
    others.some((other) =>
      other.hold.marks.some(
        (mark) =>
          Math.hypot(mark[0] + other.at[0] - own[0] - x, mark[1] + other.at[1] - own[1] - y) <= MEETING_MM,
      ),
    ),
  ).length;
}

/** Beside a sheet and level with it, as far as either is near. */
function alongEdges(
  { window }: SheetHold,
  at: Point,
  others: readonly LaidSheet[],
  reachMm: number,
): Point | null {
  const nearest = (value: number, places: readonly number[]): number => {
    const found = places.reduce(
      (least, place) => (Math.abs(place - value) < Math.abs(least - value) ? place : least),
      Number.POSITIVE_INFINITY,
    );
    return Math.abs(found - value) <= reachMm ? found : value;
  };
  // Only sheets that lie beside it, not those at the other end of the drawing.
  const beside = others.filter(({ hold, at: [x, y] }) => {
    const off = [
      Math.max(hold.window.minX + x - window.maxX - at[0], window.minX + at[0] - hold.window.maxX - x),
      Math.max(hold.window.minY + y - window.maxY - at[1], window.minY + at[1] - hold.window.maxY - y),
    ];
    return Math.max(...off) <= reachMm;
  });
  const placesOf = (axis: 0 | 1): number[] =>
    beside.flatMap(({ hold, at: place }) => {
      const [low, high] = axis === 0 ? (['minX', 'maxX'] as const) : (['minY', 'maxY'] as const);
      const [near, far] = [hold.window[low] + place[axis], hold.window[high] + place[axis]];
      return [far - window[low], near - window[high], near - window[low]];
    });
  const found: Point = [nearest(at[0], placesOf(0)), nearest(at[1], placesOf(1))];
  return found[0] === at[0] && found[1] === at[1] ? null : found;
}
