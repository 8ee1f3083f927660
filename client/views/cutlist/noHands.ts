import type { Piece, Project } from '../../../pattern/exchange/project.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';

/** Whether copies of a piece need no hands in a material: cloth with nap or a print's up asks more of symmetry. */
export function noHandsIn(project: Project, piece: Piece, materialId: string): boolean {
  const hasUp = project.cloths.some(
    (cloth) => cloth.materialId === materialId && (cloth.nap === 'oneWay' || cloth.printUp !== 'none'),
  );
  const facts = pieceFacts(piece);
  return hasUp ? facts.needsNoHandsOneWay : facts.needsNoHands;
}
