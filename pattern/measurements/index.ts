export type { CutEntry, HeadingLine, ReadLine, Said } from './entry.ts';
export { pieceFromRectangle, type RectangleMeasures } from './pieceFromRectangle.ts';
export { type CutListOptions, type CutListReading, MOST_LINES, readCutList } from './readCutList.ts';
export { resizeRectangle } from './resizeRectangle.ts';
