import type { Piece, Project } from '../exchange/project.ts';
import { checkPiece } from '../pieces/index.ts';
import { isAsDrawn, pieceIn } from './sizing.ts';
import { copiesOf } from './totals.ts';

/**
 * The project with a piece of its own for each size in which a piece is cut: where a material cuts it in another size,
 * its row names a piece at that size, called after the material. For what is printed and cut out of paper. A piece that
 * no material cuts as it is drawn goes, unless it is cut from none at all or can't be made in that size.
 */
export function projectAsCut(project: Project): Project {
  const materials = new Map(project.materials.map((material) => [material.id, material]));
  const made = new Map<string, Piece>();
  const stays = new Set(project.pieces.map(({ id }) => id));
  const cutList = project.cutList.map((row) => {
    const material = materials.get(row.materialId);
    const piece = project.pieces.find(({ id }) => id === row.pieceId);
    if (!material?.sizing || isAsDrawn(material.sizing) || !piece || copiesOf(row) === 0) return row;
    if (checkPiece(piece).some(({ level }) => level === 'error')) return row;
    const sized = pieceIn(piece, material);
    if (!sized.ok) return row;
    const id = `${piece.id}.${material.id}`;
    made.set(id, { ...sized.piece, id, name: `${piece.name} (${material.name})` });
    return { ...row, pieceId: id };
  });
  if (made.size === 0) return project;
  const named = new Set(cutList.filter((row) => copiesOf(row) > 0).map(({ pieceId }) => pieceId));
  for (const row of project.cutList) {
    if (copiesOf(row) > 0 && !named.has(row.pieceId)) stays.delete(row.pieceId);
  }
  const pieces = project.pieces.flatMap((piece) => [
    ...(stays.has(piece.id) ? [piece] : []),
    ...project.materials.flatMap(({ id }) => made.get(`${piece.id}.${id}`) ?? []),
  ]);
  return { ...project, pieces, cutList };
}
