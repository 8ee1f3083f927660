export { type BiasStrips, biasStrips, continuousBiasSquare } from './bias.ts';
export {
  type CutSide,
  type CutSize,
  cutSizeOf,
  FORMULA_MEASURES,
  FORMULA_NAMES,
  type FormulaName,
  MAY_BE_ZERO,
  missingMeasure,
} from './formulas.ts';
export { isFormula, pieceFromShape, reshaped, type ShapeRecipe, shapedBy } from './pieceFromShape.ts';
export {
  type MeasureFault,
  type Measures,
  measureFault,
  SHAPE_MEASURES,
  SHAPE_NAMES,
  type ShapeName,
  shapeOutline,
} from './shapes.ts';
export {
  type BiasCut,
  type StripsCut,
  type StripsWanted,
  squareForBias,
  straightStrips,
  stripsOnBias,
} from './strips.ts';
