import type { PointBudget } from '../flatten.ts';
import { READING_LIMITS } from '../limits.ts';
import { Refusal } from '../refusal.ts';

/** Counted over all pages. */
export interface Budget extends PointBudget {
  shapes: number;
  segments: number;
  texts: number;
  operators: number;
}

/** Counts further shapes or segments. Throws `Refusal` where there are more than anyone draws. */
export function spend(budget: Budget, what: 'shapes' | 'segments', count: number): void {
  budget[what] += count;
  if (budget[what] > READING_LIMITS[what]) throw new Refusal(({ tooManyLines }) => tooManyLines);
}
