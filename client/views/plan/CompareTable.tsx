import { useMemo } from 'preact/hooks';
import type { ClothLay, Project, Roll, Spread } from '../../../pattern/exchange/project.ts';
import { demandsFor } from '../../../pattern/lay/demands.ts';
import { spreadsOf } from '../../../pattern/lay/spreadsOf.ts';
import { cuttingOrder } from '../../../pattern/output/cutting/cuttingOrder.ts';
import { showMoney, showPercent, t } from '../../strings/index.ts';
import { formatLength, formatPurchase } from '../../strings/lengths.ts';
import { SpreadDrawing } from '../cloths/HelpDrawings.tsx';
import { Help } from '../shared/Help.tsx';

interface CompareTableProps {
  readonly project: Project;
  readonly roll: Roll;
  readonly lays: readonly ClothLay[];
  readonly shown: Spread;
  readonly onShow: (spread: Spread) => void;
  /** Cuts are counted once layouts no longer change. */
  readonly isLive: boolean;
}

interface Figures {
  readonly lay: ClothLay;
  readonly used: number;
  readonly buy: number;
  readonly waste: number;
  readonly cost: number | null;
  readonly trace: number;
  readonly cuts: number | null;
}

const FIGURES = ['length', 'buy', 'waste', 'cost', 'trace', 'cuts'] as const;

/** Lengths closer than this are the same to a maker, mm. */
const SAME_MM = 1;

/** All spreads a roll may have, number by number, and why not the others. */
export function CompareTable({ project, roll, lays, shown, onShow, isLive }: CompareTableProps) {
  const { units } = project;
  const rows = useMemo(() => lays.map((lay) => figuresOf(lay, project, isLive)), [lays, project, isLive]);
  const complete = rows.filter(({ lay }) => lay.verdict === 'fits');
  const least = (of: (row: Figures) => number | null): number =>
    Math.min(...complete.map((row) => of(row) ?? Number.POSITIVE_INFINITY));
  const cell = (row: Figures, of: (row: Figures) => number | null, show: (value: number) => string) => {
    const value = of(row);
    const isLeast =
      complete.length > 1 &&
      row.lay.verdict === 'fits' &&
      value !== null &&
      value <= least(of) &&
      complete.some((other) => (of(other) ?? value) > value);
    return (
      <td>
        {value === null ? '–' : show(value)}
        {isLeast && <span class="tag good">{t.plan.best}</span>}
      </td>
    );
  };
  const hasCost = rows.some(({ cost }) => cost !== null);
  return (
    <section class="compare">
      <h4>{t.plan.compareTitle}</h4>
      {complete.length > 1 && <p>{verdictInWords(complete, units)}</p>}
      <div class="table-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">{t.plan.spread}</th>
              <th scope="col">{t.plan.length}</th>
              <th scope="col">{t.plan.buy}</th>
              <th scope="col">{t.plan.waste}</th>
              {hasCost && <th scope="col">{t.plan.cost}</th>}
              <th scope="col">{t.plan.trace}</th>
              <th scope="col">{t.plan.cuts}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => {
              const { spread } = row.lay;
              return (
                <tr key={spread} class={spread === shown ? 'shown' : undefined}>
                  <th scope="row">
                    <button
                      type="button"
                      class="spread-button"
                      aria-pressed={spread === shown}
                      onClick={() => onShow(spread)}
                    >
                      <SpreadDrawing spread={spread} />
                      <span>{t.plan.spreadNames[spread]}</span>
                    </button>
                  </th>
                  {cell(
                    row,
                    ({ used }) => used,
                    (mm) => formatLength(Math.round(mm), units),
                  )}
                  {cell(
                    row,
                    ({ buy }) => buy,
                    (mm) => formatPurchase(mm, units),
                  )}
                  {cell(row, ({ waste }) => waste, showPercent)}
                  {hasCost && cell(row, ({ cost }) => cost, showMoney)}
                  {cell(row, ({ trace }) => trace, String)}
                  {cell(row, ({ cuts }) => cuts, String)}
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <Help title={t.plan.figuresTitle}>
        <dl class="figure-words">
          {FIGURES.map((figure) => (
            <div key={figure}>
              <dt>{t.plan[figure]}</dt>
              <dd>{t.plan.figuresHelp[figure](formatLength(roll.shopStepMm, units))}</dd>
            </div>
          ))}
        </dl>
      </Help>
      <NotAllowed project={project} roll={roll} materialId={roll.materialId} />
    </section>
  );
}

/** The spreads this cloth may not have, each with its reason. */
function NotAllowed({
  project,
  roll,
  materialId,
}: {
  readonly project: Project;
  readonly roll: Roll;
  readonly materialId: string;
}) {
  const refused = useMemo(
    () => spreadsOf(roll, demandsFor(project, materialId).demands).filter(({ why }) => why !== null),
    [project, roll, materialId],
  );
  if (refused.length === 0) return null;
  return (
    <Help title={t.plan.notAllowed(refused.length)}>
      <ul class="plain-list">
        {refused.map(({ spread, why }) => (
          <li key={spread}>
            <strong>{t.plan.spreadNames[spread]}</strong>: {why && t.plan.whyNot[why]}
          </li>
        ))}
      </ul>
    </Help>
  );
}

function figuresOf(lay: ClothLay, project: Project, isLive: boolean): Figures {
  return {
    lay,
    used: lay.usedMm,
    buy: lay.buyMm,
    waste: 100 - lay.usePercent,
    cost: lay.costCents,
    trace: lay.piecesToTrace,
    cuts: isLive ? null : countCuts(lay, project),
  };
}

/** Straight cuts, and pieces that are cut round. */
function countCuts(lay: ClothLay, project: Project): number {
  return cuttingOrder(lay, project)
    .stretches.flatMap(({ steps }) => steps)
    .reduce((sum, { work }) => {
      if (work.kind === 'straight') return sum + work.lines.length;
      if (work.kind === 'outline') return sum + work.tags.length;
      return sum + (work.kind === 'off' ? 1 : 0);
    }, 0);
}

function verdictInWords(rows: readonly Figures[], units: Project['units']): string {
  const shortest = Math.min(...rows.map(({ used }) => used));
  const winners = rows.filter(({ used }) => used <= shortest + SAME_MM);
  const names = winners.map(({ lay }) => t.plan.spreadNames[lay.spread]);
  const longest = Math.max(...rows.map(({ used }) => used));
  if (longest - shortest < SAME_MM) return t.plan.compareEqual;
  const length = t.plan.compareShortest(
    names.join(', '),
    formatLength(Math.round(longest - shortest), units),
  );
  const fewest = Math.min(...rows.map(({ trace }) => trace));
  const easiest = rows.find(({ trace }) => trace === fewest);
  if (!easiest || winners.includes(easiest)) return length;
  const more = Math.round(easiest.used - shortest);
  return `${length} ${t.plan.compareEasiest(
    t.plan.spreadNames[easiest.lay.spread],
    fewest,
    formatLength(more, units),
  )}`;
}
