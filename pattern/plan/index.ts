/** Drawings of pieces and lays: what screens, files and servers may use. */

export type { CutMark } from './cutMarks.ts';
export {
  type Drawing,
  type DrawingFrame,
  type DrawingItem,
  type DrawingLayer,
  type DrawnPoint,
  flatItems,
  type GroupItem,
  type PathItem,
  type TextItem,
} from './drawing.ts';
export { drawLay } from './drawLay.ts';
export { drawPiece, type PieceDrawingOptions } from './drawPiece.ts';
export type { LayDrawingOptions } from './layArrangement.ts';
export { howClothLies } from './layContent.ts';
export { type LayRow, layRowId, layRows } from './layRows.ts';
export { drawingToSvg, escapeXml, pathAttributes, pathData } from './svg.ts';
export { FONT_FAMILY, type Role, STYLES, type Style } from './tokens.ts';
