export { checkProject } from './checkProject.ts';
export { handWarnings, needsNoHands, SAME_SHAPE_MM } from './hands.ts';
export { allPlain, mergeRows, setMirroredPairs } from './rows.ts';
export { copiesOf, type MaterialTotals, totalCopies, totals } from './totals.ts';
