import type { Cloth, ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { isNotToBeHeated } from '../../../pattern/plan/caution.ts';
import { keepForHand, writeLayAddress } from '../../state/handCommands.ts';
import { currentPlan } from '../../state/layCommands.ts';
import { showMoney, showPercent, t } from '../../strings/index.ts';
import { formatLength, formatPurchase } from '../../strings/lengths.ts';
import { WhatWouldFit } from '../enough/WhatWouldFit.tsx';
import { useGo, useSession } from '../shared/hooks.ts';
import { Icon, type IconName } from '../shared/Icon.tsx';
import { ItIsCut } from '../shelf/ItIsCut.tsx';
import { KeepWithCloth } from '../shelf/KeepWithCloth.tsx';
import { boughtInWords, costInWords } from './buyWords.ts';
import { LayPicture } from './LayPicture.tsx';
import { LayFiles } from './TakeToTable.tsx';

interface ResultCardProps {
  readonly project: Project;
  readonly cloth: Cloth;
  readonly lay: ClothLay;
  /** A better one may arrive any moment. */
  readonly isLive: boolean;
  /** Something it was made from has changed. */
  readonly isStale: boolean;
  /** The kept plan it belongs to, if it does. */
  readonly planId?: string | undefined;
}

/** One cloth laid one way: what it takes, how it looks, what has no place. */
export function ResultCard({ project, cloth, lay, isLive, isStale, planId }: ResultCardProps) {
  const spread = t.plan.spreadNames[lay.spread];
  const hasPlaced = lay.segments.some((segment) => segment.placed.length > 0);
  return (
    <article class="result" aria-label={`${cloth.name}, ${spread}`}>
      <div class="result-facts">
        <header class="result-head">
          <h4>
            {cloth.name} {cloth.kind === 'roll' && <span class="faint">{spread}</span>}
          </h4>
        </header>
        <Verdict lay={lay} cloth={cloth} isLive={isLive} />
        <HeatCaution project={project} cloth={cloth} />
        {cloth.kind === 'roll' && lay.usedMm > 0 && <Bought project={project} lay={lay} roll={cloth} />}
        {hasPlaced && (
          <dl class="figures">
            <Figure name={t.plan.use} value={showPercent(lay.usePercent)} help={t.plan.useHelp} />
            <Figure
              name={t.plan.trace}
              value={t.plan.traceCount(lay.piecesToTrace)}
              help={t.plan.traceHelp}
            />
            {lay.costCents !== null && cloth.kind === 'roll' && (
              <Figure
                name={t.plan.cost}
                value={showMoney(lay.costCents)}
                help={costInWords(lay, cloth, project.units) ?? undefined}
              />
            )}
          </dl>
        )}
        {lay.verdict !== 'fits' && !isLive && !isStale && planId === undefined && (
          <WhatWouldFit project={project} cloth={cloth} />
        )}
        {lay.unplaced.length > 0 && <Unplaced project={project} lay={lay} />}
        {hasPlaced && !isLive && !isStale && <ByHand project={project} lay={lay} planId={planId} />}
        {hasPlaced && !isLive && !isStale && <KeepWithCloth project={project} cloth={cloth} lay={lay} />}
        {hasPlaced && !isLive && !isStale && <ItIsCut project={project} cloth={cloth} lay={lay} />}
        {hasPlaced && !isLive && (
          <LayFiles project={project} lay={lay} planId={planId} clothName={cloth.name} isStale={isStale} />
        )}
      </div>
      {hasPlaced && <LayPicture project={project} lay={lay} label={t.plan.drawing(cloth.name, spread)} />}
    </article>
  );
}

const VERDICT_SIGN: Readonly<Record<ClothLay['verdict'], IconName>> = {
  fits: 'settled',
  'cannot fit': 'close',
  'not found': 'lacking',
};
const VERDICT_CLASS: Readonly<Record<ClothLay['verdict'], string>> = {
  fits: 'good',
  'cannot fit': 'bad',
  'not found': 'warn',
};

function Verdict({ lay, cloth, isLive }: Pick<ResultCardProps, 'lay' | 'cloth' | 'isLive'>) {
  const isStillLooking = isLive && lay.verdict === 'not found';
  const text = lay.reason ?? (lay.verdict === 'fits' ? t.plan.verdictFits : t.plan.verdictNotFound);
  return (
    <div class={`verdict ${VERDICT_CLASS[lay.verdict]} ${cloth.kind === 'remnant' ? 'large' : ''}`}>
      <Icon name={VERDICT_SIGN[lay.verdict]} />
      <p>
        <strong>{isStillLooking ? t.plan.stillLooking : t.plan.verdict[lay.verdict]}</strong> {text}
      </p>
    </div>
  );
}

/** Opens the layout to be arranged by hand; one that was found is copied first. */
function ByHand({ project, lay, planId }: Pick<ResultCardProps, 'project' | 'lay' | 'planId'>) {
  const session = useSession();
  const go = useGo();
  const open = (): void => {
    const { materialId, clothId, spread } = lay;
    if (planId !== undefined) {
      go('plan', writeLayAddress({ planId, clothId, spread }));
      return;
    }
    const plan = currentPlan(project, materialId);
    if (!plan) return;
    const material = project.materials.find(({ id }) => id === materialId)?.name ?? materialId;
    const nameOf = (number: number): string => t.hand.planName(material, number);
    const kept = keepForHand(project, plan, materialId, nameOf, new Date().toISOString());
    session.do(kept.command);
    go('plan', writeLayAddress({ planId: kept.planId, clothId, spread }));
  };
  return (
    <div>
      <button type="button" title={planId === undefined ? t.hand.openHelp : undefined} onClick={open}>
        <Icon name="hand" />
        {t.hand.open}
      </button>
    </div>
  );
}

/** Only where the cloth gives off harmful fumes when it is heated: blades every maker knows. */
function HeatCaution({ project, cloth }: Pick<ResultCardProps, 'project' | 'cloth'>) {
  const material = project.materials.find((entry) => entry.id === cloth.materialId);
  if (!isNotToBeHeated(material, cloth)) return null;
  return (
    <p class="caution">
      <Icon name="lacking" /> {t.plan.noHeat}
    </p>
  );
}

/** Less to spare than this is none: nobody cuts so straight. Millimetres. */
const LEAST_SPARE_MM = 1;

interface BoughtProps {
  readonly project: Project;
  readonly lay: ClothLay;
  readonly roll: Extract<Cloth, { kind: 'roll' }>;
}

function Bought({ project, lay, roll }: BoughtProps) {
  const { units } = project;
  return (
    <div class="bought">
      <p class="bought-figure">
        <span class="faint">{t.plan.buy}</span> <strong>{formatPurchase(lay.buyMm, units)}</strong>{' '}
        <span class="faint">{t.plan.offTheRoll(formatLength(roll.widthMm, units))}</span>
      </p>
      <p class="faint">
        {boughtInWords(lay, roll, units)}
        {lay.buyMm - lay.usedMm >= LEAST_SPARE_MM &&
          t.plan.spare(formatLength(Math.floor(lay.buyMm - lay.usedMm), units))}
      </p>
      {lay.washedMm !== undefined && (
        <p class="faint">{t.plan.washed(formatLength(Math.round(lay.washedMm), units))}</p>
      )}
      {lay.withoutRepeatMm !== undefined && (
        <p>
          {t.plan.repeatCosts(
            formatLength(Math.max(0, Math.round(lay.usedMm - lay.withoutRepeatMm)), units),
            formatLength(Math.round(lay.withoutRepeatMm), units),
          )}
        </p>
      )}
      {lay.atLeastMm !== undefined && lay.verdict === 'fits' && (
        <p class="faint">{t.plan.atLeast(formatPurchase(lay.atLeastMm, units))}</p>
      )}
    </div>
  );
}

interface FigureProps {
  readonly name: string;
  readonly value: string;
  readonly help?: string | undefined;
}

function Figure({ name, value, help }: FigureProps) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {value}
        {help !== undefined && (
          <details class="figure-help">
            <summary>{t.common.help}</summary>
            <p>{help}</p>
          </details>
        )}
      </dd>
    </div>
  );
}

function Unplaced({ project, lay }: Pick<ResultCardProps, 'project' | 'lay'>) {
  const nameOf = (id: string): string => project.pieces.find((piece) => piece.id === id)?.name ?? id;
  return (
    <section class="unplaced">
      <h5>{t.plan.unplaced}</h5>
      <ul class="plain-list">
        {lay.unplaced.map((entry) => (
          <li key={`${entry.pieceId} ${entry.plain} ${entry.mirrored} ${entry.onFold}`}>
            {t.plan.unplacedLine(
              nameOf(entry.pieceId),
              t.cutList.totalHands(entry.plain, entry.mirrored, entry.onFold, 0),
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
