import type { ClothLay, Notion, Project, Roll, Spread } from '../exchange/project.ts';
import { cleanText, isolate } from '../plan/text.ts';
import type { PAPERS } from '../plan/tokens.ts';
import { SPREAD_TITLES } from '../plan/words.ts';
import { formatLength, formatPurchase, formatSize, type ShownUnits } from '../units/index.ts';
import { bestOnRoll } from './bestLays.ts';
import { Pages } from './pages.ts';
import type { Sheet } from './sheet.ts';
import { type DataTable, tenth } from './table.ts';
import { SHOPPING } from './words.ts';

/** A cloth to buy for a material. */
export interface Purchase {
  readonly cloth: string;
  readonly clothId: string;
  readonly spread: Spread;
  /** In whole steps of the shop. */
  readonly buyMm: number;
  readonly stepMm: number;
  readonly widthMm: number;
  /** Of the length bought, what the lay leaves. */
  readonly spareMm: number;
  readonly priceCentsPerMetre: number | null;
  readonly costCents: number | null;
}

/** What one material takes. */
export interface ShoppingLine {
  readonly material: string;
  readonly materialId: string;
  /** Remnants that pieces are cut from: nothing to buy. */
  readonly taken: readonly { readonly cloth: string; readonly clothId: string; readonly pieces: number }[];
  /** Null where what is there is enough, or nothing is settled. */
  readonly buy: Purchase | null;
  /** Whether everything has its place. */
  readonly state: 'settled' | 'open' | 'notLaid';
}

export interface ShoppingList {
  readonly lines: readonly ShoppingLine[];
  readonly notions: readonly Notion[];
  /** Of all that has a price; null where nothing has. */
  readonly costCents: number | null;
  /** Whether something has no price, so that the sum is not all. */
  readonly isPartly: boolean;
}

/**
 * What to buy, and what is taken from what is there: for each material the remnants its pieces lie on and the cheapest
 * (else shortest) complete layout on a roll.
 * @param results layouts of all materials
 */
export function shoppingList(project: Project, results: readonly ClothLay[]): ShoppingList {
  const cloths = new Map(project.cloths.map((cloth) => [cloth.id, cloth]));
  const lines = project.materials.flatMap((material): ShoppingLine[] => {
    const isCut = project.cutList.some(
      (row) => row.materialId === material.id && row.plain + row.mirrored + row.onFold > 0,
    );
    const own = results.filter((lay) => lay.materialId === material.id && cloths.has(lay.clothId));
    if (!isCut && own.length === 0) return [];
    const placed = (lay: ClothLay) => lay.segments.reduce((sum, { placed: list }) => sum + list.length, 0);
    const remnants = own.filter((lay) => cloths.get(lay.clothId)?.kind === 'remnant');
    const taken = remnants
      .filter((lay) => placed(lay) > 0)
      .map((lay) => ({
        cloth: cleanText(cloths.get(lay.clothId)?.name ?? lay.clothId),
        clothId: lay.clothId,
        pieces: placed(lay),
      }));
    const isEnough = remnants.some((lay) => lay.verdict === 'fits');
    const best = isEnough ? null : bestOnRoll(own);
    const roll = best && cloths.get(best.clothId);
    return [
      {
        material: cleanText(material.name),
        materialId: material.id,
        taken,
        buy: best && roll?.kind === 'roll' ? purchaseOf(best, roll) : null,
        state: own.length === 0 ? 'notLaid' : isEnough || best ? 'settled' : 'open',
      },
    ];
  });
  const { notions } = project.cutting;
  const costs = [
    ...lines.flatMap(({ buy }) => (buy ? [buy.costCents] : [])),
    ...notions.map(({ costCents }) => costCents),
  ];
  const known = costs.filter((cents) => cents !== null);
  return {
    lines,
    notions,
    costCents: known.length === 0 ? null : known.reduce((sum, cents) => sum + cents, 0),
    isPartly: known.length < costs.length,
  };
}

