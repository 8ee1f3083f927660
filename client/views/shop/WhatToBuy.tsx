import { useState } from 'preact/hooks';
import type { Material, Project } from '../../../pattern/exchange/project.ts';
import type { Basket, BasketLine, Offer } from '../../../pattern/exchange/whatToBuy.ts';
import { freshId } from '../../state/ids.ts';
import { choiceFor } from '../../state/layChoice.ts';
import { offersFor, setOffers, takeBasket } from '../../state/shopCommands.ts';
import { showMoney, t } from '../../strings/index.ts';
import { formatLength, formatPurchase } from '../../strings/lengths.ts';
import { LayPicture } from '../plan/LayPicture.tsx';
import { CureLink } from '../shared/CureLink.tsx';
import { useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { HidesPart } from './HidesPart.tsx';
import { OfferFields } from './OfferFields.tsx';

interface WhatToBuyProps {
  readonly project: Project;
  readonly material: Material;
}

/** What shops have of a material's cloth, and the cheapest ways to buy it. */
export function WhatToBuy({ project, material }: WhatToBuyProps) {
  const session = useSession();
  const run = useStore(session.buying.state);
  const offers = offersFor(project, material.id);
  const isMine = run.kind !== 'idle' && run.asked.materialId === material.id;
  const set = (next: readonly Offer[], together?: string): void =>
    session.do(setOffers(material, next, together));
  const ask = (): void =>
    session.attempt(() =>
      session.buying.ask({ project, materialId: material.id }, choiceFor(project, material.id), offers),
    );
  return (
    <details class="help what-to-buy">
      <summary>{t.shop.titleFor(material.name)}</summary>
      <div class="offers">
        <p class="field-help">{t.shop.lead}</p>
        {offers.map((offer, i) => (
          <OfferFields
            key={offer.id}
            offer={offer}
            onChange={(next) => set(offers.with(i, next), `offer ${offer.id}`)}
            onRemove={() => set(offers.toSpliced(i, 1))}
          />
        ))}
        <div class="buttons">
          <button type="button" onClick={() => set([...offers, newRoll(offers, project, material)])}>
            <Icon name="plus" />
            {t.shop.addRoll}
          </button>
          <button type="button" onClick={() => set([...offers, newSheet(offers)])}>
            <Icon name="plus" />
            {t.shop.addSheet}
          </button>
          {run.kind === 'running' && isMine ? (
            <button type="button" onClick={() => session.attempt(() => session.buying.stop())}>
              <Icon name="stop" />
              {t.shop.stop}
            </button>
          ) : (
            <button type="button" class="primary" disabled={offers.length === 0} onClick={ask}>
              {t.shop.ask}
            </button>
          )}
        </div>
        {isMine && <Baskets project={project} material={material} />}
        <HidesPart project={project} material={material} />
      </div>
    </details>
  );
}

function newRoll(offers: readonly Offer[], project: Project, material: Material): Offer {
  const like = project.cloths.find((cloth) => cloth.materialId === material.id && cloth.kind === 'roll');
  return {
    kind: 'roll',
    id: freshId('offer'),
    name: t.shop.newRoll(offers.length + 1),
    widthMm: like?.kind === 'roll' ? like.widthMm : 1400,
    selvedgeMm: like?.kind === 'roll' ? like.selvedgeMm : 0,
    stepMm: like?.kind === 'roll' ? like.shopStepMm : 100,
    priceCentsPerMetre: like?.priceCentsPerMetre ?? null,
    leftMm: [],
  };
}

function newSheet(offers: readonly Offer[]): Offer {
  const name = t.shop.newSheet(offers.length + 1);
  // A fat quarter of a metre (firesidefabrics.co.uk, "How fabric is sold").
  return {
    kind: 'sheet',
    id: freshId('offer'),
    name,
    alongMm: 500,
    acrossMm: 550,
    priceCents: null,
    left: null,
  };
}

function Baskets({ project, material }: WhatToBuyProps) {
  const session = useSession();
  const run = useStore(session.buying.state);
  if (run.kind === 'idle') return null;
  if (run.kind === 'failed') {
    return (
      <p class="field-fault" role="alert">
        {run.reason}
      </p>
    );
  }
  const { asked, lay } = run;
  const answer = lay?.buy;
  const faults = lay?.notices.filter(({ level }) => level === 'error') ?? [];
  const isOver = run.kind === 'ended';
  const isStale = project.pieces !== asked.project.pieces || project.cutList !== asked.project.cutList;
  return (
    <div class="baskets">
      <div role="status">
        {faults.map((notice) => (
          <p key={notice.text} class="field-fault">
            {notice.text} <CureLink notice={notice} />
          </p>
        ))}
        {!isOver && <p>{answer ? t.shop.looking(answer.tried, answer.of) : t.shop.starting}</p>}
        {isOver && faults.length === 0 && answer?.baskets.length === 0 && <p>{t.shop.none}</p>}
        {isStale && <p class="field-help">{t.shop.stale}</p>}
      </div>
      {answer?.baskets.map((basket, i) => (
        <BasketCard
          key={JSON.stringify(basket.lines)}
          project={asked.project}
          material={material}
          basket={basket}
          place={i + 1}
          cheapest={answer.baskets[0]?.costCents ?? 0}
        />
      ))}
      {answer && answer.failed.length > 0 && (
        <details class="help">
          <summary>{t.shop.failed}</summary>
          <ul>
            {answer.failed.map(({ names, reason }) => (
              <li key={`${names.join()} ${reason}`}>{t.shop.failedLine(names.join(' + '), reason)}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

interface BasketCardProps extends WhatToBuyProps {
  readonly basket: Basket;
  /** 1: the cheapest. */
  readonly place: number;
  readonly cheapest: number;
}

function BasketCard({ project, material, basket, place, cheapest }: BasketCardProps) {
  const session = useSession();
  const [isShown, setShown] = useState(false);
  const drawn: Project = { ...project, cloths: [...basket.cloths] };
  const laid = basket.results.filter((lay) => lay.segments.some(({ placed }) => placed.length > 0));
  const isFree = basket.lines.every(({ offerId }) => offerId === null);
  return (
    <section class="basket" aria-label={t.shop.basket(place)}>
      <h4>
        {t.shop.basket(place)}: {isFree ? t.shop.nothingToBuy : t.shop.total(showMoney(basket.costCents))}{' '}
        {place > 1 && <span class="faint">{t.shop.dearer(showMoney(basket.costCents - cheapest))}</span>}
      </h4>
      <ul class="plain-list">
        {basket.lines.map((line) => (
          <li key={line.clothId}>
            {lineInWords(line, project.units)}
            {line.spareMm > 0 && (
              <span class="faint">
                {' '}
                ({t.shop.spare(formatLength(Math.floor(line.spareMm), project.units))})
              </span>
            )}
          </li>
        ))}
      </ul>
      <div class="buttons">
        <button
          type="button"
          aria-label={t.shop.takeOf(place)}
          disabled={isFree}
          onClick={() => {
            session.do(takeBasket(material, basket));
            session.announce(t.shop.taken);
          }}
        >
          {t.shop.takeIt}
        </button>
      </div>
      <details class="help" onToggle={(event) => setShown(event.currentTarget.open)}>
        <summary>{t.shop.show}</summary>
        {isShown &&
          laid.map((lay) => (
            <LayPicture
              key={lay.clothId}
              project={drawn}
              lay={lay}
              label={t.shop.picture(basket.cloths.find(({ id }) => id === lay.clothId)?.name ?? '')}
            />
          ))}
      </details>
    </section>
  );
}

function lineInWords(
  { offerId, name, lengthMm, count, costCents }: BasketLine,
  units: Project['units'],
): string {
  if (offerId === null) return count > 1 ? t.shop.ownSheets(name, count) : t.shop.own(name);
  if (lengthMm === 0) return t.shop.sheets(count, name, showMoney(costCents));
  return t.shop.line(formatPurchase(lengthMm, units), name, showMoney(costCents));
}
