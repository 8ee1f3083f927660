import { type Spread, type WhyNot, wayRound, whyNotSpread } from '../../nesting/cloth/index.ts';
import type { Roll } from '../exchange/project.ts';
import { hasUsableWidth } from './clothRules.ts';
import type { CutDemand } from './demands.ts';
import { spreadingOf, usableRoll } from './spreading.ts';

/** Whether a roll may be spread in one way for what is to be cut from it. */
export interface SpreadVerdict {
  readonly spread: Spread;
  /** Null where it may. */
  readonly why: WhyNot | null;
}

const IN_ORDER: readonly Spread[] = [
  'single',
  'folded',
  'sequence',
  'partial',
  'middle',
  'crosswise',
  'turned',
];

/**
 * All ways in which a roll may be spread, and why not in others. A crosswise fold that is cut open and turned stands
 * only where it is the way round a crosswise fold that is refused; a spread in which nothing would lie doubled is no
 * other than a single layer.
 */
export function spreadsOf(roll: Roll, demands: readonly CutDemand[]): SpreadVerdict[] {
  const usable = usableRoll(roll, demands);
  if (!hasUsableWidth(usable)) return [{ spread: 'single', why: null }];
  return IN_ORDER.flatMap((spread): SpreadVerdict[] => {
    if (spread === 'turned' && wayRound(usable, 'crosswise') !== 'turned') return [];
    const why = whyNotSpread(usable, spread);
    if (why !== null || spread === 'single') return [{ spread, why }];
    const doubled = spreadingOf(roll, demands, spread)?.arrangement.doubled ?? [];
    const isNeeded = doubled.some(({ fold, pairs }) => fold + pairs > 0);
    return [{ spread, why: isNeeded ? null : 'notNeeded' }];
  });
}
