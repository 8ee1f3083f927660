/** What other rooms use of reading: bytes or text in, a drawing out; outlines of it into pieces. */
export type {
  DrawingLine,
  DrawingOutline,
  DrawingScale,
  DrawingText,
  Mending,
  ReadDrawing,
  ReadingWarning,
  RefusedOutline,
  ScaleGuess,
  SvgReading,
  UnreadDrawing,
} from './drawing.ts';
export { CLOSING_MM, FLATTENING_MM, READING_LIMITS } from './limits.ts';
export {
  grainFromLine,
  type PickedOutline,
  type PieceOptions,
  pieceFromOutline,
} from './pieceFromOutline.ts';
export { scaleFromKnown, scaleReading } from './scaling.ts';
export { readSvg } from './svg.ts';
export { UNITING_MM, type UnitedOutline, uniteOutlines } from './uniteOutlines.ts';
