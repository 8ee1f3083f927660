import { GeometryError, intersection, union } from '../../nesting/geometry/boolean.ts';
import { cleanRing, distance, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { EdgeAllowance, Joint, OpenJoint, Piece, Stretch } from '../exchange/project.ts';
import type { Language } from '../language.ts';
import { distanceToEdge, edgeAllowance } from '../pieces/cutShape.ts';
import { FOLD_LINE_MM } from '../pieces/tolerances.ts';
import { ToldFault } from '../toldFault.ts';
import { formatLength, type ShownUnits } from '../units/index.ts';
import { edgeNear, foldEdgeOf, type Move, moveMarks } from '../variants/carry.ts';
import { joinedMarks } from './joinMarks.ts';
import { distanceToLine, lengthAlong, stretchBetween, stretchPoints } from './stretch.ts';
import { type PartsWords, partsWords } from './words/index.ts';

/** Parts can't be joined so. The text is a sentence for the maker. */
export class JointFault extends ToldFault {
  override readonly name = 'JointFault';

  constructor(
    say: (words: PartsWords, long: (mm: number) => string, language: Language) => string,
    units: ShownUnits = 'cm',
  ) {
    super((language) => say(partsWords(language), (mm) => formatLength(mm, units, language), language));
  }
}

/** A piece or a part, as far as joining goes. Counter-clockwise. */
export type PartShape = Omit<Piece, 'variant' | 'madeOf'>;

/** How two pieces are joined. */
export type JointAt = Pick<Joint, 'way' | 'lapMm'> & { readonly first: Stretch; readonly second: Stretch };

export interface JoinedShape {
  readonly shape: PartShape;
  /** Where the parts meet, in the joined piece: what the second part brings with it is moved likewise. */
  readonly line: readonly Point[];
  /** Where the second part came to lie. */
  readonly move: Move;
}

/** Edges may differ by so much: about what glued paper is off. Millimetres. */
export const SAME_LENGTH_MM = 1;
/** A lapped edge may bend by this and still be straight, mm. */
const STRAIGHT_MM = 0.5;
/** A corner this flat where the parts meet is where a side runs on, mm. */
const RUNS_ON_MM = 0.1;
/** Parts may lie over each other by this much outside their joint, mm²: slivers along sides that are a hair off. */
const OVERLAP_MM2 = 5;
/** A gap narrower than this between joined parts is no opening in the piece, mm. */
const SLIT_MM = 1;

/**
 * Two parts as one piece, in the place of the first: the second is moved to it, so that its edge lies against the edge of
 * the first or so far within it. Edges that differ by no more than `SAME_LENGTH_MM` are centred on each other, and
 * that of the first counts. Holes, marks, notches, allowances of edges and open joints go along; grain, top and what
 * else concerns the whole are those of the first. Where the parts meet edge against edge their areas add up.
 *
 * @throws JointFault where the edges don't fit each other
 */
export function joinPieces(first: PartShape, second: PartShape, at: JointAt, units: ShownUnits): JoinedShape {
  const near = stretchPoints(first.outline, at.first);
  const far = stretchPoints(second.outline, at.second);
  if (!near) throw new JointFault(({ noEdge }) => noEdge(first.name));
  if (!far) throw new JointFault(({ noEdge }) => noEdge(second.name));
  if (first.line !== second.line)
    throw new JointFault(({ linesDiffer }) => linesDiffer(first.name, second.name));
  const names = { first: first.name, second: second.name, units };
  const isLapped = at.way === 'lap';
  const move = isLapped
    ? lappedMove(first, second, near, far, at.lapMm, names)
    : buttedMove(near, far, names);
  const moved = second.outline.map(move);
  const brought = isLapped ? moved : broughtTo(moved, at.second, near);
  const line = isLapped ? far.map(move).reverse() : near;
  const united = unite(first.outline, brought, isLapped);
  const outline = cleaned(united.outline, isLapped ? [...near, ...line] : near);
  const marks = joinedMarks(first.marks, moveMarks(second.marks, move), isLapped ? null : near);
  const allowances = joinedAllowances(first, second, at, move, outline);
  const open = [
    ...carriedJoints(first, first.openJoints ?? [], (point) => point, outline, near),
    ...carriedJoints(second, second.openJoints ?? [], move, outline, near),
  ];
  const { edgeAllowances: _own, openJoints: _open, ...rest } = plain(first);
  const shape: PartShape = {
    ...rest,
    outline,
    holes: [...first.holes, ...second.holes.map((hole) => hole.map(move)), ...united.holes],
    marks,
    foldEdge: joinedFold(first, second, move, outline),
    ...(allowances.length > 0 ? { edgeAllowances: allowances } : {}),
    ...(open.length > 0 ? { openJoints: open } : {}),
  };
  return { shape, line, move };
}

/** Without what a piece has beyond a part. */
function plain(piece: PartShape & Partial<Pick<Piece, 'variant' | 'madeOf'>>): PartShape {
  const { variant: _variant, madeOf: _madeOf, ...part } = piece;
  return part;
}

interface Names {
  readonly first: string;
  readonly second: string;
  readonly units: ShownUnits;
}

function buttedMove(near: readonly Point[], far: readonly Point[], { first, second, units }: Names): Move {
  const [here, there] = [lengthAlong(near), lengthAlong(far)];
  const off = Math.abs(here - there);
  if (off > SAME_LENGTH_MM)
    throw new JointFault(
      ({ unlikeLength }, long) => unlikeLength(first, long(here), second, long(there), long(off)),
      units,
    );
  const move = ontoChord(chordOf([...far].reverse()), chordOf(near));
  const moved = far.map(move);
  const apart = Math.max(
    ...moved.map((point) => distanceToLine(point, near)),
    ...near.map((point) => distanceToLine(point, moved)),
  );
  if (apart > SAME_LENGTH_MM)
    throw new JointFault(({ unlikeCurve }, long) => unlikeCurve(long(apart)), units);
  return move;
}

/**
 * The second laid over the first by so much. Sides may slant: so the edge of one is held against the width of the other
 * where that edge comes to lie. Which of the two has the strip to glue is told by which way they agree better.
 */
function lappedMove(
  first: PartShape,
  second: PartShape,
  near: readonly Point[],
  far: readonly Point[],
  lapMm: number,
  { units }: Names,
): Move {
  if (!(lapMm > 0)) throw new JointFault(({ noLap }) => noLap);
  const straight = [near, far].every((line) => {
    const { from, to } = chordOf(line);
    return line.every((point) => distanceToEdge(point, from, to) <= STRAIGHT_MM);
  });
  if (!straight) throw new JointFault(({ notStraight }) => notStraight);
  const [edge, other] = [chordOf(near), chordOf([...far].reverse())];
  const within = widthInside(first.outline, edge, lapMm);
  // Seen from the second, its inside lies on the left of its edge as its own outline runs.
  const withinOther = widthInside(second.outline, chordOf(far), lapMm);
  if (!within || !withinOther) throw new JointFault(({ lapTooDeep }) => lapTooDeep);
  const offFirst = Math.abs(chordLength(within) - chordLength(other));
  const offSecond = Math.abs(chordLength(withinOther) - chordLength(edge));
  const off = Math.min(offFirst, offSecond);
  if (off > SAME_LENGTH_MM)
    throw new JointFault(({ unlikeWhereLapped }, long) => unlikeWhereLapped(long(off)), units);
  if (offFirst <= offSecond) return ontoChord(other, within);
  return ontoChord({ from: withinOther.to, to: withinOther.from }, edge);
}

interface Chord {
  readonly from: Point;
  readonly to: Point;
}

const chordOf = (points: readonly Point[]): Chord => ({
  from: points[0] as Point,
  to: points.at(-1) as Point,
});
const chordLength = ({ from, to }: Chord): number => distance(from, to);

/** The rigid motion that lays the middle and the direction of one chord onto those of another. */
function ontoChord(chord: Chord, target: Chord): Move {
  const direction = ({ from, to }: Chord): number => Math.atan2(to[1] - from[1], to[0] - from[0]);
  const angle = direction(target) - direction(chord);
  const [cos, sin] = exactTurn(angle);
  const middle = ({ from, to }: Chord): Point => [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const [mx, my] = middle(chord);
  const [tx, ty] = middle(target);
  return ([x, y]) => [tx + (x - mx) * cos - (y - my) * sin, ty + (x - mx) * sin + (y - my) * cos];
}

/** Cosine and sine, exact at quarter turns, so that upright parts stay upright. */
function exactTurn(angle: number): [number, number] {
  const quarters = Math.round(angle / (Math.PI / 2));
  if (Math.abs(angle - (quarters * Math.PI) / 2) > 1e-12) return [Math.cos(angle), Math.sin(angle)];
  return [
    [1, 0],
    [0, 1],
    [-1, 0],
    [0, -1],
  ][((quarters % 4) + 4) % 4] as [number, number];
}

/** The width of an outline on a line so far inside an edge, in the edge's direction; null where it isn't so deep. */
function widthInside(outline: Outline, { from, to }: Chord, depth: number): Chord | null {
  const length = distance(from, to);
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const local = outline.map(
    ([x, y]): Point => [
      (x - from[0]) * ux + (y - from[1]) * uy,
      (y - from[1]) * ux - (x - from[0]) * uy - depth,
    ],
  );
  const crossings: number[] = [];
  local.forEach(([s, t], i) => {
    const [s1, t1] = local[(i + 1) % local.length] as Point;
    if (t < 0 !== t1 < 0) crossings.push(s + ((s1 - s) * t) / (t - t1));
  });
  crossings.sort((a, b) => a - b);
  const place = (s: number): Point => [from[0] + s * ux - depth * uy, from[1] + s * uy + depth * ux];
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    const [low, high] = [crossings[i] as number, crossings[i + 1] as number];
    if (low <= length / 2 && high >= length / 2) return { from: place(low), to: place(high) };
  }
  return null;
}

/** The moved outline with its edge drawn exactly as that of the first, the other way round. */
function broughtTo(moved: readonly Point[], { edge, edges }: Stretch, near: readonly Point[]): Point[] {
  const others = Array.from(
    { length: moved.length - edges - 1 },
    (_, i) => moved[(edge + edges + 1 + i) % moved.length] as Point,
  );
  return [...[...near].reverse(), ...others];
}

function unite(
  first: Outline,
  second: Outline,
  isLapped: boolean,
): { readonly outline: Outline; readonly holes: readonly Outline[] } {
  try {
    if (!isLapped) {
      const over = intersection([first], [second]).reduce((sum, { outer }) => sum + signedArea(outer), 0);
      if (over > OVERLAP_MM2) throw new JointFault(({ overEachOther }) => overEachOther);
    }
    const found = union([first, second]).filter(({ outer }) => signedArea(outer) > OVERLAP_MM2);
    const [whole] = found;
    if (!whole || found.length > 1) throw new JointFault(({ notOnePiece }) => notOnePiece);
    // Where parts meet at a second edge too, a gap a hair wide is left between them.
    const holes = whole.holes.filter((hole) => {
      const around = lengthAlong([...hole, hole[0] as Point]);
      return Math.abs(signedArea(hole)) > (SLIT_MM * around) / 2;
    });
    return { outline: whole.outer, holes };
  } catch (error) {
    if (error instanceof GeometryError) throw new JointFault(({ notOnePiece }) => notOnePiece);
    throw error;
  }
}

/** The outline without the points at which a side only runs on past the joint. */
function cleaned(outline: Outline, joint: readonly Point[]): Outline {
  const points = [...cleanRing(outline)];
  for (let i = 0; i < points.length && points.length > 3; ) {
    const point = points[i] as Point;
    const before = points[(i + points.length - 1) % points.length] as Point;
    const after = points[(i + 1) % points.length] as Point;
    const isAtJoint = joint.some((end) => distance(end, point) <= 2 * SAME_LENGTH_MM);
    if (isAtJoint && distanceToEdge(point, before, after) <= RUNS_ON_MM) {
      points.splice(i, 1);
      i = Math.max(0, i - 1);
    } else i += 1;
  }
  return points;
}

function joinedFold(first: PartShape, second: PartShape, move: Move, outline: Outline): number | null {
  const foldOf = ({ foldEdge, outline: ring }: PartShape): [Point, Point] | null =>
    foldEdge === null ? null : [ring[foldEdge] as Point, ring[(foldEdge + 1) % ring.length] as Point];
  const near = foldOf(first);
  const drawn = foldOf(second);
  const far: [Point, Point] | null = drawn && [move(drawn[0]), move(drawn[1])];
  const fold = near ?? far;
  if (!fold) return null;
  const found = foldEdgeOf(outline, fold);
  const edge = found === null ? null : ([outline[found], outline[(found + 1) % outline.length]] as Point[]);
  const lies = (point: Point): boolean =>
    edge !== null && distanceToEdge(point, edge[0] as Point, edge[1] as Point) <= RUNS_ON_MM + FOLD_LINE_MM;
  // Both halves of a half piece lie on the same fold; its line must run on from one to the other.
  if (found === null || (near && far && ![...near, ...far].every(lies)))
    throw new JointFault(({ foldsDiffer }) => foldsDiffer);
  return found;
}

/** Allowances of edges that differ from those of the first part, on the joined outline; the joint has none. */
function joinedAllowances(
  first: PartShape,
  second: PartShape,
  at: JointAt,
  move: Move,
  outline: Outline,
): readonly EdgeAllowance[] {
  const found = new Map<number, number>();
  const carry = (part: PartShape, joint: Stretch, to: Move): void => {
    const mmOf = edgeAllowance(part);
    part.outline.forEach((a, edge) => {
      const n = part.outline.length;
      if ((edge - joint.edge + n) % n < joint.edges || mmOf(edge) === first.allowanceMm) return;
      const [p, q] = [to(a), to(part.outline[(edge + 1) % n] as Point)];
      const onto = edgeNear(outline, [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2], [q[0] - p[0], q[1] - p[1]]);
      if (onto >= 0) found.set(onto, mmOf(edge));
    });
  };
  carry(first, at.first, (point) => point);
  carry(second, at.second, move);
  return [...found].map(([edge, mm]) => ({ edge, mm })).sort((a, b) => a.edge - b.edge);
}

/** Open joints of a part on the joined outline; those at the joint just made are no longer open. */
function carriedJoints(
  part: PartShape,
  joints: readonly OpenJoint[],
  move: Move,
  outline: Outline,
  joint: readonly Point[],
): OpenJoint[] {
  return joints.flatMap(({ letter, ...stretch }): OpenJoint[] => {
    const points = stretchPoints(part.outline, stretch)?.map(move);
    if (!points) return [];
    const isJoined = points.every((point) => distanceToLine(point, joint) <= 2 * SAME_LENGTH_MM);
    const found = isJoined ? null : stretchBetween(outline, points);
    return found ? [{ letter, ...found }] : [];
  });
}
