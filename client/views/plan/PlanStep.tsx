import { useEffect, useRef, useState } from 'preact/hooks';
import { setsTimes } from '../../../pattern/cutList/index.ts';
import type { ClothLay, Material, Project } from '../../../pattern/exchange/project.ts';
import { bestOnRoll, laysToCut, rollToCut } from '../../../pattern/output/bestLays.ts';
import { Select } from '../../fields/Choice.tsx';
import { readLayAddress } from '../../state/handCommands.ts';
import { lacksOf } from '../../state/lacks.ts';
import { keepPlan, materialsToCut } from '../../state/layCommands.ts';
import { laysOf } from '../../state/planView.ts';
import { showDate, showMoney, t } from '../../strings/index.ts';
import { formatLength, formatPurchase } from '../../strings/lengths.ts';
import { CureLink } from '../shared/CureLink.tsx';
import { EmptyState } from '../shared/EmptyState.tsx';
import { useAddress, useBench, useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { Lacks } from '../shared/Lacks.tsx';
import { lazyView } from '../shared/lazyView.tsx';
import { PrintSheets } from '../take/PrintSheets.tsx';
import { boughtInWords } from './buyWords.ts';
import { KeptPlans } from './KeptPlans.tsx';
import { EFFORTS, effortChosen, useLayOut } from './layOut.ts';
import { MaterialPlan } from './MaterialPlan.tsx';
import { TakeToTable } from './TakeToTable.tsx';

const HandEditor = lazyView(async () => (await import('./hand/HandEditor.tsx')).HandEditor);

export function PlanStep() {
  const { route } = useBench();
  const project = useProject();
  const address = readLayAddress(useStore(route).open);
  return address ? <HandEditor project={project} address={address} /> : <Plans project={project} />;
}

function Plans({ project }: { readonly project: Project }) {
  const session = useSession();
  const run = useStore(session.lay.state);
  const lacks = lacksOf(project);
  const ready = materialsToCut(project).filter((material) =>
    project.cloths.some((cloth) => cloth.materialId === material.id),
  );
  const unsettled = [...lacks.pieces, ...lacks.cutlist, ...lacks.cloths];
  const lays = ready.map((material) => laysOf(project, material.id, run));
  const shown = lays.flatMap(({ results }) => results);
  const isLaid = run.kind !== 'running' && shown.some((lay) => lay.segments.some((s) => s.placed.length > 0));
  return (
    <div class="step-body">
      <header class="step-head">
        <h2>{t.plan.title}</h2>
        <p class="lead">{t.plan.lead}</p>
      </header>
      <Lacks lacks={unsettled} />
      {ready.length === 0 ? (
        <EmptyState step="plan">
          <Beginning project={project} />
        </EmptyState>
      ) : (
        <>
          <RunBar materialIds={ready.map((material) => material.id)} />
          <Notices told={new Set(unsettled.map(({ text }) => text))} />
          <Altogether project={project} />
          {isLaid && <TakeToTable isStale={lays.some(({ standing }) => standing === 'outOfDate')} />}
          {ready.map((material) => (
            <MaterialPlan key={material.id} project={project} material={material} />
          ))}
          <KeptPlans project={project} />
        </>
      )}
      <PrintSheets project={project} lays={laysToCut(project, shown)} />
    </div>
  );
}

/** Where to begin when nothing can be laid out: the first step that has nothing in it. */
function Beginning({ project }: { readonly project: Project }) {
  const address = useAddress();
  const step =
    project.pieces.length === 0 ? 'pieces' : materialsToCut(project).length === 0 ? 'cutlist' : 'cloths';
  return (
    <a class="button" href={address(step)}>
      {t.lacks.goToStep(t.steps.name[step])}
    </a>
  );
}

/** Start, stop, how long to look, and what is going on. */
function RunBar({ materialIds }: { readonly materialIds: readonly string[] }) {
  const session = useSession();
  const project = useProject();
  const run = useStore(session.lay.state);
  const effort = useStore(effortChosen);
  const layOut = useLayOut();
  const isRunning = run.kind === 'running';
  const hasLays = materialIds.some((id) => laysOf(project, id, run).results.length > 0);
  const keep = (): void => {
    const name = t.plan.keepDefault(showDate(new Date()));
    session.do(keepPlan(project, name, new Date().toISOString()));
    session.announce(t.plan.keptAs(name));
  };
  return (
    <section class="run-bar panel" aria-label={t.plan.layOut} data-spot="run">
      <div class="row">
        {isRunning ? (
          <button type="button" class="primary" onClick={() => void session.lay.stop()}>
            <Icon name="stop" />
            {t.plan.stop}
          </button>
        ) : (
          <button type="button" class="primary" onClick={() => layOut(materialIds)}>
            {hasLays ? t.plan.againAll : t.plan.layOutAll}
          </button>
        )}
        <div data-spot="effort">
          <Select
            label={t.plan.effort}
            value={effort}
            options={EFFORTS.map((value) => ({
              value,
              label: t.plan.efforts[value],
            }))}
            onChange={(value) => effortChosen.set(value)}
          />
        </div>
        {hasLays && !isRunning && (
          <div class="buttons">
            <button type="button" onClick={keep}>
              <Icon name="keep" />
              {t.plan.keep}
            </button>
            <button type="button" title={t.plan.printHelp} onClick={() => print()}>
              <Icon name="print" />
              {t.plan.print}
            </button>
          </div>
        )}
      </div>
      <p class="field-help">{t.plan.effortHelp}</p>
      <Progress />
    </section>
  );
}

/** Spoken no more often than this, so that a screen reader can finish its sentence. */
const SPOKEN_EVERY_MS = 4_000;

function Progress() {
  const session = useSession();
  const { units } = useProject();
  const run = useStore(session.lay.state);
  const [spoken, setSpoken] = useState('');
  const [now, setNow] = useState(() => performance.now());
  const startedAt = useRef(0);
  const isRunning = run.kind === 'running';
  const found = run.kind === 'running' || run.kind === 'ended' ? run.lay : null;
  const best = found ? bestOnRoll(found.results) : null;
  const text =
    run.kind === 'ended'
      ? run.lay.state === 'cancelled'
        ? t.plan.stopped
        : t.plan.ended
      : best
        ? t.plan.better(formatPurchase(best.usedMm, units))
        : '';
  const latest = useRef(text);
  latest.current = text;

  useEffect(() => {
    if (!isRunning) {
      setSpoken(latest.current);
      return;
    }
    startedAt.current = performance.now();
    setNow(performance.now());
    const tick = setInterval(() => setNow(performance.now()), 500);
    const speak = setInterval(() => setSpoken(latest.current), SPOKEN_EVERY_MS);
    return () => {
      clearInterval(tick);
      clearInterval(speak);
    };
  }, [isRunning]);

  const seconds = Math.max(0, Math.round((now - startedAt.current) / 1000));
  return (
    <div class="progress">
      {run.kind === 'running' && (
        <>
          <progress aria-label={t.plan.layOut} />
          <span>
            {run.lay === null
              ? t.plan.starting
              : run.lay.state === 'queued'
                ? t.plan.queued
                : t.plan.running(t.plan.secondsSoFar(seconds))}
          </span>
        </>
      )}
      {run.kind === 'ended' && (
        <span>
          <Icon name="settled" /> {text}
        </span>
      )}
      {run.kind === 'failed' && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>{t.plan.failed(run.reason)}</span>
        </p>
      )}
      <span class="sr" role="status">
        {spoken}
      </span>
    </div>
  );
}

