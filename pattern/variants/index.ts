export { movedTo, toSewLine } from './allowances.ts';
export { type FoldLine, foldLineAt, foldLines, largerSide } from './foldLines.ts';
export { comesFrom, followVariants, takeSteps, variantFault, type WorkedOut } from './follow.ts';
