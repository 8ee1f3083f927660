import { boundingBox } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import type { Match, Piece, Project } from '../../pattern/exchange/project.ts';
import { splitOver } from '../../pattern/pieces/splitOver.ts';
import { type Command, replaceById } from './command.ts';
import { freshId } from './ids.ts';

/** Commands about what is printed or woven on the cloth, and the pieces that keep to it. */

function changed(name: 'setMotif' | 'splitPiece', piece: Piece, change: (old: Piece) => Piece): Command {
  return {
    name,
    subject: piece.name,
    run: (project) => {
      const pieces = replaceById(project.pieces, piece.id, change);
      return pieces === project.pieces ? project : { ...project, pieces };
    },
  };
}

/** The place of a piece on the motif; none where `motif` is undefined. */
export function setMotif(piece: Piece, motif: Piece['motif']): Command {
  return changed('setMotif', piece, ({ motif: _before, ...old }) => (motif ? { ...old, motif } : old));
}

/** A piece that sits on the border of its cloth, or does so no longer (`undefined`). */
export function setOnBorder(piece: Piece, onBorder: Piece['onBorder']): Command {
  return changed('setMotif', piece, ({ onBorder: _before, ...old }) =>
    onBorder ? { ...old, onBorder } : old,
  );
}

/** Whether a piece is front and back in one, with the bottom between them. */
export function setTurnsOver(piece: Piece, turnsOver: boolean): Command {
  return changed('splitPiece', piece, ({ turnsOver: _before, turnsAt: _where, ...old }) =>
    turnsOver ? { ...old, turnsOver } : old,
  );
}

/**
 * Where a piece turns over. What turns over at its top is a strap, which a print climbs along: its top then points along
 * its longer side, if it did not.
 */
export function setTurnsAt(piece: Piece, turnsAt: NonNullable<Piece['turnsAt']>): Command {
  return changed('splitPiece', piece, ({ turnsAt: _before, ...old }) => {
    if (turnsAt === 'bottom') return old;
    const upright = boundingBox(placeRing(old.outline, 90 - old.topDeg));
    const isAcross = upright.maxX - upright.minX > upright.maxY - upright.minY;
    return { ...old, turnsAt, ...(isAcross ? { topDeg: (old.topDeg + 270) % 360 } : {}) };
  });
}

/**
 * Halves instead of a piece that runs over the bottom: new pieces, to which the counts move; the whole one stays with
 * the pieces, asked for no more. Null where it can't be divided.
 */
export function splitPieceOver(
  project: Project,
  piece: Piece,
  allowanceMm: number,
  names: { readonly both: string; readonly front: string; readonly back: string },
): (Command & { readonly id: string }) | null {
  const split = splitOver(piece, allowanceMm);
  if (!split || !project.pieces.some(({ id }) => id === piece.id)) return null;
  const {
    turnsOver: _over,
    turnsAt: _where,
    motif: _motif,
    source: _source,
    openJoints: _open,
    madeOf: _parts,
    ...rest
  } = piece;
  const halves = split.halves.map((half, i): Piece => {
    const name = split.halves.length === 1 ? names.both : i === 0 ? names.front : names.back;
    return { ...rest, ...half, id: freshId('piece'), name: name.slice(0, 200), foldEdge: null };
  });
  const [first] = halves;
  if (!first) return null;
  return {
    id: first.id,
    name: 'splitPiece',
    subject: piece.name,
    run: (current) => {
      const at = current.pieces.findIndex(({ id }) => id === piece.id);
      if (at < 0) return current;
      return {
        ...current,
        pieces: current.pieces.toSpliced(at + 1, 0, ...halves),
        cutList: current.cutList.flatMap((row) => {
          if (row.pieceId !== piece.id) return [row];
          const { plain, mirrored } = row;
          const times = split.perPiece;
          const moved = halves.map((half) => ({
            ...row,
            pieceId: half.id,
            plain: plain * times,
            mirrored: mirrored * times,
            onFold: 0,
          }));
          return [{ ...row, plain: 0, mirrored: 0, onFold: 0 }, ...moved];
        }),
      };
    },
  };
}

/** Seams at which a repeat must meet. */
export function setMatches(matches: readonly Match[]): Command {
  return {
    name: 'setMatches',
    subject: '',
    run: (project) => ({ ...project, matches }),
  };
}

export function newMatch(a: Match['a'], b: Match['b']): Match {
  return { id: freshId('match'), a, b };
}