/** What the last lay had to say, each line leading to what it is about. */
function Notices({ told }: { readonly told: ReadonlySet<string | undefined> }) {
  const session = useSession();
  const run = useStore(session.lay.state);
  const all = run.kind === 'running' || run.kind === 'ended' ? (run.lay?.notices ?? []) : [];
  // What stands among the things to settle is not said twice.
  const notices = all.filter(({ text }) => !told.has(text));
  if (notices.length === 0) return null;
  const isBad = notices.some((notice) => notice.level === 'error');
  return (
    <section class={isBad ? 'lacks bad' : 'lacks'} aria-label={t.plan.notices}>
      <h3>
        <Icon name="lacking" />
        {t.plan.notices}
      </h3>
      <ul>
        {notices.map((notice) => (
          <li key={`${notice.code} ${notice.text}`}>
            <span>{notice.text}</span>
            <CureLink notice={notice} />
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The shopping list: what to buy of each material, taking the better way to lay it. */
function Altogether({ project }: { readonly project: Project }) {
  const run = useStore(useSession().lay.state);
  const lines = materialsToCut(project).flatMap((material) => {
    const { results, standing } = laysOf(project, material.id, run);
    if (results.length === 0) return [];
    const { roll } = rollToCut(project, material.id, results);
    const best = roll?.verdict === 'fits' && roll.usedMm > 0 ? roll : null;
    const fromRemnants = results.some(
      (lay) => lay.usedMm === 0 && lay.segments.some((s) => s.placed.length > 0),
    );
    const isEnough = results.some((lay) => lay.usedMm === 0 && lay.verdict === 'fits');
    const isHad = project.cloths.some(({ id, shelfId }) => id === best?.clothId && shelfId !== undefined);
    return [{ material, best, fromRemnants, isEnough, isHad, isOld: standing === 'outOfDate' }];
  });
  if (lines.length === 0) return null;
  const bought = lines.filter(({ isHad }) => !isHad);
  const priced = bought.filter(
    ({ best }) => best !== null && best.costCents !== null && best.verdict === 'fits',
  );
  const cost = priced.reduce((sum, line) => sum + (line.best?.costCents ?? 0), 0);
  // A layout out of date was made for other counts.
  const times = lines.some(({ isOld }) => isOld) ? 1 : setsTimes(project);
  return (
    <section class="altogether" aria-label={t.plan.total}>
      <h3>{t.plan.totalBuy}</h3>
      <ul>
        {lines.map(({ material, best, fromRemnants, isEnough, isHad, isOld }) => (
          <li key={material.id}>
            <span>{material.name}</span>
            <strong class={isOld ? 'amount old-figure' : 'amount'}>
              {best && !isHad
                ? formatPurchase(best.buyMm, project.units)
                : isEnough || isHad
                  ? t.plan.nothingToBuy
                  : t.plan.openYet}
            </strong>
            <span class="faint">
              {[
                best && isHad ? `${formatLength(best.usedMm, project.units)} ${t.shopping.shelf('')}` : '',
                best && best.spread !== 'single' ? t.plan.spreadNames[best.spread] : '',
                best && fromRemnants ? t.plan.andRemnant : '',
                !best && isEnough ? t.plan.enough : '',
                isOld ? t.plan.outOfDate : '',
              ]
                .filter((part) => part !== '')
                .join(', ')}
            </span>
            {best && !isHad && <Sum project={project} lay={best} />}
          </li>
        ))}
      </ul>
      {priced.length > 0 && (
        <p>
          {t.plan.totalCost(showMoney(cost), times, showMoney(Math.round(cost / times)))}{' '}
          <NotInTotal project={project} lines={lines} />
        </p>
      )}
    </section>
  );
}

/** How a length to buy adds up, under it. */
function Sum({ project, lay }: { readonly project: Project; readonly lay: ClothLay }) {
  const roll = project.cloths.find(({ id }) => id === lay.clothId);
  if (roll?.kind !== 'roll') return null;
  return <span class="sum">{boughtInWords(lay, roll, project.units)}</span>;
}

interface NotInTotalProps {
  readonly project: Project;
  readonly lines: readonly {
    readonly material: Material;
    readonly best: ClothLay | null;
    readonly isEnough: boolean;
    /** From the shelf: not bought. */
    readonly isHad: boolean;
  }[];
}

/** What the sum leaves out, and why: materials that are not laid out, not settled, or without a price. */
function NotInTotal({ project, lines }: NotInTotalProps) {
  const address = useAddress();
  const priceless: { readonly name: string; readonly clothId: string }[] = [];
  const left = materialsToCut(project).flatMap(({ id, name }) => {
    const line = lines.find(({ material }) => material.id === id);
    if (!line) return [t.plan.leftOut.notLaid(name)];
    const { best, isEnough, isHad } = line;
    if (isHad) return [];
    if (best === null) return isEnough ? [] : [t.plan.leftOut.open(name)];
    if (best.verdict !== 'fits') return [t.plan.leftOut.notWhole(name)];
    if (best.costCents !== null) return [];
    priceless.push({ name, clothId: best.clothId });
    return [t.plan.leftOut.noPrice(name)];
  });
  if (left.length === 0) return null;
  return (
    <>
      <strong>{t.plan.leftOut.say(left)}</strong>{' '}
      {priceless.map(({ name, clothId }) => (
        <span key={clothId}>
          <a class="go" href={address('cloths', clothId, 'price')}>
            {t.plan.leftOut.toPrice(name)}
          </a>{' '}
        </span>
      ))}
    </>
  );
}
