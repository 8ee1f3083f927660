import type { Piece, Project } from '../exchange/project.ts';
import { USUAL_LANGUAGE } from '../language.ts';
import type { Drawable } from './fullDrawing.ts';
import { drawFullPiece, fullOutline } from './fullPiece.ts';
import { type FullSizeOptions, fullSizeFault, fullSizeSheets } from './fullSizeSheets.ts';
import { gathered } from './gathered.ts';
import type { Sheet } from './sheet.ts';
import { paperOf } from './tiles.ts';
import { outputWords } from './words/index.ts';

export interface FullPieceSheetsOptions extends FullSizeOptions {
  /** Half pieces are drawn opened out. */
  readonly unfold: boolean;
}

/** Why these pieces can't be printed so, in words for the maker; null if they can. */
export function fullPiecesFault(pieces: readonly Piece[], options: FullPieceSheetsOptions): string | null {
  return fullSizeFault(
    pieces.map((piece) => ({ outlines: [fullOutline(piece, options.unfold)] })),
    options,
  );
}

/**
 * Pieces in true size on sheets, see `fullSizeSheets`. They must be free of errors; RangeError where the paper can't
 * be divided so (`fullPiecesFault`).
 */
export function fullPieceSheets(
  pieces: readonly Piece[],
  project: Project,
  options: FullPieceSheetsOptions,
): Sheet[] {
  const things = pieces.map(
    (piece): Drawable => ({
      outlines: [fullOutline(piece, options.unfold)],
      draw: (rooms) => drawFullPiece(piece, project, { ...options, rooms }),
    }),
  );
  const gatheredThings = onLargePaper(things, options);
  const words = outputWords(options.language ?? USUAL_LANGUAGE).full;
  return fullSizeSheets(
    gatheredThings,
    { project: project.name, title: words.pieces, count: words.countPieces(pieces.length) },
    options,
  );
}

/** Papers on which many pieces have room. */
const LARGE = new Set(['a1', 'a0', 'roll']);

function onLargePaper(things: readonly Drawable[], options: FullPieceSheetsOptions): readonly Drawable[] {
  const { paper, marginMm } = options;
  if (paper === 'one' || !LARGE.has(paper)) return things;
  const { width, height } = paperOf({ ...options, paper });
  return gathered(things, width - 2 * marginMm, height - 2 * marginMm, options.language ?? USUAL_LANGUAGE);
}
