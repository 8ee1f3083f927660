import { edgeLossMm } from '../../cloths/measures.ts';
import { type Cloth, clothSchema, type Project, type Remnant, type Roll } from '../../exchange/project.ts';
import type { Offer } from '../../exchange/whatToBuy.ts';

/** What is bought of an offer, as a cloth to lay on. */
export interface Bought {
  readonly offer: Offer;
  readonly cloth: Cloth;
  /** Of a length laid on as a piece: how long it is as it is sold. */
  readonly soldMm?: number;
}

/** One way to get the cloth: what is laid on first comes first; only the last may be a roll. */
export interface Way {
  readonly own: readonly Cloth[];
  readonly bought: readonly Bought[];
}

type RollOffer = Extract<Offer, { kind: 'roll' }>;
type SheetOffer = Extract<Offer, { kind: 'sheet' }>;

/**
 * Ways worth laying out: each offer alone, and whatever an offer has left finished with another. What is there already
 * is used first in all of them.
 * @param sheetsNeeded of a sheet offer, so many have the area of what is to be cut
 */
export function waysToBuy(
  project: Project,
  materialId: string,
  offers: readonly Offer[],
  sheetsNeeded: (offer: SheetOffer) => number,
): Way[] {
  const own = ownCloths(project, materialId);
  const rules = rulesLike(project, materialId);
  const alone = offers.flatMap((offer) =>
    offer.kind === 'sheet'
      ? [[sheets(offer, rules, offer.left ?? 2 * sheetsNeeded(offer) + 2)]]
      : rollAlone(offer, rules),
  );
  const finished = offers.flatMap((first) => {
    const whole = wholeOf(first, rules, sheetsNeeded);
    if (whole.length === 0) return [];
    return offers
      .filter((other) => other.id !== first.id)
      .flatMap((other) => {
        const last = other.kind === 'roll' ? rollAlone(other, rules) : [];
        return last.filter((part) => part.length === 1).map((part) => [...whole, ...part]);
      });
  });
  return [...alone, ...finished].map((bought) => ({ own, bought }));
}

/** As much as one likes, or so many lengths whole and the next as far as it is needed: the fewest lengths first. */
function rollAlone(offer: RollOffer, rules: Rules): Bought[][] {
  if (offer.leftMm.length === 0) return [[rollOf(offer, rules, null, offer.id)]];
  const lengths = [...offer.leftMm].sort((a, b) => b - a);
  return lengths.map((last, k) => [
    ...lengths.slice(0, k).map((mm, i) => lengthOf(offer, rules, mm, `${offer.id}.${i + 1}`)),
    rollOf(offer, rules, last, offer.id),
  ]);
}

/** All that an offer has left; of sheets one fewer than area alone asks for. None where there is no end of it. */
function wholeOf(offer: Offer, rules: Rules, sheetsNeeded: (offer: SheetOffer) => number): Bought[] {
  if (offer.kind === 'roll')
    return offer.leftMm.map((mm, i) => lengthOf(offer, rules, mm, `${offer.id}.${i + 1}`));
  const count = Math.min(offer.left ?? Number.POSITIVE_INFINITY, sheetsNeeded(offer) - 1);
  return count >= 1 ? [sheets(offer, rules, count)] : [];
}

/** Nap, grain, gap and the rest; what only a roll or a remnant has falls away where a cloth is made of it. */
type Rules = Cloth;

/** Rules as the material's first cloth has them: the same cloth in another width. */
function rulesLike(project: Project, materialId: string): Rules {
  const like = project.cloths.find((cloth) => cloth.materialId === materialId) ?? plainRoll(materialId);
  return { ...like, priceCentsPerMetre: null, shelfId: undefined };
}

function plainRoll(materialId: string): Cloth {
  return clothSchema.parse({ kind: 'roll', id: 'plain', name: 'plain', materialId, widthMm: 1000 });
}

function rollOf(offer: RollOffer, rules: Rules, availableMm: number | null, id: string): Bought {
  const roll = {
    ...rules,
    kind: 'roll',
    id,
    name: offer.name,
    widthMm: offer.widthMm,
    selvedgeMm: offer.selvedgeMm,
    usableWidthMm: null,
    flaws: [],
    fadedLines: [],
    shopStepMm: offer.stepMm,
    availableMm,
    priceCentsPerMetre: offer.priceCentsPerMetre,
  };
  return { offer, cloth: clothSchema.parse(roll) };
}

/** A whole length of a roll, to be laid on as a piece. */
function lengthOf(offer: RollOffer, rules: Rules, mm: number, id: string): Bought {
  const { cloth } = rollOf(offer, rules, mm, id);
  return { offer, cloth: asPiece(cloth as Roll, mm), soldMm: mm };
}

function sheets(offer: SheetOffer, rules: Rules, quantity: number): Bought {
  const cloth = {
    ...rules,
    kind: 'remnant',
    id: offer.id,
    name: offer.name,
    outline: rectangle(offer.alongMm, offer.acrossMm),
    flaws: [],
    quantity: Math.min(200, quantity),
  };
  return { offer, cloth: clothSchema.parse(cloth) };
}

/** Cloth of the material that is there and has an end; what has none and no offer is not counted on. */
function ownCloths(project: Project, materialId: string): Cloth[] {
  return project.cloths.flatMap((cloth) => {
    if (cloth.materialId !== materialId) return [];
    if (cloth.kind === 'remnant') return [cloth];
    return cloth.availableMm === null ? [] : [asPiece(cloth, cloth.availableMm)];
  });
}

/** A roll's length as a piece of cloth: without selvedges, its ends made square. */
function asPiece(roll: Roll, lengthMm: number): Remnant {
  const edge = edgeLossMm(roll);
  const x0 = roll.squaringMm;
  const alongMm = Math.max(1, lengthMm - x0 - roll.squaringEndMm);
  const acrossMm = Math.max(1, roll.widthMm - 2 * edge);
  const faded = roll.fadedLines.map(({ fromMm, toMm }) =>
    rectangle(alongMm, Math.abs(toMm - fromMm)).map(
      ([x, y]) => [x, y + Math.min(fromMm, toMm) - edge] as const,
    ),
  );
  const flaws = roll.flaws.map((ring) => ring.map(([x, y]) => [x - x0, y - edge] as const));
  return clothSchema.parse({
    ...roll,
    kind: 'remnant',
    outline: rectangle(alongMm, acrossMm),
    flaws: [...faded, ...flaws],
    quantity: 1,
    priceCentsPerMetre: null,
  }) as Remnant;
}

function rectangle(alongMm: number, acrossMm: number): Remnant['outline'] {
  return [
    [0, 0],
    [alongMm, 0],
    [alongMm, acrossMm],
    [0, acrossMm],
  ];
}
