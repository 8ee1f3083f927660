import { useState } from 'preact/hooks';
import type { Plan, Project } from '../../../pattern/exchange/project.ts';
import { bestOnRoll, byCloth } from '../../../pattern/output/bestLays.ts';
import { NameField } from '../../fields/TextField.tsx';
import { isKeptOutOfDate, keptPlans, removePlan, renamePlan, usePlan } from '../../state/layCommands.ts';
import { showTime, t } from '../../strings/index.ts';
import { formatPurchase } from '../../strings/lengths.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { KeptCompare } from './KeptCompare.tsx';
import { ResultCard } from './ResultCard.tsx';

/** Plans kept under a name, to come back to. */
export function KeptPlans({ project }: { readonly project: Project }) {
  const plans = keptPlans(project);
  if (plans.length === 0) return null;
  return (
    <section class="kept" aria-label={t.plan.kept}>
      <h3>{t.plan.kept}</h3>
      <KeptCompare project={project} plans={plans} />
      <ul class="plain-list">
        {plans.map((plan) => (
          <li key={plan.id} class="panel">
            <KeptPlan project={project} plan={plan} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function KeptPlan({ project, plan }: { readonly project: Project; readonly plan: Plan }) {
  const session = useSession();
  const [isOpen, setOpen] = useState(false);
  const use = (): void => {
    session.do(usePlan(plan, new Date().toISOString()));
    session.announce(t.plan.usedKept(plan.name));
  };
  const buys = project.materials.flatMap((material) => {
    const best = bestOnRoll(plan.results.filter((lay) => lay.materialId === material.id));
    return best ? [`${material.name} ${formatPurchase(best.buyMm, project.units)}`] : [];
  });
  return (
    <>
      <div class="row">
        <NameField
          label={t.plan.keepName}
          hideLabel
          value={plan.name}
          onChange={(name) => session.do(renamePlan(plan, name))}
        />
        {isKeptOutOfDate(project, plan) && (
          <span class="tag warn" title={t.plan.outOfDateHelp}>
            <Icon name="lacking" />
            {t.plan.outOfDate}
          </span>
        )}
        <button type="button" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          {isOpen ? t.plan.keptHide : t.plan.keptShow}
        </button>
        <button type="button" title={t.plan.useKeptHelp} onClick={use}>
          {t.plan.useKept}
        </button>
        <button type="button" class="quiet danger" onClick={() => session.do(removePlan(plan))}>
          {t.common.remove}
        </button>
      </div>
      <p class="faint">
        {showTime(plan.createdAt)}
        {buys.length > 0 && `: ${t.plan.keptLine(buys.join(', '))}`}
      </p>
      {isOpen && (
        <div class="results">
          {byCloth(project, plan.results).flatMap(({ cloth, lays }) =>
            lays.map((lay) => (
              <ResultCard
                key={`${lay.clothId} ${lay.spread}`}
                project={project}
                cloth={cloth}
                lay={lay}
                isLive={false}
                isStale={isKeptOutOfDate(project, plan)}
                planId={plan.id}
              />
            )),
          )}
        </div>
      )}
    </>
  );
}
