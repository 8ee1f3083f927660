export { checkProject, sizingNotices } from './checkProject.ts';
export { settleProject } from './follow.ts';
export { handWarnings, needsNoHands, SAME_SHAPE_MM } from './hands.ts';
export { askedFor, followLayers, type LayerChange, layerChanges } from './layers.ts';
export { layTogether } from './layTogether.ts';
export { allPlain, mergeRows, setMirroredPairs } from './rows.ts';
export { type OneSize, setsTimes, sizesOf } from './sets.ts';
export { allowanceUnknown, isAsDrawn, pieceIn, type SizedPiece } from './sizing.ts';
export { copiesOf, type MaterialTotals, totalCopies, totals } from './totals.ts';
