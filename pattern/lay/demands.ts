import type { Demand } from '../../nesting/cloth/index.ts';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { joinedParts } from '../cutList/joins.ts';
import { type OneSize, pieceOfSize, sizesOf } from '../cutList/sets.ts';
import { pieceIn } from '../cutList/sizing.ts';
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
  /** The piece of the project. What is cut of it, in this size and material, is the demand's outline. */
  readonly piece: Piece;
  /** Holes of `demand.outline`, and of `demand.half.outline` where there is one. */
  readonly holes: readonly Ring[];
  readonly halfHoles: readonly Ring[];
  /** Area of one whole copy without its holes, in mm². */
  readonly areaMm2: number;
  /** Numbers of the sets it is cut for, and how many copies belong to each. */
  readonly sets: readonly number[];
  readonly perSet: { readonly plain: number; readonly mirrored: number };
  /** One of the lengths the piece is joined from. */
  readonly part?: { readonly n: number; readonly of: number };
}

/** How far a mirror image may miss the piece to count as the same: less than anyone cuts. Millimetres. */
export const SAME_SHAPE_MM = 0.2;

/** How many joins each piece gets, by its id; a piece that is not listed gets none. */
export type JoinCounts = ReadonlyMap<string, number>;

const NO_JOINS: JoinCounts = new Map();

/**
 * What one material must yield, for all sets. Pieces that cannot be cut as they are become notices; the others are
 * kept.
 */
export function demandsFor(
  project: Project,
  materialId: string,
  joins: JoinCounts = NO_JOINS,
): { demands: CutDemand[]; notices: Notice[] } {
  const demands: CutDemand[] = [];
  const notices: Notice[] = [];
  const byId = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const material = project.materials.find(({ id }) => id === materialId);
  const sizes = sizesOf(project);
  for (const row of project.cutList) {
    if (row.materialId !== materialId || row.plain + row.mirrored + row.onFold === 0) continue;
    const piece = byId.get(row.pieceId);
    if (!piece) {
      const text = `The cut list asks for a piece "${row.pieceId}" that is not in the project; it is left out.`;
      notices.push({ level: 'error', code: 'pieceMissing', text, materialId });
      continue;
    }
    const fault = (text: string): void => {
      notices.push({
        level: 'error',
        code: 'pieceFaulty',
        text: `${piece.name}: ${text}`,
        pieceId: piece.id,
        materialId,
      });
    };
    const faults = checkPiece(piece).filter((problem) => problem.level === 'error');
    for (const { text } of faults) fault(text);
    if (faults.length > 0) continue;
    sizes.forEach((size, index) => {
      const scaled = pieceOfSize(piece, size);
      const sized = scaled && pieceIn(scaled, material);
      if (!sized) fault('it can’t be made in the size of every set.');
      else if (!sized.ok) fault(`${sized.text}.`);
      else {
        const shaped = { piece, sized: sized.piece, size, suffix: index === 0 ? '' : `~size${index + 1}` };
        demands.push(...rowDemands(row, shaped, joins.get(piece.id) ?? 0));
      }
    });
  }
  return { demands, notices };
}

interface Shaped {
  readonly piece: Piece;
  /** As it is cut from this material in this size. */
  readonly sized: Piece;
  readonly size: OneSize;
  /** Told apart from the same piece in other sizes by this end of the demand's id. */
  readonly suffix: string;
}

function rowDemands(row: CutRow, shaped: Shaped, joins: number): CutDemand[] {
  const { piece, sized, size, suffix } = shaped;
  const times = size.numbers.length;
  const shape = cutShape(sized);
  const common = {
    grainDeg: sized.grainDeg,
    topDeg: sized.topDeg,
    sets: times,
    ...(sized.lie === undefined ? {} : { turn: sized.lie }),
  };
  const found: CutDemand[] = [];
  const perSet = { plain: row.plain, mirrored: row.mirrored };
  if (row.plain + row.mirrored > 0) {
    const parts = (joins > 0 && row.joins && joinedParts(sized, row.joins, joins)) || [
      { outline: shape.outline, holes: shape.holes, n: 1, of: 1 },
    ];
    for (const { outline, holes, n, of } of parts) {
      found.push({
        demand: {
          ...common,
          id: `${piece.id}${of > 1 ? `~part${n}of${of}` : ''}${suffix}`,
          outline,
          plain: times * row.plain,
          mirrored: times * row.mirrored,
          mirrorTurns: mirrorTurns({ outline, holes }, SAME_SHAPE_MM),
        },
        piece,
        holes,
        halfHoles: [],
        areaMm2: areaOf(outline, holes),
        sets: size.numbers,
        perSet,
        ...(of > 1 ? { part: { n, of } } : {}),
      });
    }
  }
  if (row.onFold > 0 && shape.fold) {
    const whole = unfold({ ...shape, fold: shape.fold });
    found.push({
      demand: {
        ...common,
        id: `${piece.id}~fold${suffix}`,
        outline: whole.outline,
        half: { outline: shape.outline, fold: shape.fold },
        plain: times * row.onFold,
        mirrored: 0,
        mirrorTurns: mirrorTurns(whole, SAME_SHAPE_MM),
      },
      piece,
      holes: whole.holes,
      halfHoles: shape.holes,
      areaMm2: areaOf(whole.outline, whole.holes),
      sets: size.numbers,
      perSet: { plain: row.onFold, mirrored: 0 },
    });
  }
  return found;
}

function areaOf(outline: Ring, holes: readonly Ring[]): number {
  return holes.reduce((area, hole) => area - Math.abs(signedArea(hole)), Math.abs(signedArea(outline)));
}
