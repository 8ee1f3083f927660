import type { Notice } from '../exchange/lay.ts';
import type { OpenJoint, Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { formatLength, type ShownUnits } from '../units/index.ts';
import { SAME_LENGTH_MM } from './joinPieces.ts';
import { lengthAlong, stretchPoints } from './stretch.ts';
import { partsWords } from './words/index.ts';

/** How an edge that waits for its partner stands. */
export interface JointState {
  readonly joint: OpenJoint;
  /** Its place in the piece's list. */
  readonly index: number;
  readonly lengthMm: number;
  /** Other pieces with the same letter, and where they have it. */
  readonly partners: readonly {
    readonly piece: Piece;
    readonly joint: OpenJoint;
    readonly lengthMm: number;
  }[];
}

/** Every open joint of a piece with the partners that the project holds for it. */
export function jointStates(project: Pick<Project, 'pieces'>, piece: Piece): readonly JointState[] {
  return (piece.openJoints ?? []).map((joint, index) => ({
    joint,
    index,
    lengthMm: jointLength(piece, joint),
    partners: project.pieces.flatMap((other) =>
      other.id === piece.id || !isOfOneFile(piece, other)
        ? []
        : (other.openJoints ?? [])
            .filter(({ letter }) => letter === joint.letter)
            .map((theirs) => ({ piece: other, joint: theirs, lengthMm: jointLength(other, theirs) })),
    ),
  }));
}

function jointLength(piece: Piece, joint: OpenJoint): number {
  return lengthAlong(stretchPoints(piece.outline, joint) ?? []);
}

/** Letters begin anew in every pattern: two drawings that both have an A have nothing to do with each other. */
function isOfOneFile(a: Piece, b: Piece): boolean {
  const fileOf = ({ source }: Piece): string | null => (source?.kind === 'drawing' ? source.file : null);
  const [one, other] = [fileOf(a), fileOf(b)];
  return one === null || other === null || one === other;
}

/** Parts that are to be cut, or whose variants are, and still wait for a partner: a warning each. */
export function openJointNotices(
  project: Pick<Project, 'pieces' | 'cutList' | 'units'>,
  language: Language = USUAL_LANGUAGE,
): Notice[] {
  const cut = new Set(
    project.cutList.filter((row) => row.plain + row.mirrored + row.onFold > 0).map(({ pieceId }) => pieceId),
  );
  const isCut = ({ id }: Piece): boolean =>
    cut.has(id) || project.pieces.some(({ id: other, variant }) => variant?.from === id && cut.has(other));
  const told = new Set<string>();
  return project.pieces.filter(isCut).flatMap((piece) =>
    jointStates(project, piece).flatMap((state): Notice[] => {
      const [partner] = state.partners;
      // A pair is told once, at the piece that comes first.
      const pair = [piece.id, partner?.piece.id ?? ''].sort().join(' ');
      if (partner && told.has(`${pair} ${state.joint.letter}`)) return [];
      told.add(`${pair} ${state.joint.letter}`);
      const text = stateInWords(piece, state, project.units, language);
      return [{ level: 'warning', code: 'partOpen', text, pieceId: piece.id }];
    }),
  );
}

/** What an open joint waits for, as a sentence. */
export function stateInWords(
  piece: Piece,
  { joint, lengthMm, partners }: JointState,
  units: ShownUnits,
  language: Language = USUAL_LANGUAGE,
): string {
  const words = partsWords(language);
  const { letter } = joint;
  const [partner] = partners;
  if (!partner) return words.partnerMissing(piece.name, letter);
  if (partners.length > 1) {
    const others = partners.map((entry) => entry.piece.name).join(', ');
    return words.several(piece.name, letter, others);
  }
  const off = Math.abs(partner.lengthMm - lengthMm);
  return off > SAME_LENGTH_MM
    ? words.unlike(piece.name, letter, partner.piece.name, formatLength(off, units, language))
    : words.notJoined(piece.name, letter, partner.piece.name);
}
