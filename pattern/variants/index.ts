export { movedTo, toSewLine } from './allowances.ts';
export { comesFrom, followVariants, takeSteps, variantFault, type WorkedOut } from './follow.ts';
