import { useEffect, useMemo } from 'preact/hooks';
import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { isLaid, rollToCut } from '../../../pattern/output/bestLays.ts';
import { placementMarks, progressOf, type TickPart, tickParts } from '../../../pattern/output/ticks.ts';
import { Choice, Select, Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { chooseToCut, clearTicks, setTable } from '../../state/cuttingCommands.ts';
import { materialsToCut } from '../../state/layCommands.ts';
import { laysOf } from '../../state/planView.ts';
import { Store } from '../../state/store.ts';
import { t } from '../../strings/index.ts';
import { EmptyState } from '../shared/EmptyState.tsx';
import { useAddress, useProject, useSession, useStore } from '../shared/hooks.ts';
import { FileButton, FilesFault, useFiles } from '../take/FileButton.tsx';
import { PrintSheets } from '../take/PrintSheets.tsx';
import { ClothCutting } from './ClothCutting.tsx';
import { TickList } from './TickList.tsx';

const ORDERS = ['plan', 'material', 'part'] as const;
type Order = (typeof ORDERS)[number];

/** Kept while the maker goes to other steps. */
const orderChosen = new Store<Order>('plan');
const doneHidden = new Store(false);

/** How often a page at the table asks what others have ticked. */
const LOOK_EVERY_MS = 3_000;

/** At the table: what to cut next, and what is cut. */
export function CuttingStep() {
  const project = useProject();
  const address = useAddress();
  const parts = useMemo(() => tickParts(project), [project.cutList, project.pieces, project.materials]);
  const ticks = useMemo(() => new Set(project.cutting.ticks), [project.cutting.ticks]);
  useSharedTicks();
  return (
    <div class="step-body cutting">
      <header class="step-head">
        <h2>{t.cutting.title}</h2>
        <p class="lead">{t.cutting.lead}</p>
      </header>
      {parts.length === 0 ? (
        <EmptyState step="cut">
          <span>{t.cutting.nothing}</span>
          <a class="button" href={address(project.pieces.length === 0 ? 'pieces' : 'cutlist')}>
            {t.lacks.goToStep(t.steps.name[project.pieces.length === 0 ? 'pieces' : 'cutlist'])}
          </a>
        </EmptyState>
      ) : (
        <Bench project={project} parts={parts} ticks={ticks} />
      )}
      <Printed project={project} />
    </div>
  );
}

/** Other pages' ticks show here soon, without being asked for. */
function useSharedTicks(): void {
  const session = useSession();
  useEffect(() => {
    const look = (): void => {
      if (document.visibilityState === 'visible') void session.others.lookForTicks();
    };
    const timer = setInterval(look, LOOK_EVERY_MS);
    return () => clearInterval(timer);
  }, [session]);
}

interface BenchProps {
  readonly project: Project;
  readonly parts: readonly TickPart[];
  readonly ticks: ReadonlySet<string>;
}

function Bench({ project, parts, ticks }: BenchProps) {
  const session = useSession();
  const order = useStore(orderChosen);
  const hideDone = useStore(doneHidden);
  const files = useFiles();
  const now = parts.filter(({ held }) => !held);
  const held = parts.filter((part) => part.held);
  const materials = materialsToCut(project);
  const clear = (): void => {
    session.do(clearTicks());
    session.announce(t.cutting.cleared);
  };
  return (
    <>
      <ProgressPart project={project} parts={parts} ticks={ticks} />
      <section class="panel cutting-bar" aria-label={t.cutting.order}>
        <div class="row">
          <Choice
            label={t.cutting.order}
            value={order}
            options={ORDERS.map((value) => ({ value, label: t.cutting.orders[value] }))}
            onChange={(value) => orderChosen.set(value)}
          />
          {order === 'plan' && (
            <LengthField
              label={t.cutting.table}
              mm={project.cutting.tableMm}
              help={t.cutting.tableHelp}
              onChange={(mm) => session.do(setTable(mm))}
              onClear={() => session.do(setTable(null))}
            />
          )}
        </div>
        <div class="row">
          <Tick label={t.cutting.hideDone} on={hideDone} onChange={(on) => doneHidden.set(on)} />
          <FileButton
            files={files}
            file="ticks.pdf"
            query={{ by: order === 'part' ? 'part' : 'material' }}
            label={t.cutting.paper}
          />
          <button type="button" class="quiet" disabled={ticks.size === 0} onClick={clear}>
            {t.cutting.clear}
          </button>
        </div>
        <FilesFault files={files} />
      </section>
      {order === 'part' && (
        <TickList project={project} parts={byPiece(now)} ticks={ticks} hideDone={hideDone} withMaterial />
      )}
      {order !== 'part' &&
        materials.map((material) => {
          const own = now.filter(({ materialId }) => materialId === material.id);
          return (
            <section key={material.id} class="material-cutting" aria-label={material.name}>
              <h3>{material.name}</h3>
              {order === 'plan' ? (
                <ByPlan
                  project={project}
                  materialId={material.id}
                  parts={parts.filter(({ materialId }) => materialId === material.id)}
                  ticks={ticks}
                  hideDone={hideDone}
                />
              ) : (
                <TickList
                  project={project}
                  parts={own}
                  ticks={ticks}
                  hideDone={hideDone}
                  withMaterial={false}
                />
              )}
            </section>
          );
        })}
      {order !== 'plan' && held.length > 0 && (
        <section class="material-cutting" aria-label={t.cutting.heldTitle}>
          <h3>{t.cutting.heldTitle}</h3>
          <TickList project={project} parts={held} ticks={ticks} hideDone={hideDone} withMaterial />
        </section>
      )}
    </>
  );
}

/** How far it is, in all and by material. */
function ProgressPart({ project, parts, ticks }: BenchProps) {
  const { done, total } = progressOf(parts, ticks);
  const heldLeft = progressOf(
    parts.filter(({ held }) => held),
    ticks,
  );
  return (
    <section class="cutting-progress panel" aria-label={t.cutting.progress(done, total)}>
      <p class="cutting-figure">
        <strong>{t.cutting.progress(done, total)}</strong>
        {heldLeft.total > heldLeft.done && (
          <span class="faint"> {t.cutting.heldLeft(heldLeft.total - heldLeft.done)}</span>
        )}
      </p>
      <progress max={total} value={done} aria-label={t.cutting.progress(done, total)} />
      <ul class="material-progress">
        {materialsToCut(project).map((material) => {
          const own = progressOf(
            parts.filter(({ materialId }) => materialId === material.id),
            ticks,
          );
          const isDone = own.done === own.total;
          return (
            <li key={material.id} class={isDone ? 'done' : undefined}>
              {material.name}{' '}
              <strong>{isDone ? t.cutting.materialDone : t.cutting.left(own.total - own.done)}</strong>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

interface ByPlanProps extends BenchProps {
  readonly materialId: string;
  readonly hideDone: boolean;
}

const keyOf = (lay: ClothLay): string => `${lay.clothId} ${lay.spread}`;

/** Remnants first, then the layout of a roll that is cut. */
function laysOnTable(project: Project, materialId: string, results: readonly ClothLay[]) {
  const laid = results.filter(isLaid);
  const remnants = laid.filter(
    (lay) => project.cloths.find((cloth) => cloth.id === lay.clothId)?.kind === 'remnant',
  );
  const { rolls, roll } = rollToCut(project, materialId, laid);
  return { rolls, roll, lays: roll ? [...remnants, roll] : remnants };
}

/** What the browser prints: the layouts that are cut from here. */
function Printed({ project }: { readonly project: Project }) {
  const run = useStore(useSession().lay.state);
  const lays = materialsToCut(project).flatMap(
    ({ id }) => laysOnTable(project, id, laysOf(project, id, run).results).lays,
  );
  return <PrintSheets project={project} lays={lays} />;
}

function ByPlan({ project, materialId, parts, ticks, hideDone }: ByPlanProps) {
  const session = useSession();
  const run = useStore(session.lay.state);
  const address = useAddress();
  const { results, standing } = laysOf(project, materialId, run);
  const name = project.materials.find(({ id }) => id === materialId)?.name ?? materialId;
  const { rolls, roll, lays } = laysOnTable(project, materialId, results);
  const marks = useMemo(
    () => placementMarks(lays, project),
    [results, roll && keyOf(roll), project.cutList, project.pieces],
  );
  if (lays.length === 0) {
    return (
      <>
        <p class="faint">
          {t.cutting.notLaid} <a href={address('plan')}>{t.cutting.goToPlan}</a>
        </p>
        <TickList project={project} parts={parts} ticks={ticks} hideDone={hideDone} withMaterial={false} />
      </>
    );
  }
  return (
    <>
      {standing === 'outOfDate' && <p class="banner warn">{t.cutting.stale}</p>}
      {rolls.length > 1 && roll && (
        <Select
          label={t.cutting.whichLay}
          help={t.cutting.whichLayHelp}
          value={keyOf(roll)}
          options={rolls.map((lay) => ({
            value: keyOf(lay),
            label: t.cutting.lay(
              project.cloths.find((cloth) => cloth.id === lay.clothId)?.name ?? lay.clothId,
              t.plan.spreadNames[lay.spread],
            ),
          }))}
          onChange={(value) => {
            const lay = rolls.find((entry) => keyOf(entry) === value);
            if (lay) session.do(chooseToCut({ materialId, clothId: lay.clothId, spread: lay.spread }, name));
          }}
        />
      )}
      {lays.map((lay, i) => (
        <ClothCutting
          key={keyOf(lay)}
          project={project}
          lay={lay}
          marks={marks[i] ?? new Map()}
          ticks={ticks}
          hideDone={hideDone}
          isStale={standing === 'outOfDate'}
        />
      ))}
    </>
  );
}

/** Rows of one piece in several materials next to each other. */
function byPiece(parts: readonly TickPart[]): TickPart[] {
  const groups = new Map<string, TickPart[]>();
  for (const part of parts) groups.set(part.pieceId, [...(groups.get(part.pieceId) ?? []), part]);
  return [...groups.values()].flat();
}
