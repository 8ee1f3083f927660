import type { Point } from '../../nesting/packing/types.ts';
import type { Joint, MadeOf, Piece } from '../exchange/project.ts';
import type { Language } from '../language.ts';
import { checkPiece } from '../pieces/checkPiece.ts';
import type { ShownUnits } from '../units/index.ts';
import { carryAllowances, type Move } from '../variants/carry.ts';
import { type JointAt, JointFault, joinPieces, type PartShape } from './joinPieces.ts';

/** Where two parts meet in the piece they make, in its own axes. */
export interface JointLine {
  readonly letter: string;
  readonly points: readonly Point[];
}

interface WorkedOut {
  readonly shape: PartShape;
  readonly lines: readonly JointLine[];
}

/** Documents are immutable, so what was worked out holds as long as they live. */
const known = new WeakMap<MadeOf, WorkedOut>();

/** The piece that parts make. @throws JointFault with a sentence for the maker */
function workedOut(madeOf: MadeOf, units: ShownUnits): WorkedOut {
  const before = known.get(madeOf);
  if (before) return before;
  const things: WorkedOut[] = madeOf.parts.map((part) => ({ shape: part, lines: [] }));
  for (const joint of madeOf.joints) {
    const [first, second] = [things[joint.first.of], things[joint.second.of]];
    if (!first || !second) throw new RangeError('workedOut: a joint names a part that is not there');
    things.push(joinedThings(first, second, joint, units));
  }
  const whole = things.at(-1) as WorkedOut;
  known.set(madeOf, whole);
  return whole;
}

function joinedThings(
  first: WorkedOut,
  second: WorkedOut,
  joint: JointAt & { readonly letter: string },
  units: ShownUnits,
): WorkedOut {
  const { shape, line, move } = joinPieces(first.shape, second.shape, joint, units);
  const moved = (lines: readonly JointLine[], by: Move): JointLine[] =>
    lines.map(({ letter, points }) => ({ letter, points: points.map(by) }));
  return {
    shape,
    lines: [...first.lines, ...moved(second.lines, move), { letter: joint.letter, points: line }],
  };
}

/** Where the parts of a piece meet; none for a piece that is not put together, or no longer fits its parts. */
export function jointLines(piece: Piece): readonly JointLine[] {
  if (!piece.madeOf) return [];
  try {
    return workedOut(piece.madeOf, 'cm').lines;
  } catch {
    return [];
  }
}

/**
 * The piece as parts and joints: itself as the only part where it isn't put together, or where its outline was mended
 * since, so that its edges are counted otherwise than its parts tell.
 */
function asParts(piece: Piece, units: ShownUnits): { parts: MadeOf['parts']; joints: MadeOf['joints'] } {
  const { madeOf, variant: _variant, ...plain } = piece;
  const isAsMade =
    madeOf && JSON.stringify(workedOut(madeOf, units).shape.outline) === JSON.stringify(piece.outline);
  return isAsMade ? madeOf : { parts: [plain], joints: [] };
}

/**
 * Two pieces joined to one that remembers its parts. It stays the first piece: its id, its name, its grain.
 * @throws JointFault with a sentence for the maker where they can't be joined so
 */
