/** What a maker takes to the table and other programs take away: sheets, tables, DXF. All of it pure. */
export { bestOnRoll, byCloth, isLaid, laysToCut, rollToCut } from './bestLays.ts';
export { cutListTable } from './cutListTable.ts';
export { type BlockCut, blockCuts, type CutLine, type CutPiece, type Part } from './cutting/blocks.ts';
export {
  type CutStep,
  type CuttingOrder,
  type CuttingStretch,
  cuttingOrder,
  heldBack,
  type StepWork,
} from './cutting/cuttingOrder.ts';
export { cuttingTable } from './cutting/cuttingTable.ts';
export { freeRectangles } from './cutting/freeRectangles.ts';
export { leftWords, orderMarks, orderSheets, placeWords } from './cutting/orderSheets.ts';
export { stepWords } from './cutting/stepWords.ts';
export { type TablePlace, tablePlaces } from './cutting/tableMoves.ts';
export {
  cellWords,
  designerData,
  designerSheets,
  type TableNames,
  tableColumns,
} from './designerTable.ts';
export { DXF_LAYERS, dxfText, layToDxf, piecesToDxf } from './dxf.ts';
export type { FullDrawing } from './fullDrawing.ts';
export { fullLaySheets, fullLaysFault } from './fullLay.ts';
export { drawFullPiece, type FullPieceOptions } from './fullPiece.ts';
export { type FullPieceSheetsOptions, fullPieceSheets, fullPiecesFault } from './fullPieceSheets.ts';
export { type FullSizeOptions, MOST_SHEETS } from './fullSizeSheets.ts';
export { type Label, type LabelSheet, labelFault, labelSheets, labelSize, labelsFor } from './labels.ts';
export { consumptionTable, positionsTable } from './layTables.ts';
export { placementKey } from './placements.ts';
export { clothName, type PlanSheetOptions, planSheets } from './planSheets.ts';
export {
  type ClothPoint,
  chalkLength,
  layPositions,
  type PiecePosition,
  type StretchPositions,
} from './positions.ts';
export { type PrintedPiece, type PrintedStretch, printedStretches } from './printPreview.ts';
export type { PrintTile } from './printTile.ts';
export { type PrintUnder, printsUnder } from './printUnder.ts';
export { type ProjectorOptions, projectorLaySheets, projectorPieceSheets } from './projectorSheets.ts';
export type { DocumentFacts, Sheet, SheetWindow } from './sheet.ts';
export {
  type ShelfPlaces,
  type ShoppingLine,
  type ShoppingList,
  shoppingList,
  shoppingSheets,
  shoppingTable,
  type Taken,
} from './shopping.ts';
export { type DataTable, toCsv, toRecords } from './table.ts';
export { TEST_SQUARES } from './testSquares.ts';
export { type TickSheetOptions, tickSheets } from './tickSheets.ts';
export {
  type CutHand,
  type Progress,
  placementMarks,
  progressOf,
  stepMark,
  type TickItem,
  type TickPart,
  tickParts,
} from './ticks.ts';
export { TILE_PAPERS, type Tile, type TileLayout, type TileOptions, tileFault, tileLayout } from './tiles.ts';
export { type OutputWords, outputWords } from './words/index.ts';
