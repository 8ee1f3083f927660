import type { ComponentChildren } from 'preact';
import type { ClothLay } from '../../../pattern/exchange/project.ts';
import { formatLength, formatPurchase } from '../../../pattern/units/index.ts';
import { showMoney, showPercent, t } from '../../strings/index.ts';
import { useProject } from '../shared/hooks.ts';

interface CompareTableProps {
  readonly single: ClothLay;
  readonly folded: ClothLay;
}

/** Single layer against folded, number by number. */
export function CompareTable({ single, folded }: CompareTableProps) {
  const { units } = useProject();
  const areBoth = single.verdict === 'fits' && folded.verdict === 'fits';
  const row = (
    label: string,
    value: (lay: ClothLay) => number | null,
    show: (value: number) => ComponentChildren,
  ) => {
    const [a, b] = [value(single), value(folded)];
    const cell = (own: number | null, other: number | null) => (
      <td>
        {own === null ? '–' : show(own)}
        {areBoth && own !== null && other !== null && own < other && (
          <span class="tag good">{t.plan.best}</span>
        )}
      </td>
    );
    return (
      <tr>
        <th scope="row">{label}</th>
        {cell(a, b)}
        {cell(b, a)}
      </tr>
    );
  };
  return (
    <section class="compare">
      <h4>{t.plan.compareTitle}</h4>
      {areBoth && <p>{verdictInWords(single, folded, units)}</p>}
      <div class="table-scroll">
        <table>
          <thead>
            <tr>
              <td />
              <th scope="col">{t.plan.single}</th>
              <th scope="col">{t.plan.folded}</th>
            </tr>
          </thead>
          <tbody>
            {row(
              t.plan.length,
              (lay) => lay.usedMm,
              (mm) => formatLength(mm, units),
            )}
            {row(
              t.plan.buy,
              (lay) => lay.buyMm,
              (mm) => formatPurchase(mm, units),
            )}
            {row(t.plan.waste, (lay) => 100 - lay.usePercent, showPercent)}
            {row(
              t.plan.trace,
              (lay) => lay.piecesToTrace,
              (count) => t.plan.traceCount(count),
            )}
            {row(t.plan.cost, (lay) => lay.costCents, showMoney)}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function verdictInWords(single: ClothLay, folded: ClothLay, units: 'cm' | 'mm' | 'in'): string {
  const saved = Math.abs(single.usedMm - folded.usedMm);
  const fewer = Math.abs(single.piecesToTrace - folded.piecesToTrace);
  const length =
    saved < 1
      ? t.plan.compareEqual
      : t.plan.compareSaves(
          single.usedMm < folded.usedMm ? t.plan.single : t.plan.folded,
          formatLength(Math.round(saved), units),
        );
  if (fewer === 0) return length;
  const easier = single.piecesToTrace < folded.piecesToTrace ? t.plan.single : t.plan.folded;
  return `${length} ${t.plan.compareTrace(fewer, easier)}`;
}
