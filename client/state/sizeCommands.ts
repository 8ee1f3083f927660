import type { Piece } from '../../pattern/exchange/project.ts';
import { correctedPiece, markedPiece, sizeMarkIn } from '../../pattern/proposals/sizeMark.ts';
import type { Command } from './command.ts';

/** Decides about all pieces of a drawing that is not true to size: corrected by its test square, or left as they are. */
export function settleSize(file: string, how: 'correct' | 'leave'): Command {
  const settled = (piece: Piece): Piece =>
    sizeMarkIn(piece)?.file !== file
      ? piece
      : how === 'correct'
        ? correctedPiece(piece)
        : markedPiece(piece, null);
  return {
    name: 'settleSize',
    subject: file,
    run: (project) =>
      project.pieces.some((piece) => sizeMarkIn(piece)?.file === file)
        ? { ...project, pieces: project.pieces.map(settled) }
        : project,
  };
}
