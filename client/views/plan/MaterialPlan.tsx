import { useMemo, useState } from 'preact/hooks';
import { whyNotSpread } from '../../../nesting/cloth/index.ts';
import {
  type Cloth,
  type ClothLay,
  type LayChoice,
  type Material,
  type Project,
  type Roll,
  SPREADS,
  type Spread,
} from '../../../pattern/exchange/project.ts';
import { demandsFor } from '../../../pattern/lay/demands.ts';
import { usableRoll } from '../../../pattern/lay/spreading.ts';
import { byCloth, rollToCut } from '../../../pattern/output/bestLays.ts';
import { Select, Tick } from '../../fields/Choice.tsx';
import { choiceFor, chooseLay } from '../../state/layCommands.ts';
import { laysOf } from '../../state/planView.ts';
import { showTime, t } from '../../strings/index.ts';
import { clothInWords } from '../cloths/ClothsStep.tsx';
import { useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { WhatToBuy } from '../shop/WhatToBuy.tsx';
import { BlockPart } from './BlockPart.tsx';
import { CompareTable } from './CompareTable.tsx';
import { useLayOut } from './layOut.ts';
import { ResultCard } from './ResultCard.tsx';

interface MaterialPlanProps {
  readonly project: Project;
  readonly material: Material;
}

/** One material: how it is to be laid, and its layouts. */
export function MaterialPlan({ project, material }: MaterialPlanProps) {
  const session = useSession();
  const run = useStore(session.lay.state);
  const layOut = useLayOut();
  const { results, standing, madeAt } = laysOf(project, material.id, run);
  const choice = choiceFor(project, material.id);
  return (
    <section class="material-plan" aria-label={material.name} data-spot={`plan-${material.id}`}>
      <header class="material-plan-head">
        <h3>
          {material.name} <span class="faint">{t.cutList.roles[material.role]}</span>
        </h3>
        {standing === 'outOfDate' && (
          <span class="tag warn" title={t.plan.outOfDateHelp}>
            <Icon name="lacking" />
            {t.plan.outOfDate}
          </span>
        )}
        {standing === 'fresh' && madeAt !== null && (
          <span class="tag">
            <Icon name="settled" />
            {t.plan.madeAt(showTime(madeAt))}
          </span>
        )}
        {standing !== 'running' && (
          <button
            type="button"
            class={standing === 'fresh' ? 'quiet' : ''}
            aria-label={
              results.length === 0 ? t.plan.layOutOne(material.name) : t.plan.againOne(material.name)
            }
            onClick={() => layOut([material.id])}
          >
            {results.length === 0 ? t.plan.layOut : t.plan.again}
          </button>
        )}
      </header>
      {standing === 'outOfDate' && <p class="field-help">{t.plan.outOfDateHelp}</p>}
      <LayChoicePart project={project} material={material} choice={choice} />
      {standing === 'running' && results.length === 0 && <p class="waiting">{t.plan.starting}</p>}
      {standing === 'fresh' && results.length === 0 && <p>{t.cutList.allElsewhere}</p>}
      {byCloth(project, results).map(({ cloth, lays }) => (
        <ClothLays
          key={cloth.id}
          project={project}
          cloth={cloth}
          lays={lays}
          isLive={standing === 'running'}
          isStale={standing === 'outOfDate'}
        />
      ))}
      <BlockPart project={project} material={material} />
      <WhatToBuy project={project} material={material} />
    </section>
  );
}

interface ClothLaysProps {
  readonly project: Project;
  readonly cloth: Cloth;
  readonly lays: readonly ClothLay[];
  readonly isLive: boolean;
  readonly isStale: boolean;
}

/** What one cloth gives: a layout, or several ways to spread it side by side with one of them shown. */
function ClothLays({ project, cloth, lays, isLive, isStale }: ClothLaysProps) {
  const [chosen, setChosen] = useState<Spread | null>(null);
  const best = rollToCut(project, cloth.materialId, lays).roll;
  const shown = lays.find(({ spread }) => spread === chosen) ?? best;
  const card = (lay: ClothLay) => (
    <ResultCard
      key={`${lay.clothId} ${lay.spread}`}
      project={project}
      cloth={cloth}
      lay={lay}
      isLive={isLive}
      isStale={isStale}
    />
  );
  if (!shown || cloth.kind !== 'roll' || lays.length < 2) return <div class="results">{lays.map(card)}</div>;
  return (
    <div>
      <CompareTable
        project={project}
        roll={cloth}
        lays={lays}
        shown={shown.spread}
        onShow={setChosen}
        isLive={isLive}
      />
      <div class="results">{card(shown)}</div>
    </div>
  );
}

interface LayChoicePartProps extends MaterialPlanProps {
  readonly choice: LayChoice;
}

function LayChoicePart({ project, material, choice }: LayChoicePartProps) {
  const session = useSession();
  const cloths = project.cloths.filter((cloth) => cloth.materialId === material.id);
  const rolls = cloths.filter((cloth) => cloth.kind === 'roll');
  const canFold = rolls.some((roll) => roll.foldable);
  const set = (patch: Partial<LayChoice>): void => session.do(chooseLay(project, { ...choice, ...patch }));
  const isMixed = rolls.length > 0 && rolls.length < cloths.length;
  return (
    <div class="lay-choice" data-spot={`choice-${material.id}`}>
      {cloths.length > 1 && (
        <fieldset class="choice">
          <legend>{t.plan.cloths}</legend>
          {cloths.map((cloth) => {
            const isOn = choice.clothIds.includes(cloth.id);
            return (
              <Tick
                key={cloth.id}
                label={`${cloth.name} (${clothInWords(cloth, project.units)})`}
                on={isOn}
                disabled={isOn && choice.clothIds.length === 1}
                onChange={(on) =>
                  set({
                    clothIds: cloths
                      .filter((other) => (other.id === cloth.id ? on : choice.clothIds.includes(other.id)))
                      .map((other) => other.id),
                  })
                }
              />
            );
          })}
          {isMixed && <p class="field-help">{t.plan.remnantsFirst}</p>}
        </fieldset>
      )}
      {canFold && (
        <Select
          label={t.plan.spread}
          value={choice.spread}
          help={t.plan.spreadHelp[choice.spread]}
          options={(['compare', ...SPREADS] as const).map((value) => ({
            value,
            label: value === 'compare' ? t.plan.compareAll : t.plan.spreadNames[value],
          }))}
          onChange={(spread) => set({ spread })}
        />
      )}
      {choice.spread !== 'compare' && choice.spread !== 'single' && (
        <RefusedSpread project={project} materialId={material.id} spread={choice.spread} rolls={rolls} />
      )}
      {rolls.some((roll) => roll.repeat !== null) && (
        <Tick
          label={t.plan.withoutRepeat}
          help={t.plan.withoutRepeatHelp}
          on={choice.withoutRepeat === true}
          onChange={(withoutRepeat) => set({ withoutRepeat })}
        />
      )}
    </div>
  );
}

interface RefusedSpreadProps {
  readonly project: Project;
  readonly materialId: string;
  readonly spread: Spread;
  readonly rolls: readonly Roll[];
}

/** Why a cloth may not lie as it is chosen to, said before it is laid. */
function RefusedSpread({ project, materialId, spread, rolls }: RefusedSpreadProps) {
  const { pieces, cutList, materials, matches, sets } = project;
  const demands = useMemo(
    () => demandsFor(project, materialId).demands,
    [pieces, cutList, materials, matches, sets, materialId],
  );
  const refused = rolls.flatMap((roll) => {
    const why = demands.length === 0 ? null : whyNotSpread(usableRoll(roll, demands), spread);
    return why === null ? [] : [{ roll, why }];
  });
  if (refused.length === 0) return null;
  return (
    <div role="status">
      {refused.map(({ roll, why }) => (
        <p key={roll.id} class="field-fault">
          {t.plan.refused(roll.name, t.plan.whyNot[why])}
        </p>
      ))}
    </div>
  );
}
