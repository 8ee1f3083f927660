import { distance } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { lengthAlong, sidesOf, stretchPoints } from '../parts/stretch.ts';
import { distanceToEdge } from '../pieces/cutShape.ts';
import type { DrawingOutline, DrawingText, ReadDrawing } from '../reading/drawing.ts';
import { isLengthAlone } from '../reading/statedLengths.ts';
import { type Arrow, arrowsAmong, findStrokes, type Stroke } from './arrows.ts';
import { FOLD_EDGE_COMPANY, FOLD_EDGE_WORDS, GRAIN_WORDS } from './vocabulary.ts';

/** What lines and words drawn on a piece propose for it. */
export interface LineProposals {
  readonly grain: GrainProposal | null;
  readonly fold: FoldProposal | null;
}

export interface GrainProposal {
  /** Counter-clockwise from x, 0 ≤ … < 180. */
  readonly deg: number;
  /** What it is read from: an arrow, or a line that words call the grain. */
  readonly by: 'arrow' | 'word';
  /** Lines and outlines that draw it and are nothing else. */
  readonly drawnBy: readonly string[];
  /** Words call it so, or no other arrow on the piece has another direction. */
  readonly sure: boolean;
}

export interface FoldProposal {
  /** Index of an edge of the outline's ring. */
  readonly edge: number;
  readonly lengthMm: number;
  /** A bracket whose ends point at the edge, or a word beside it. */
  readonly by: 'bracket' | 'word';
  readonly drawnBy: readonly string[];
}

/** A shorter arrow on a piece points at something; it is not its grain. Millimetres. */
const LEAST_GRAIN_MM = 15;
/** Words this near to a line or an edge are about it, and at least so many letters' heights. Millimetres. */
const ABOUT_MM = 15;
const ABOUT_LETTERS = 2;
/** A bracket stands no farther from its edge, and its ends no farther than this. Millimetres. */
const BRACKET_MM = 45;
const BRACKET_END_MM = 8;
const PARALLEL_DEG = 4;
/** An edge that bends no more than this can lie on a fold, mm. */
const STRAIGHT_MM = 0.5;
/** Ends of measures are this near to the edge they measure from, mm. */
const AT_EDGE_MM = 2;
/** A measure's figure may stand beyond the end of its arrow by this part of its length. */
const MEASURE_BEYOND_PART = 0.6;

const known = new WeakMap<ReadDrawing, ReturnType<typeof gather>>();

function gather(reading: ReadDrawing) {
  const strokes = findStrokes(reading);
  return { strokes, arrows: arrowsAmong(strokes, reading.outlines) };
}

/** What the lines and words inside an outline propose: its grain by an arrow, its fold edge by a bracket or a word. */
export function linesInside(reading: ReadDrawing, outline: DrawingOutline): LineProposals {
  let drawn = known.get(reading);
  if (!drawn) {
    drawn = gather(reading);
    known.set(reading, drawn);
  }
  const inside = idsInside(reading, outline);
  const lines = reading.openLines.filter(({ id }) => inside.has(id));
  const texts = reading.texts.filter((text) => isBeside(text, outline));
  const fold = foldOf(
    outline,
    drawn.strokes.filter(({ lineIds }) => lineIds.some((id) => inside.has(id))),
    drawn.arrows,
    texts,
  );
  const arrows = drawn.arrows.filter(({ lineIds }) =>
    lineIds.every((id) => inside.has(id) && !fold?.drawnBy.includes(id)),
  );
  return { grain: grainOf(outline, lines, arrows, texts), fold };
}

/** Ids of lines and outlines that lie in an outline, however deep. */
function idsInside(reading: ReadDrawing, outline: DrawingOutline): Set<string> {
  const held = new Set([outline.id]);
  // Outlines are not sorted by depth.
  for (let grew = true; grew; ) {
    grew = false;
    for (const { id, parent } of reading.outlines)
      if (parent !== null && held.has(parent) && !held.has(id)) {
        held.add(id);
        grew = true;
      }
  }
  for (const { id, parent } of reading.openLines) if (parent !== null && held.has(parent)) held.add(id);
  return held;
}

function isBeside({ box, sizeMm, pageNumber }: DrawingText, outline: DrawingOutline): boolean {
  if (pageNumber !== outline.pageNumber) return false;
  const reach = Math.max(ABOUT_MM, ABOUT_LETTERS * sizeMm);
  return (
    box.minX < outline.box.maxX + reach &&
    box.maxX > outline.box.minX - reach &&
    box.minY < outline.box.maxY + reach &&
    box.maxY > outline.box.minY - reach
  );
}

