import type { ClothLay, Project, Roll } from '../../../pattern/exchange/project.ts';
import { purchaseOf } from '../../state/planView.ts';
import { showMoney, t } from '../../strings/index.ts';
import { formatLength, formatPurchase } from '../../strings/lengths.ts';

/** How the length to buy comes about: pieces, ends, reserve, and the shop's step. */
export function boughtInWords(lay: ClothLay, roll: Roll, units: Project['units']): string {
  const { piecesMm, endsMm, reserveMm, stepMm, boughtMm } = purchaseOf(lay, roll);
  const tenth = (mm: number): string => formatLength(Math.round(mm * 10) / 10, units);
  return t.plan.buyExplained(
    tenth(piecesMm),
    endsMm > 0 ? formatLength(endsMm, units) : null,
    reserveMm > 0 ? tenth(reserveMm) : null,
    formatLength(stepMm, units),
    formatPurchase(boughtMm, units),
    // A shop that sells by metric steps is asked in its own; a yard has eighths.
    units === 'in' && Math.abs(stepMm - EIGHTH_YARD_MM) > 0.01,
  );
}

const EIGHTH_YARD_MM = 914.4 / 8;

/** How its cost comes about; null where the roll has no price. */
export function costInWords(lay: ClothLay, roll: Roll, units: Project['units']): string | null {
  const { priceCentsPerMetre } = roll;
  if (priceCentsPerMetre === null) return null;
  return t.plan.costHelp(formatPurchase(lay.buyMm, units), showMoney(priceCentsPerMetre));
}
