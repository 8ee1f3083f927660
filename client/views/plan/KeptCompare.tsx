import type { ClothLay, Plan, Project } from '../../../pattern/exchange/project.ts';
import { bestOnRoll } from '../../../pattern/output/bestLays.ts';
import { currentPlan } from '../../state/layCommands.ts';
import { showPercent, t } from '../../strings/index.ts';
import { formatLength, formatPurchase } from '../../strings/lengths.ts';

interface KeptCompareProps {
  readonly project: Project;
  readonly plans: readonly Plan[];
}

interface Row {
  readonly id: string;
  readonly name: string;
  /** The layout of a roll by which a plan is judged; of those that lie on remnants alone the first. */
  readonly lay: ClothLay;
}

/** Lengths closer than this are the same to a maker, mm. */
const SAME_MM = 1;

/** Kept plans and the latest one side by side, material by material, number by number. */
export function KeptCompare({ project, plans }: KeptCompareProps) {
  const tables = project.materials.flatMap(({ id, name }) => {
    const latest = currentPlan(project, id);
    const rows = [
      ...(latest ? [rowOf(latest, id, t.plan.latest)] : []),
      ...plans.map((plan) => rowOf(plan, id, plan.name)),
    ].filter((row) => row !== null);
    return rows.length < 2 ? [] : [{ id, name, rows }];
  });
  return tables.map(({ id, name, rows }) => (
    <div key={id} class="compare">
      <h4>{t.plan.keptCompare(name)}</h4>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways, by keys as well */}
      <section class="table-scroll" tabIndex={0} aria-label={t.plan.keptCompare(name)}>
        <table>
          <thead>
            <tr>
              <th scope="col">{t.plan.keepName}</th>
              <th scope="col">{t.plan.length}</th>
              <th scope="col">{t.plan.buy}</th>
              <th scope="col">{t.plan.use}</th>
              <th scope="col">{t.plan.stands}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <KeptRow key={row.id} project={project} row={row} rows={rows} />
            ))}
          </tbody>
        </table>
      </section>
    </div>
  ));
}

function rowOf(plan: Plan, materialId: string, name: string): Row | null {
  const own = plan.results.filter((lay) => lay.materialId === materialId);
  const longest = own.reduce<ClothLay | null>((a, b) => (a && a.usedMm >= b.usedMm ? a : b), null);
  const lay = bestOnRoll(own) ?? longest;
  return lay && { id: plan.id, name, lay };
}

function KeptRow({
  project,
  row: { name, lay },
  rows,
}: {
  project: Project;
  row: Row;
  rows: readonly Row[];
}) {
  const { units } = project;
  const complete = rows.filter((row) => row.lay.verdict === 'fits' && row.lay.usedMm > 0);
  const least = Math.min(...complete.map((row) => row.lay.usedMm));
  const most = Math.max(...complete.map((row) => row.lay.usedMm));
  const more = lay.usedMm - least;
  const open = lay.unplaced.reduce((sum, { plain, mirrored, onFold }) => sum + plain + mirrored + onFold, 0);
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>
        {lay.usedMm > 0 ? formatLength(Math.round(lay.usedMm), units) : '–'}
        {complete.length > 1 && lay.verdict === 'fits' && lay.usedMm > 0 && most - least > SAME_MM && (
          <span class={more <= SAME_MM ? 'tag good' : 'faint'}>
            {' '}
            {more <= SAME_MM ? t.plan.best : t.plan.more(formatLength(Math.round(more), units))}
          </span>
        )}
      </td>
      <td>{lay.usedMm > 0 ? formatPurchase(lay.buyMm, units) : '–'}</td>
      <td>{showPercent(lay.usePercent)}</td>
      <td>
        {lay.verdict === 'fits'
          ? t.plan.standsWhole
          : open > 0
            ? t.plan.standsOpen(open)
            : t.plan.standsBroken}
      </td>
    </tr>
  );
}