export function putTogether(
  first: Piece,
  second: Piece,
  at: JointAt,
  letter: string,
  units: ShownUnits,
): Piece {
  for (const piece of [first, second]) {
    const fault = checkPiece(piece, units).find(({ level }) => level === 'error');
    if (fault)
      throw new JointFault((words, _long, language) =>
        words.faulty(piece.name, errorOf(piece, units, language)),
      );
  }
  const [a, b] = [asParts(first, units), asParts(second, units)];
  const count = a.parts.length + b.parts.length;
  // Parts come first in the counting, so that what a joint made moves up by the parts of the other.
  const ofFirst = (of: number): number => (of < a.parts.length ? of : of + b.parts.length);
  const ofSecond = (of: number): number =>
    of < b.parts.length ? of + a.parts.length : of + a.parts.length + a.joints.length;
  const renumbered = (joint: Joint, number: (of: number) => number): Joint => ({
    ...joint,
    first: { ...joint.first, of: number(joint.first.of) },
    second: { ...joint.second, of: number(joint.second.of) },
  });
  const joints = [
    ...a.joints.map((joint) => renumbered(joint, ofFirst)),
    ...b.joints.map((joint) => renumbered(joint, ofSecond)),
  ];
  const firstOf = a.joints.length === 0 ? 0 : count + a.joints.length - 1;
  const secondOf = b.joints.length === 0 ? a.parts.length : count + joints.length - 1;
  const madeOf: MadeOf = {
    parts: [...a.parts, ...b.parts],
    joints: [
      ...joints,
      {
        letter,
        way: at.way,
        lapMm: at.lapMm,
        first: { ...at.first, of: firstOf },
        second: { ...at.second, of: secondOf },
      },
    ],
  };
  // Joined as they are now: each may have been worked over since its own parts were joined.
  const { shape } = joinPieces(first, second, at, units);
  return { ...shape, id: first.id, madeOf };
}

/** The two things that the last joint of a piece joined, the first under the piece's own id and name. */
export function takenApart(piece: Piece, units: ShownUnits): readonly [Piece, Piece] | null {
  const { madeOf } = piece;
  const last = madeOf?.joints.at(-1);
  if (!madeOf || !last) return null;
  const first = thingOf(madeOf, last.first.of, units);
  const second = thingOf(madeOf, last.second.of, units);
  return [{ ...first, id: piece.id }, second];
}

/** A part, or what an earlier joint made, as a piece of its own. */
function thingOf(madeOf: MadeOf, of: number, units: ShownUnits): Piece {
  const part = madeOf.parts[of];
  if (part) return part;
  const parts: number[] = [];
  const joints: number[] = [];
  const gather = (at: number): void => {
    if (at < madeOf.parts.length) {
      parts.push(at);
      return;
    }
    const joint = madeOf.joints[at - madeOf.parts.length] as Joint;
    gather(joint.first.of);
    gather(joint.second.of);
    joints.push(at);
  };
  gather(of);
  joints.sort((a, b) => a - b);
  const numbers = new Map([...parts, ...joints].map((old, index) => [old, index]));
  const renumber = <Side extends { readonly of: number }>(side: Side): Side => ({
    ...side,
    of: numbers.get(side.of) as number,
  });
  const own: MadeOf = {
    parts: parts.map((at) => madeOf.parts[at] as MadeOf['parts'][number]),
    joints: joints.map((at) => {
      const joint = madeOf.joints[at - madeOf.parts.length] as Joint;
      return { ...joint, first: renumber(joint.first), second: renumber(joint.second) };
    }),
  };
  return { ...workedOut(own, units).shape, madeOf: own };
}

/**
 * The piece with one of its joints made another way. Its grain, top and line stay; its outline is worked out anew.
 * @throws JointFault where the parts can't be joined so
 */
export function rejoined(
  piece: Piece,
  index: number,
  change: Pick<Joint, 'way' | 'lapMm'>,
  units: ShownUnits,
): Piece {
  const { madeOf } = piece;
  if (!madeOf) return piece;
  const next: MadeOf = {
    ...madeOf,
    joints: madeOf.joints.map((joint, at) => (at === index ? { ...joint, ...change } : joint)),
  };
  const { outline, holes, marks, foldEdge, openJoints } = workedOut(next, units).shape;
  const { openJoints: _before, edgeAllowances: _own, ...rest } = piece;
  const edgeAllowances = carryAllowances(piece, outline, [(point) => point]);
  return {
    ...rest,
    outline,
    holes,
    marks,
    foldEdge,
    ...(openJoints ? { openJoints } : {}),
    ...(edgeAllowances && edgeAllowances.length > 0 ? { edgeAllowances } : {}),
    madeOf: next,
  };
}

/** What keeps a piece from being cut, in a sentence. */
function errorOf(piece: Piece, units: ShownUnits, language: Language): string {
  return checkPiece(piece, units, language).find(({ level }) => level === 'error')?.text ?? '';
}