function purchaseOf(lay: ClothLay, roll: Roll): Purchase {
  return {
    cloth: cleanText(roll.name),
    clothId: roll.id,
    spread: lay.spread,
    buyMm: lay.buyMm,
    stepMm: roll.shopStepMm,
    widthMm: roll.widthMm,
    spareMm: Math.max(0, lay.buyMm - lay.usedMm),
    priceCentsPerMetre: roll.priceCentsPerMetre,
    costCents: lay.costCents,
  };
}

/** The list for other programs: a row for each thing to buy or to take. */
export function shoppingTable({ lines, notions }: ShoppingList): DataTable {
  const empty = [null, null, null, null, null] as const;
  return {
    columns: [
      'kind',
      'material',
      'what',
      'amount',
      'buy_mm',
      'spare_mm',
      'width_mm',
      'price_cents_per_metre',
      'cost_cents',
      'state',
      'cloth_id',
      'material_id',
    ],
    rows: [
      ...lines.flatMap((line) => [
        ...line.taken.map(({ cloth, clothId, pieces }) => [
          'take',
          line.material,
          cloth,
          `${pieces}`,
          ...empty,
          line.state,
          clothId,
          line.materialId,
        ]),
        ...(line.buy
          ? [
              [
                'buy',
                line.material,
                line.buy.cloth,
                null,
                tenth(line.buy.buyMm),
                tenth(line.buy.spareMm),
                tenth(line.buy.widthMm),
                line.buy.priceCentsPerMetre,
                line.buy.costCents,
                line.state,
                line.buy.clothId,
                line.materialId,
              ],
            ]
          : line.taken.length === 0
            ? [['open', line.material, null, null, ...empty, line.state, null, line.materialId]]
            : []),
      ]),
      ...notions.map(({ name, amount, costCents, bought }) => [
        'notion',
        null,
        name,
        amount,
        null,
        null,
        null,
        null,
        costCents,
        bought ? 'bought' : 'to buy',
        null,
        null,
      ]),
    ],
  };
}

/** The list on paper, with a box to tick for everything that is bought. */
export function shoppingSheets(
  project: Project,
  list: ShoppingList,
  { page, units }: { readonly page: keyof typeof PAPERS; readonly units: ShownUnits },
): Sheet[] {
  const pages = new Pages(SHOPPING.title, isolate(cleanText(project.name)), page);
  pages.note(SHOPPING.lead);
  if (list.lines.length > 0) pages.head(SHOPPING.cloth);
  for (const line of list.lines) {
    for (const { cloth, pieces } of line.taken) {
      pages.step('', `${isolate(line.material)}: ${SHOPPING.take(isolate(cloth), pieces)}`, '', '');
    }
    if (line.buy) {
      const { cloth, buyMm, spareMm, widthMm, stepMm, spread, costCents, priceCentsPerMetre } = line.buy;
      const facts = [
        SPREAD_TITLES[spread],
        SHOPPING.width(formatLength(widthMm, units)),
        SHOPPING.steps(formatLength(stepMm, units)),
        ...(spareMm > 0 ? [SHOPPING.spare(formatSize(spareMm, widthMm, units))] : []),
        ...(costCents === null
          ? []
          : [
              SHOPPING.cost(money(costCents), priceCentsPerMetre === null ? null : money(priceCentsPerMetre)),
            ]),
      ];
      pages.step(
        '',
        `${isolate(line.material)}: ${isolate(cloth)}`,
        formatPurchase(buyMm, units),
        facts.join(' · '),
      );
    } else if (line.state !== 'settled') {
      pages.step('', isolate(line.material), '', SHOPPING.states[line.state]);
    }
  }
  if (list.notions.length > 0) pages.head(SHOPPING.notions);
  for (const { name, amount, costCents, bought } of list.notions) {
    const facts = costCents === null ? '' : money(costCents);
    pages.step('', isolate(cleanText(name)), cleanText(amount), facts, bought);
  }
  if (list.costCents !== null) pages.head(SHOPPING.total(money(list.costCents), list.isPartly));
  return pages.close();
}

/** An amount with two decimals, in the maker's own money: which one it is, nothing says. */
function money(cents: number): string {
  return (cents / 100).toFixed(2);
}