function grainOf(
  { ring }: DrawingOutline,
  lines: ReadDrawing['openLines'],
  arrows: readonly Arrow[],
  texts: readonly DrawingText[],
): GrainProposal | null {
  const words = texts.filter(({ text }) => holdsWord(text, GRAIN_WORDS));
  const isCalled = (from: Point, to: Point): boolean =>
    words.some((text) => offEdge(text, from, to) <= Math.max(ABOUT_MM, ABOUT_LETTERS * text.sizeMm));
  // An arrow that reaches an edge, or has a length written on it, tells a measure.
  const lengths = texts.filter(({ text }) => isLengthAlone(text));
  const isMeasure = ({ from, to, lengthMm }: Arrow): boolean => {
    if ([from, to].some((end) => offRing(end, ring) < AT_EDGE_MM)) return true;
    // The arrow may be interrupted for the figure.
    const beyond = MEASURE_BEYOND_PART * lengthMm + ABOUT_MM;
    const [start, end] = [further(to, from, beyond), further(from, to, beyond)];
    return lengths.some((text) => offEdge(text, start, end) <= Math.max(ABOUT_MM, 2.5 * text.sizeMm));
  };
  const isNamed = ({ from, to }: Arrow): boolean => isCalled(from, to);
  const candidates = arrows.filter(
    (arrow) => arrow.lengthMm >= LEAST_GRAIN_MM && (isNamed(arrow) || !isMeasure(arrow)),
  );
  const rank = (arrow: Arrow): number =>
    (isNamed(arrow) ? 2 : 0) + (arrow.heads[0] && arrow.heads[1] ? 1 : 0);
  const best = [...candidates].sort((a, b) => rank(b) - rank(a) || b.lengthMm - a.lengthMm)[0];
  if (best) {
    const deg = directionOf(best.from, best.to);
    return {
      deg,
      by: 'arrow',
      drawnBy: [...best.lineIds, ...best.headIds],
      sure:
        isNamed(best) ||
        candidates.every(({ from, to }) => turnBetween(directionOf(from, to), deg) <= PARALLEL_DEG),
    };
  }
  const called = lines
    .filter(({ label, elementId, points }) => {
      const [from, to] = [points[0], points.at(-1)];
      if (!from || !to || !isStraight(points)) return false;
      return /grain|fadenlauf/i.test(`${label} ${elementId}`) || isCalled(from, to);
    })
    .sort((a, b) => b.lengthMm - a.lengthMm)[0];
  if (!called) return null;
  const [from, to] = [called.points[0] as Point, called.points.at(-1) as Point];
  return { deg: directionOf(from, to), by: 'word', drawnBy: [called.id], sure: true };
}

interface Side {
  readonly edge: number;
  readonly from: Point;
  readonly to: Point;
  readonly lengthMm: number;
}

/** Sides of a ring that could lie on a fold. */
function straightSides(ring: Outline): Side[] {
  return sidesOf(ring).flatMap((stretch): Side[] => {
    const points = stretchPoints(ring, stretch) ?? [];
    const [from, to] = [points[0], points.at(-1)];
    if (!from || !to || !isStraight(points)) return [];
    const longest = points.slice(1).reduce((best, point, i) => {
      const length = distance(points[i] as Point, point);
      const other = distance(points[best] as Point, points[best + 1] as Point);
      return length > other ? i : best;
    }, 0);
    const edge = (stretch.edge + longest) % ring.length;
    return [{ edge, from, to, lengthMm: lengthAlong(points) }];
  });
}

const isStraight = (points: readonly Point[]): boolean => {
  const [from, to] = [points[0], points.at(-1)];
  return (
    from !== undefined &&
    to !== undefined &&
    points.every((point) => distanceToEdge(point, from, to) <= STRAIGHT_MM)
  );
};

