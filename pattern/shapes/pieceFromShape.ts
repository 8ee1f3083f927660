import type { Piece, ShapeSource } from '../exchange/project.ts';
import { cutSizeOf } from './formulas.ts';
import { type Measures, shapeOutline } from './shapes.ts';

/** What a piece by formula is made from. */
export interface ShapeRecipe {
  readonly shape: ShapeSource['shape'];
  readonly measures: Measures;
  /** For drawn shapes: whether the measures are those of the sew line, with an allowance to add. */
  readonly line: Piece['line'];
  readonly allowanceMm: number;
}

const FORMULAS = { strap: true, toteBody: true, gusset: true, binding: true } as const;

/** Whether a shape is worked out by formula from what the finished thing measures. */
export function isFormula(shape: ShapeSource['shape']): shape is keyof typeof FORMULAS {
  return Object.hasOwn(FORMULAS, shape);
}

/**
 * What a recipe says of a piece: its outline, and where it lies on the cloth. The cut size of a formula holds its
 * allowances already; a binding lies on the bias.
 *
 * @throws RangeError for measures that make no shape
 */
export function shapedBy({
  shape,
  measures,
  line,
  allowanceMm,
}: ShapeRecipe): Pick<Piece, 'outline' | 'line' | 'allowanceMm' | 'source'> & Pick<Piece, 'lie'> {
  const source: ShapeSource = { kind: 'shape', shape, measures };
  if (!isFormula(shape)) return { outline: shapeOutline(shape, measures), line, allowanceMm, source };
  const { along, across } = cutSizeOf(shape, measures);
  if (!(along.mm > 0) || !(across.mm > 0)) {
    throw new RangeError(`shapedBy: ${shape} has no size: ${across.mm} × ${along.mm}`);
  }
  return {
    outline: [
      [0, 0],
      [across.mm, 0],
      [across.mm, along.mm],
      [0, along.mm],
    ],
    line: 'cut',
    allowanceMm: measures.seam ?? 0,
    source,
    ...(shape === 'binding' ? { lie: 'bias' } : {}),
  };
}

/** A piece by formula, upright. */
export function pieceFromShape(id: string, name: string, recipe: ShapeRecipe): Piece {
  return {
    id,
    name,
    holes: [],
    marks: [],
    grainDeg: 90,
    topDeg: 90,
    foldEdge: null,
    notes: '',
    ...shapedBy(recipe),
  };
}

/** The piece with other measures: all it has beside its shape stays. */
export function reshaped(piece: Piece, measures: Measures): Piece {
  if (piece.source?.kind !== 'shape') return piece;
  const { outline, source } = shapedBy({
    shape: piece.source.shape,
    measures,
    line: piece.line,
    allowanceMm: piece.allowanceMm,
  });
  return { ...piece, outline, ...(source ? { source } : {}) };
}
