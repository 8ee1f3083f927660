import { needsNoHands } from '../../pattern/cutList/index.ts';
import type { Piece } from '../../pattern/exchange/project.ts';
import {
  type CutShape,
  checkPiece,
  cutShape,
  type PieceSize,
  type Problem,
  type Shape,
  shapeSize,
  unfold,
} from '../../pattern/pieces/index.ts';
import { language } from '../strings/index.ts';

/** What follows from a piece. Where it can't be cut as it is, everything but the problems is missing. */
export interface PieceFacts {
  readonly problems: readonly Problem[];
  readonly isFaulty: boolean;
  /** The line to cut, allowance and all; a half as a half. */
  readonly cut: CutShape | null;
  /** The same, opened out about its fold. */
  readonly whole: Shape | null;
  /** Size of `cut` and of `whole`. */
  readonly size: PieceSize | null;
  readonly wholeSize: PieceSize | null;
  /** Its own mirror image, on cloth without an up, and on cloth with one: copies then need no hands. */
  readonly needsNoHands: boolean;
  readonly needsNoHandsOneWay: boolean;
}

/** Pieces are immutable, so what was worked out for one holds as long as it lives. */
const known = new WeakMap<Piece, PieceFacts>();

export function pieceFacts(piece: Piece): PieceFacts {
  let facts = known.get(piece);
  if (!facts) {
    facts = workOut(piece);
    known.set(piece, facts);
  }
  return facts;
}

function workOut(piece: Piece): PieceFacts {
  const problems = checkPiece(piece, 'cm', language);
  const isFaulty = problems.some((problem) => problem.level === 'error');
  if (isFaulty) {
    return {
      problems,
      isFaulty,
      cut: null,
      whole: null,
      size: null,
      wholeSize: null,
      needsNoHands: false,
      needsNoHandsOneWay: false,
    };
  }
  const cut = cutShape(piece);
  const whole = cut.fold === null ? cut : unfold({ ...cut, fold: cut.fold });
  const size = shapeSize(cut, piece.grainDeg);
  return {
    problems,
    isFaulty,
    cut,
    whole,
    size,
    wholeSize: cut.fold === null ? size : shapeSize(whole, piece.grainDeg),
    needsNoHands: needsNoHands(piece, false),
    needsNoHandsOneWay: needsNoHands(piece, true),
  };
}

/** Text of the problems in the units shown; `pieceFacts` keeps them in centimetres. */
export function problemsIn(piece: Piece, units: 'cm' | 'mm' | 'in'): readonly Problem[] {
  return units === 'cm' ? pieceFacts(piece).problems : checkPiece(piece, units, language);
}
