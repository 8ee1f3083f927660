import type { Demand } from '../../nesting/cloth/index.ts';
import { signedArea } from '../../nesting/geometry/rings.ts';
import type { Notice } from '../exchange/lay.ts';
import type { CutRow, Piece, Project } from '../exchange/project.ts';
import { checkPiece } from '../pieces/checkPiece.ts';
import { cutShape } from '../pieces/cutShape.ts';
import { mirrorTurns } from '../pieces/mirrorImage.ts';
import { unfold } from '../pieces/unfold.ts';

type Ring = Piece['outline'];

/** A demand with what is needed to draw and count what comes of it. */
export interface CutDemand {
  readonly demand: Demand;
  readonly piece: Piece;
  /** Holes of `demand.outline`, and of `demand.half.outline` where there is one. */
  readonly holes: readonly Ring[];
  readonly halfHoles: readonly Ring[];
  /** Area of one whole copy without its holes, in mm². */
  readonly areaMm2: number;
}

/** How far a mirror image may miss the piece to count as the same: less than anyone cuts. Millimetres. */
export const SAME_SHAPE_MM = 0.2;

/** What one material must yield. Pieces that cannot be cut as they are become notices; the others are kept. */
export function demandsFor(
  project: Project,
  materialId: string,
): { demands: CutDemand[]; notices: Notice[] } {
  const demands: CutDemand[] = [];
  const notices: Notice[] = [];
  const byId = new Map(project.pieces.map((piece) => [piece.id, piece]));
  for (const row of project.cutList) {
    if (row.materialId !== materialId || row.plain + row.mirrored + row.onFold === 0) continue;
    const piece = byId.get(row.pieceId);
    if (!piece) {
      const text = `The cut list asks for a piece "${row.pieceId}" that is not in the project; it is left out.`;
      notices.push({ level: 'error', code: 'pieceMissing', text, materialId });
      continue;
    }
    const faults = checkPiece(piece).filter((problem) => problem.level === 'error');
    if (faults.length > 0) {
      for (const fault of faults) {
        notices.push({
          level: 'error',
          code: 'pieceFaulty',
          text: `${piece.name}: ${fault.text}`,
          pieceId: piece.id,
          materialId,
        });
      }
      continue;
    }
    demands.push(...rowDemands(row, piece));
  }
  return { demands, notices };
}

function rowDemands(row: CutRow, piece: Piece): CutDemand[] {
  const shape = cutShape(piece);
  const common = { grainDeg: piece.grainDeg, topDeg: piece.topDeg };
  const found: CutDemand[] = [];
  if (row.plain + row.mirrored > 0) {
    found.push({
      demand: {
        ...common,
        id: piece.id,
        outline: shape.outline,
        plain: row.plain,
        mirrored: row.mirrored,
        mirrorTurns: mirrorTurns(shape, SAME_SHAPE_MM),
      },
      piece,
      holes: shape.holes,
      halfHoles: [],
      areaMm2: areaOf(shape.outline, shape.holes),
    });
  }
  if (row.onFold > 0 && shape.fold) {
    const whole = unfold({ ...shape, fold: shape.fold });
    found.push({
      demand: {
        ...common,
        id: `${piece.id}~fold`,
        outline: whole.outline,
        half: { outline: shape.outline, fold: shape.fold },
        plain: row.onFold,
        mirrored: 0,
        mirrorTurns: mirrorTurns(whole, SAME_SHAPE_MM),
      },
      piece,
      holes: whole.holes,
      halfHoles: shape.holes,
      areaMm2: areaOf(whole.outline, whole.holes),
    });
  }
  return found;
}

function areaOf(outline: Ring, holes: readonly Ring[]): number {
  return holes.reduce((area, hole) => area - Math.abs(signedArea(hole)), Math.abs(signedArea(outline)));
}
