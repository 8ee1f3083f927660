import type { Point } from '../../nesting/packing/types.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { TestSquare } from '../reading/trueSize.ts';
import { formatDecimals } from '../units/index.ts';
import { sizeWords } from './words/index.ts';

/** What lengths of a drawing must be multiplied by to be true, across and up. */
export interface SizeMark {
  readonly factorX: number;
  readonly factorY: number;
}

/** The mark that pieces of a drawing bear until it is decided about; null where its test square is right or unsure. */
export function sizeMarkOf(square: TestSquare | null): SizeMark | null {
  if (!square?.sure || square.verdict.trueToSize) return null;
  const { factorX, factorY } = square.verdict;
  return { factorX, factorY };
}

/** The piece with this mark, or without any; only what comes from a drawing can bear one. */
export function markedPiece<Kind extends Pick<Piece, 'source'>>(piece: Kind, mark: SizeMark | null): Kind {
  const { source } = piece;
  if (source?.kind !== 'drawing') return piece;
  const { notTrueToSize: _before, ...rest } = source;
  return { ...piece, source: mark ? { ...rest, notTrueToSize: { ...mark } } : rest };
}

/** The mark a piece bears, with the file it comes from; null if it has none. */
export function sizeMarkIn(piece: Piece): (SizeMark & { readonly file: string }) | null {
  const { source } = piece;
  return source?.kind === 'drawing' && source.notTrueToSize
    ? { ...source.notTrueToSize, file: source.file }
    : null;
}

/**
 * The piece brought to true size by its mark, which it then bears no more. What is drawn in it grows with it, the seam
 * allowance in the drawing too; an allowance that is yet to be added does not.
 */
export function correctedPiece(piece: Piece): Piece {
  const mark = sizeMarkIn(piece);
  if (!mark) return piece;
  return markedPiece({ ...grownPiece(piece, mark), ...grownParts(piece, mark) }, null);
}

/** The parts that a piece was put together from grow with it. */
function grownParts({ madeOf }: Piece, mark: SizeMark): Pick<Piece, 'madeOf'> {
  if (!madeOf) return {};
  const mean = (mark.factorX + mark.factorY) / 2;
  return {
    madeOf: {
      parts: madeOf.parts.map((part) => markedPiece(grownPiece(part, mark), null)),
      joints: madeOf.joints.map((joint) => ({ ...joint, lapMm: joint.lapMm * mean })),
    },
  };
}

function grownPiece(piece: Piece, { factorX, factorY }: SizeMark): Piece {
  const point = ([x, y]: Point): Point => [x * factorX, y * factorY];
  const turned = (degrees: number): number => {
    if (factorX === factorY) return degrees;
    const angle = (degrees * Math.PI) / 180;
    const now = (Math.atan2(factorY * Math.sin(angle), factorX * Math.cos(angle)) * 180) / Math.PI;
    return (now + 360) % 360;
  };
  const mean = (factorX + factorY) / 2;
  return {
    ...piece,
    outline: piece.outline.map(point),
    holes: piece.holes.map((ring) => ring.map(point)),
    marks: piece.marks.map((mark) => ({ ...mark, points: mark.points.map(point) })),
    grainDeg: turned(piece.grainDeg),
    topDeg: turned(piece.topDeg),
    allowanceMm: piece.line === 'cut' ? piece.allowanceMm * mean : piece.allowanceMm,
    ...(piece.motif ? { motif: { ...piece.motif, at: point(piece.motif.at) } } : {}),
  };
}

/** How far a length is off, in words: "4.2 % too small". */
export function offInWords({ factorX, factorY }: SizeMark, language: Language): string {
  const said = sizeWords(language);
  const words = (factor: number): string =>
    said[factor > 1 ? 'tooSmall' : 'tooLarge'](formatDecimals(Math.abs(1 - 1 / factor) * 100, 1, language));
  const across = words(factorX);
  const up = words(factorY);
  return across === up ? across : said.both(across, up);
}

/** One warning a file whose pieces are not true to size and not decided about. */
export function sizeNotices(project: Project, language: Language = USUAL_LANGUAGE): Notice[] {
  const files = new Map<string, { mark: SizeMark; piece: Piece; count: number }>();
  for (const piece of project.pieces) {
    const mark = sizeMarkIn(piece);
    if (!mark) continue;
    const file = files.get(mark.file);
    if (file) file.count += 1;
    else files.set(mark.file, { mark, piece, count: 1 });
  }
  return [...files].map(([file, { mark, piece, count }]): Notice => {
    const text = sizeWords(language).notice(file, offInWords(mark, language), count, piece.name);
    return { level: 'warning', code: 'notTrueToSize', text, pieceId: piece.id };
  });
}

/** What the plan says of pieces that lie on it, one line a file; none where all are true to size. */
export function sizeWarnings(project: Project, pieceIds: ReadonlySet<string>, language: Language): string[] {
  const files = new Map<string, SizeMark>();
  for (const piece of project.pieces) {
    const mark = pieceIds.has(piece.id) ? sizeMarkIn(piece) : null;
    if (mark) files.set(mark.file, mark);
  }
  return [...files].map(([file, mark]) => sizeWords(language).warning(file, offInWords(mark, language)));
}
