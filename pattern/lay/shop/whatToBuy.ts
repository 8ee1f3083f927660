import type { Solve, StopSignal } from '../../../nesting/index.ts';
import { washed } from '../../cloths/measures.ts';
import { settleProject, totals } from '../../cutList/index.ts';
import type { LayRequest, Notice } from '../../exchange/lay.ts';
import type { ClothLay, LayChoice, Project } from '../../exchange/project.ts';
import type { Basket, BasketLine, BuyAnswer, BuyQuestion, Offer } from '../../exchange/whatToBuy.ts';
import { USUAL_LANGUAGE } from '../../language.ts';
import { roundUpToStep } from '../../units/index.ts';
import { layProject } from '../layProject.ts';
import { choicesOf, type LayProgress } from '../runLay.ts';
import { type LayWords, layWords } from '../words/index.ts';
import { type Bought, type Way, waysToBuy } from './waysToBuy.ts';

export interface BuyProgress extends LayProgress {
  readonly buy: BuyAnswer;
}

/** Lengths closer than this to a whole step count as that step, mm: it can't be measured on cloth. */
const STEP_SLACK_MM = 0.01;
/** The cheapest basket and so many runners-up are kept. */
const RUNNERS_UP = 3;

/**
 * The cheapest baskets of what shops have that serve a material, by real layouts in each width: what is there already
 * is used first, lengths that are not joined are laid on one by one, sheets are bought whole, and lengths are rounded up
 * to the shop's step, never down. `request.seconds` is the time for each way of buying; ways that cannot be cheaper by
 * area alone than those found are left out. Offers without a price are refused before any packing.
 *
 * An aborted `signal` ends it with what is known.
 */
export async function whatToBuy(
  request: LayRequest,
  question: BuyQuestion,
  solve: Solve,
  report: (progress: BuyProgress) => void,
  signal: StopSignal,
): Promise<BuyProgress> {
  const project = settleProject(request.project);
  const search = new BuySearch({ ...request, project }, question, solve, report, signal);
  const faults = faultsOf(project, question, layWords(request.language ?? USUAL_LANGUAGE).buy);
  return faults.length > 0 ? search.refuse(faults) : search.run();
}

/** What must be settled before offers can be compared. */
function faultsOf(project: Project, { materialId, offers }: BuyQuestion, words: LayWords['buy']): Notice[] {
  const fault = (code: string, text: string): Notice => ({ level: 'error', code, text, materialId });
  if (offers.length === 0) return [fault('noOffers', words.noOffers)];
  const used = project.cloths.map(({ id }) => id);
  const twice = offers.find(
    ({ id }, i) => used.includes(id) || offers.findIndex((other) => other.id === id) !== i,
  );
  if (twice) return [fault('offerTwice', words.offerTwice(twice.id, twice.name))];
  const needs = totals(project).find((one) => one.materialId === materialId)?.areaMm2 ?? 0;
  if (needs === 0) return [fault('nothingToCut', words.nothingToCut)];
  return offers.flatMap((offer) => {
    const faults: Notice[] = [];
    if (priceOf(offer) === null) faults.push(fault('noPrice', words.noPrice(offer.name)));
    if (offer.kind === 'roll' && offer.widthMm <= 2 * offer.selvedgeMm)
      faults.push(fault('noUsableCloth', words.noUsableCloth(offer.name)));
    return faults;
  });
}

function priceOf(offer: Offer): number | null {
  return offer.kind === 'roll' ? offer.priceCentsPerMetre : offer.priceCents;
}

class BuySearch {
  readonly #request: LayRequest;
  readonly #question: BuyQuestion;
  readonly #solve: Solve;
  readonly #report: (progress: BuyProgress) => void;
  readonly #signal: StopSignal;
  readonly #areaMm2: number;
  #notices: readonly Notice[] = [];
  #baskets: readonly Basket[] = [];
  readonly #failed: BuyAnswer['failed'][number][] = [];
  #tried = 0;
  #of = 0;

