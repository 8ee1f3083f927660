/** What other rooms use of reading: bytes or text in, a drawing out; outlines of it into pieces. */
export { type DrawingKind, kindOfDrawing, readAnyDrawing } from './anyDrawing.ts';
export type {
  AssembledSheets,
  DrawingLayer,
  DrawingLine,
  DrawingOutline,
  DrawingPage,
  DrawingPoint,
  DrawingScale,
  DrawingText,
  Mending,
  PieceProposal,
  ReadDrawing,
  Reading,
  ReadingWarning,
  RefusedOutline,
  ScaleGuess,
  SvgReading,
  UnitGuess,
  UnreadDrawing,
} from './drawing.ts';
export { type DxfOptions, readDxf } from './dxf.ts';
export { CLOSING_MM, FLATTENING_MM, PDF_SPARE, READING_LIMITS } from './limits.ts';
export { type FitToPage, fitFactor, PAPER_SIZES, recogniseFit } from './paperSizes.ts';
export { type PdfOptions, readPdf } from './pdf.ts';
export {
  grainFromLine,
  type PickedOutline,
  type PieceOptions,
  pieceFromOutline,
} from './pieceFromOutline.ts';
export { scaleFromKnown, scaleReading } from './scaling.ts';
export { readSvg } from './svg.ts';
export {
  findTestSquare,
  findTestSquares,
  judgeSize,
  type MeasuredSize,
  type SizeVerdict,
  type TestSquare,
  TRUE_SIZE_TOLERANCE,
} from './trueSize.ts';
export { UNITING_MM, type UnitedOutline, uniteOutlines } from './uniteOutlines.ts';
