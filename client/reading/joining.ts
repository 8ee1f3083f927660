import type { Piece } from '../../pattern/exchange/project.ts';
import { JointFault, putTogether, SAME_LENGTH_MM } from '../../pattern/parts/index.ts';
import { type JointMark, jointProposals } from '../../pattern/proposals/jointLetters.ts';
import type { ReadDrawing } from '../../pattern/reading/drawing.ts';
import type { ShownUnits } from '../../pattern/units/index.ts';
import type { DrawnDraft } from '../state/pieceCommands.ts';

/** What is to become of a joint: made now, one way or the other, or later on the piece; or it is none. */
export type JointChoice = 'butt' | 'lap' | 'later' | 'never';

/** A joint as it stands in the import. */
export interface PlannedJoint {
  /** Stable for one drawing. */
  readonly key: string;
  readonly letter: string;
  readonly first: JointMark;
  /** Null for a letter without a partner in the drawing. */
  readonly second: JointMark | null;
  /** By how much the edges differ, mm. */
  readonly offMm: number;
  readonly choice: JointChoice;
  readonly lapMm: number;
}

/** What the maker chose otherwise than proposed, by the key of the joint. */
export type JointChoices = Readonly<Record<string, Pick<PlannedJoint, 'choice' | 'lapMm'>>>;

/** The joints that letters propose and those the maker named, each as she chose. */
export function plannedJoints(
  reading: ReadDrawing,
  own: readonly PlannedJoint[],
  choices: JointChoices,
): readonly PlannedJoint[] {
  const { pairs, lone } = jointProposals(reading);
  const proposed: PlannedJoint[] = [
    ...pairs.map(({ letter, first, second, offMm }): PlannedJoint => {
      const choice = offMm > SAME_LENGTH_MM ? 'later' : 'butt';
      return { key: `pair ${letter}`, letter, first, second, offMm, choice, lapMm: 0 };
    }),
    ...lone.map((mark): PlannedJoint => {
      const key = `lone ${mark.letter} ${mark.outlineId} ${mark.edge}`;
      return { key, letter: mark.letter, first: mark, second: null, offMm: 0, choice: 'later', lapMm: 0 };
    }),
  ];
  return [...proposed, ...own].map((joint) => ({ ...joint, ...choices[joint.key] }));
}

export const isMade = ({ choice, second }: PlannedJoint): boolean =>
  second !== null && (choice === 'butt' || choice === 'lap');

/** How many pieces come of these outlines once the planned joints are made. */
export function countJoined(outlineIds: readonly string[], joints: readonly PlannedJoint[]): number {
  const heaps = outlineIds.map((id) => new Set([id]));
  for (const { first, second } of joints.filter(isMade)) {
    const here = heaps.find((heap) => heap.has(first.outlineId));
    const there = heaps.find((heap) => heap.has(second?.outlineId ?? ''));
    if (!here || !there || here === there) continue;
    for (const id of there) here.add(id);
    heaps.splice(heaps.indexOf(there), 1);
  }
  return heaps.length;
}

/**
 * Drafts by the outlines they come from, with the planned joints made: what is joined is one draft under the name and
 * counts of its first part. Letters that are left for later stay on their pieces as open joints.
 *
 * @throws JointFault with a sentence for the maker where parts can't be joined so
 */
export function joinedDrafts(
  drafts: ReadonlyMap<string, DrawnDraft>,
  joints: readonly PlannedJoint[],
  units: ShownUnits,
): readonly DrawnDraft[] {
  const open = joints.filter(({ choice }) => choice !== 'never');
  const at = new Map<string, Entry>();
  for (const [outlineId, draft] of drafts) {
    const own = open.flatMap(({ key, first, second }) =>
      [first, second].flatMap((mark) =>
        mark?.outlineId === outlineId ? [{ letter: key, edge: mark.edge, edges: mark.edges }] : [],
      ),
    );
    const piece: Piece = own.length > 0 ? { ...draft.piece, openJoints: own } : draft.piece;
    at.set(outlineId, { draft: { ...draft, piece } });
  }
  for (const joint of open.filter(isMade)) {
    const first = at.get(joint.first.outlineId);
    const second = at.get(joint.second?.outlineId ?? '');
    if (!first || !second) continue;
    const draft =
      first.draft === second.draft
        ? closed(first.draft, joint)
        : made(first.draft, second.draft, joint, units);
    // Everything that held either of the two holds what they make.
    for (const [outlineId, entry] of at)
      if (entry.draft === first.draft || entry.draft === second.draft) at.set(outlineId, { draft });
  }
  const letters = new Map(joints.map(({ key, letter }) => [key, letter]));
  return [...new Set([...at.values()].map(({ draft }) => draft))].map((draft) => withLetters(draft, letters));
}

interface Entry {
  readonly draft: DrawnDraft;
}

function made(first: DrawnDraft, second: DrawnDraft, joint: PlannedJoint, units: ShownUnits): DrawnDraft {
  const stretchOf = ({ piece }: DrawnDraft) => piece.openJoints?.find(({ letter }) => letter === joint.key);
  const [here, there] = [stretchOf(first), stretchOf(second)];
  if (!here || !there)
    throw new JointFault(() => `${first.piece.name} – ${second.piece.name}: ${joint.letter}?`);
  const way = joint.choice === 'lap' ? 'lap' : 'butt';
  const at = { way, lapMm: joint.lapMm, first: here, second: there } as const;
  const piece = putTogether(first.piece, second.piece, at, joint.letter, units);
  const isCounted = ({ counts, more }: DrawnDraft): boolean =>
    counts.plain + counts.mirrored + counts.onFold > 1 || (more?.length ?? 0) > 0;
  const { counts, material, more } = isCounted(first) ? first : isCounted(second) ? second : first;
  return { ...first, piece, counts: onFold(piece, counts), material, ...(more ? { more } : {}) };
}

/** A half piece is cut on the fold. */
function onFold(piece: Piece, counts: DrawnDraft['counts']): DrawnDraft['counts'] {
  const total = counts.plain + counts.mirrored + counts.onFold;
  return piece.foldEdge === null ? counts : { plain: 0, mirrored: 0, onFold: total };
}

/** Its edges met already when the others were joined: nothing is left to join. */
function closed(draft: DrawnDraft, joint: PlannedJoint): DrawnDraft {
  const { openJoints = [], ...piece } = draft.piece;
  const left = openJoints.filter(({ letter }) => letter !== joint.key);
  return { ...draft, piece: left.length > 0 ? { ...piece, openJoints: left } : piece };
}

function withLetters(draft: DrawnDraft, letters: ReadonlyMap<string, string>): DrawnDraft {
  const named = <Kind extends Pick<Piece, 'openJoints'>>(piece: Kind): Kind =>
    piece.openJoints
      ? {
          ...piece,
          openJoints: piece.openJoints.map((joint) => ({
            ...joint,
            letter: letters.get(joint.letter) ?? joint.letter,
          })),
        }
      : piece;
  const { piece } = draft;
  const madeOf = piece.madeOf && { ...piece.madeOf, parts: piece.madeOf.parts.map(named) };
  return { ...draft, piece: { ...named(piece), ...(madeOf ? { madeOf } : {}) } };
}
