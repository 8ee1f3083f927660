import type { JoinedEnd, Joint, Match, Piece, Project } from '../../pattern/exchange/project.ts';
import { type JointAt, putTogether, rejoined, takenApart } from '../../pattern/parts/index.ts';
import { edgeNear } from '../../pattern/variants/carry.ts';
import { type Command, replaceById } from './command.ts';
import { freshId } from './ids.ts';

/** Commands about parts that make one piece. */

/**
 * Two pieces become one, in the place and under the name of the first. Counts of the second in materials from which the
 * first isn't cut move to it; variants of the second stand on their own.
 *
 * @throws JointFault with a sentence for the maker where they can't be joined so
 */
export function joinParts(
  project: Project,
  first: Piece,
  second: Piece,
  at: JointAt,
  letter: string,
): Command {
  const joined = putTogether(first, second, at, letter, project.units);
  return {
    name: 'joinParts',
    subject: first.name,
    run: (current) => {
      const isThere = [first, second].every(({ id }) => current.pieces.some((piece) => piece.id === id));
      if (!isThere) return current;
      const cutFrom = new Set(
        current.cutList.filter((row) => row.pieceId === first.id).map(({ materialId }) => materialId),
      );
      return {
        ...current,
        pieces: current.pieces
          .filter(({ id }) => id !== second.id)
          .map((piece) =>
            piece.id === first.id ? joined : piece.variant?.from === second.id ? alone(piece) : piece,
          ),
        cutList: current.cutList.flatMap((row) => {
          if (row.pieceId !== second.id) return [row];
          return cutFrom.has(row.materialId) ? [] : [{ ...row, pieceId: first.id }];
        }),
        ...(current.matches ? { matches: matchesOf(current.matches, first, second.id, joined) } : {}),
      };
    },
  };
}

function alone({ variant: _variant, ...piece }: Piece): Piece {
  return piece;
}

/** Seams at which a print is matched, on the joined piece: by edge where the edge is still there. */
function matchesOf(
  matches: readonly Match[],
  first: Piece,
  secondId: string,
  joined: Piece,
): readonly Match[] {
  const carried = (end: JoinedEnd): JoinedEnd | null => {
    if (end.pieceId === secondId) return null;
    if (end.pieceId !== first.id) return end;
    const a = end.edge === null ? undefined : first.outline[end.edge];
    const b = end.edge === null ? undefined : first.outline[(end.edge + 1) % first.outline.length];
    if (!a || !b) return null;
    const edge = edgeNear(joined.outline, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], [b[0] - a[0], b[1] - a[1]]);
    return edge < 0 ? null : { ...end, edge };
  };
  return matches.flatMap((match) => {
    const [a, b] = [carried(match.a), carried(match.b)];
    return a && b ? [{ ...match, a, b }] : [];
  });
}

/** Undoes the last joint of a piece: its two parts are pieces again, both with its counts. Null where it has none. */
export function takeApart(
  project: Project,
  piece: Piece,
): (Command & { readonly names: readonly [string, string] }) | null {
  const apart = takenApart(piece, project.units);
  if (!apart) return null;
  const [first, part] = apart;
  const isTaken = project.pieces.some(({ id }) => id === part.id);
  const second: Piece = isTaken ? { ...part, id: freshId('piece') } : part;
  return {
    name: 'takeApart',
    subject: piece.name,
    names: [first.name, second.name],
    run: (current) => {
      const at = current.pieces.findIndex(({ id }) => id === piece.id);
      if (at < 0) return current;
      return {
        ...current,
        pieces: current.pieces.toSpliced(at, 1, first, second),
        cutList: current.cutList.flatMap((row) =>
          row.pieceId === piece.id ? [row, { ...row, pieceId: second.id }] : [row],
        ),
      };
    },
  };
}

/** A joint made another way. @throws JointFault where the parts can't be joined so */
export function changeJoint(
  project: Project,
  piece: Piece,
  index: number,
  change: Pick<Joint, 'way' | 'lapMm'>,
): Command {
  const next = rejoined(piece, index, change, project.units);
  return {
    name: 'joinParts',
    subject: piece.name,
    together: `joint ${piece.id} ${index}`,
    run: (current) => {
      const pieces = replaceById(current.pieces, piece.id, () => next);
      return pieces === current.pieces ? current : { ...current, pieces };
    },
  };
}

/** The letter at an edge means nothing: no partner is waited for. */
export function forgetJoint(piece: Piece, index: number): Command {
  return {
    name: 'forgetJoint',
    subject: piece.name,
    run: (project) => {
      const pieces = replaceById(project.pieces, piece.id, ({ openJoints = [], ...old }) => {
        const left = openJoints.filter((_, at) => at !== index);
        return left.length > 0 ? { ...old, openJoints: left } : old;
      });
      return pieces === project.pieces ? project : { ...project, pieces };
    },
  };
}