function foldOf(
  { ring }: DrawingOutline,
  strokes: readonly Stroke[],
  arrows: readonly Arrow[],
  texts: readonly DrawingText[],
): FoldProposal | null {
  const sides = straightSides(ring);
  const marks = texts.filter(
    ({ text }) => holdsWord(text, FOLD_EDGE_WORDS) && holdsOnly(text, FOLD_EDGE_COMPANY),
  );
  const isMarked = ({ from, to }: Pick<Side, 'from' | 'to'>): boolean =>
    marks.some((text) => offEdge(text, from, to) <= Math.max(ABOUT_MM, ABOUT_LETTERS * text.sizeMm));
  for (const back of strokes) {
    for (const side of sides) {
      const legs = bracketLegs(back, side, strokes);
      if (!legs) continue;
      const headed = legs.map((leg) => arrows.find((arrow) => isOfLeg(arrow, leg)));
      const hasHeads = headed.every((arrow) => arrow !== undefined);
      // Words may stand within the bracket or beside it.
      if (!hasHeads && !isMarked(side) && !isMarked(back)) continue;
      const drawnBy = [back, ...legs].flatMap(({ lineIds }) => lineIds);
      for (const arrow of headed) drawnBy.push(...(arrow?.headIds ?? []));
      const { edge, lengthMm } = side;
      return { edge, lengthMm, by: 'bracket', drawnBy: [...new Set(drawnBy)] };
    }
  }
  const [nearest] = marks
    .flatMap((text) => sides.map((side) => ({ text, side, off: offEdge(text, side.from, side.to) })))
    .filter(({ text, off }) => off <= Math.max(ABOUT_MM, ABOUT_LETTERS * text.sizeMm))
    .sort((a, b) => a.off - b.off);
  if (!nearest) return null;
  const { edge, lengthMm } = nearest.side;
  return { edge, lengthMm, by: 'word', drawnBy: [] };
}

/** The two strokes that lead from the ends of a line beside an edge square to that edge. */
function bracketLegs(back: Stroke, side: Side, strokes: readonly Stroke[]): [Stroke, Stroke] | null {
  if (back.lengthMm < 20 || back.lengthMm > side.lengthMm + 2) return null;
  const off = turnBetween(directionOf(back.from, back.to), directionOf(side.from, side.to));
  if (off > PARALLEL_DEG) return null;
  const away = Math.max(
    distanceToEdge(back.from, side.from, side.to),
    distanceToEdge(back.to, side.from, side.to),
  );
  if (away > BRACKET_MM || away < 1.5) return null;
  const legAt = (corner: Point): Stroke | undefined =>
    strokes.find((stroke) => {
      if (stroke === back) return false;
      const far =
        distance(stroke.from, corner) <= 1
          ? stroke.to
          : distance(stroke.to, corner) <= 1
            ? stroke.from
            : null;
      if (!far || stroke.lengthMm > BRACKET_MM) return false;
      const square = turnBetween(directionOf(corner, far), directionOf(side.from, side.to) + 90);
      return square <= 20 && distanceToEdge(far, side.from, side.to) <= BRACKET_END_MM;
    });
  const [first, second] = [legAt(back.from), legAt(back.to)];
  return first && second && first !== second ? [first, second] : null;
}

const isOfLeg = (arrow: Arrow, leg: Stroke): boolean =>
  distance(arrow.from, leg.from) < 0.1 && distance(arrow.to, leg.to) < 0.1;

/** Direction of a line, 0 ≤ … < 180. */
function directionOf([ax, ay]: Point, [bx, by]: Point): number {
  const degrees = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
  return (((Math.round(degrees * 100) / 100) % 180) + 180) % 180;
}

/** The angle between two lines, 0 to 90. */
function turnBetween(a: number, b: number): number {
  const off = (((a - b) % 180) + 180) % 180;
  return Math.min(off, 180 - off);
}

/** How far lettering stands from a line, by its middle and corners, mm. */
function offEdge({ box }: DrawingText, from: Point, to: Point): number {
  const { minX, minY, maxX, maxY } = box;
  const places: Point[] = [
    [(minX + maxX) / 2, (minY + maxY) / 2],
    [minX, minY],
    [maxX, minY],
    [minX, maxY],
    [maxX, maxY],
  ];
  return Math.min(...places.map((place) => distanceToEdge(place, from, to)));
}

function offRing(point: Point, ring: Outline): number {
  return ring.reduce(
    (least, a, i) => Math.min(least, distanceToEdge(point, a, ring[(i + 1) % ring.length] as Point)),
    Number.POSITIVE_INFINITY,
  );
}

/** A point on the line from one point to another, so far beyond the second. */
function further([ax, ay]: Point, [bx, by]: Point, beyond: number): Point {
  const length = Math.hypot(bx - ax, by - ay) || 1;
  return [bx + ((bx - ax) * beyond) / length, by + ((by - ay) * beyond) / length];
}

function holdsOnly(text: string, words: readonly string[]): boolean {
  return text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .every((word) => word === '' || words.includes(word));
}

function holdsWord(text: string, words: readonly string[]): boolean {
  const plain = ` ${text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, ' ')} `;
  return words.some((word) => plain.includes(` ${word} `));
}