  constructor(
    request: LayRequest,
    question: BuyQuestion,
    solve: Solve,
    report: (progress: BuyProgress) => void,
    signal: StopSignal,
  ) {
    this.#request = request;
    this.#question = question;
    this.#solve = solve;
    this.#report = report;
    this.#signal = signal;
    const { materialId } = question;
    this.#areaMm2 = totals(request.project).find((one) => one.materialId === materialId)?.areaMm2 ?? 0;
  }

  refuse(notices: readonly Notice[]): BuyProgress {
    this.#notices = notices;
    return this.#progress();
  }

  async run(): Promise<BuyProgress> {
    const { project } = this.#request;
    const { materialId, offers } = this.#question;
    const ways = waysToBuy(project, materialId, offers, (offer) =>
      Math.ceil(this.#areaMm2 / (offer.alongMm * offer.acrossMm)),
    );
    // What is there may be enough by itself; then nothing is bought.
    const own = ways[0]?.own ?? [];
    const all: Way[] = own.length > 0 ? [{ own, bought: [] }, ...ways] : ways;
    this.#of = all.length;
    for (const way of all) {
      if (this.#signal.aborted) break;
      if (!this.#isHopeless(way)) await this.#try(way);
      this.#tried += 1;
      this.#report(this.#progress());
      if (this.#baskets.some(({ costCents }) => costCents === 0)) break;
    }
    return this.#progress();
  }

  /** Whether even cloth without any waste would cost more than the baskets there are. */
  #isHopeless({ own, bought }: Way): boolean {
    const worst = this.#baskets[RUNNERS_UP]?.costCents;
    const [only] = bought;
    if (worst === undefined || own.length > 0 || bought.length !== 1 || !only) return false;
    return leastCost(only.offer, this.#areaMm2) >= worst;
  }

  async #try(way: Way): Promise<void> {
    const { materialId } = this.#question;
    const cloths = [...way.own, ...way.bought.map(({ cloth }) => cloth)];
    const others = this.#request.project.cloths.filter((cloth) => cloth.materialId !== materialId);
    const project: Project = { ...this.#request.project, cloths: [...others, ...cloths] };
    const before = choicesOf({ project, choices: this.#request.choices }).find(
      (choice) => choice.materialId === materialId,
    );
    const choice: LayChoice = {
      materialId,
      clothIds: cloths.map(({ id }) => id),
      spread: before?.spread === 'compare' ? 'single' : (before?.spread ?? 'single'),
    };
    const { results } = await layProject(
      { ...this.#request, project, choices: [choice] },
      this.#solve,
      () => {},
      this.#signal,
    );
    const own = results.filter((lay) => lay.materialId === materialId);
    const isServed = own.some(({ verdict }) => verdict === 'fits');
    if (!isServed) {
      const reason = own.find(({ verdict, reason: why }) => verdict !== 'fits' && why)?.reason;
      const names = way.bought.map(({ offer }) => offer.name);
      if (names.length > 0 && !this.#signal.aborted)
        this.#failed.push({
          names: [...new Set(names)],
          reason: reason ?? layWords(this.#request.language ?? USUAL_LANGUAGE).buy.notPlaced,
        });
      return;
    }
    this.#keep(basketOf(way, own, cloths));
  }

  #keep(basket: Basket): void {
    if (this.#baskets.some((other) => isWithin(other, basket))) return;
    const spare = ({ lines }: Basket): number => lines.reduce((sum, { spareMm }) => sum + spareMm, 0);
    this.#baskets = [...this.#baskets.filter((other) => !isWithin(basket, other)), basket]
      .sort((a, b) => a.costCents - b.costCents || spare(a) - spare(b))
      .slice(0, RUNNERS_UP + 1);
  }

  #progress(): BuyProgress {
    return {
      results: this.#baskets[0]?.results ?? [],
      notices: this.#notices,
      buy: { baskets: this.#baskets, tried: this.#tried, of: this.#of, failed: [...this.#failed] },
    };
  }
}

/** Whether a basket has at least all that another has: whoever buys it could have left something at the shop. */
function isWithin(less: Basket, more: Basket): boolean {
  return less.lines.every((line) =>
    more.lines.some(
      (other) =>
        other.offerId === line.offerId &&
        other.clothId === line.clothId &&
        other.lengthMm >= line.lengthMm &&
        other.count >= line.count,
    ),
  );
}

/** What an offer costs if not a thread of it goes to waste, in cents. */
function leastCost(offer: Offer, areaMm2: number): number {
  if (offer.kind === 'roll') return ((offer.priceCentsPerMetre ?? 0) * areaMm2) / (offer.widthMm * 1000);
  return (offer.priceCents ?? 0) * Math.ceil(areaMm2 / (offer.alongMm * offer.acrossMm) - 1e-9);
}

function basketOf(way: Way, results: readonly ClothLay[], cloths: Basket['cloths']): Basket {
  const layOf = (id: string) => results.find(({ clothId }) => clothId === id);
  const sheetsUsed = (id: string) =>
    layOf(id)?.segments.filter(({ placed }) => placed.length > 0).length ?? 0;
  const own = way.own
    .filter(({ id }) => sheetsUsed(id) > 0)
    .map(({ id, name }): BasketLine => {
      return {
        offerId: null,
        clothId: id,
        name,
        lengthMm: 0,
        spareMm: 0,
        count: sheetsUsed(id),
        costCents: 0,
      };
    });
  const bought = way.bought.flatMap((one) => lineOf(one, layOf(one.cloth.id), sheetsUsed(one.cloth.id)));
  const lines = [...own, ...bought];
  return {
    lines,
    costCents: lines.reduce((sum, { costCents }) => sum + costCents, 0),
    cloths,
    results,
  };
}

/** What is paid for one cloth of a basket; nothing where nothing lies on it. */
function lineOf(one: Bought, lay: ClothLay | undefined, sheetsUsed: number): BasketLine[] {
  const { offer, cloth } = one;
  const about = { offerId: offer.id, clothId: cloth.id, name: offer.name };
  if (offer.kind === 'sheet') {
    if (sheetsUsed === 0) return [];
    const costCents = sheetsUsed * (offer.priceCents ?? 0);
    return [{ ...about, lengthMm: 0, spareMm: 0, count: sheetsUsed, costCents }];
  }
  if (!lay || lay.segments.every(({ placed }) => placed.length === 0)) return [];
  const { lengthMm, usedMm } =
    cloth.kind === 'roll' ? bought(cloth.availableMm, lay) : wholeLength(offer, one, lay);
  const costCents = Math.round((lengthMm / 1000) * (offer.priceCentsPerMetre ?? 0));
  return [{ ...about, lengthMm, spareMm: Math.max(0, lengthMm - usedMm), count: 1, costCents }];
}

/** Whole steps, or the whole length where less than a step is left of it. */
function bought(availableMm: number | null, lay: ClothLay): { lengthMm: number; usedMm: number } {
  return { lengthMm: Math.min(lay.buyMm, availableMm ?? Number.POSITIVE_INFINITY), usedMm: lay.usedMm };
}

/** A length laid on as a piece: bought as far as pieces reach, and what it takes to make its ends square. */
function wholeLength(
  offer: Extract<Offer, { kind: 'roll' }>,
  { cloth, soldMm }: Bought,
  lay: ClothLay,
): { lengthMm: number; usedMm: number } {
  const reach = Math.max(
    0,
    ...lay.segments.flatMap(({ placed }) => placed.flatMap(({ outline }) => outline.map(([x]) => x))),
  );
  const { along } = washed(cloth);
  const whole = (lay.segments[0]?.lengthMm ?? reach) / along;
  const sold = soldMm ?? whole;
  const usedMm = Math.min(sold, reach / along + Math.max(0, sold - whole));
  return { lengthMm: Math.min(sold, roundUpToStep(usedMm - STEP_SLACK_MM, offer.stepMm)), usedMm };
}
