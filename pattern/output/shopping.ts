import type { ClothLay, Notion, Project, Roll, Spread } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { cleanText, isolate } from '../plan/text.ts';
import type { PAPERS } from '../plan/tokens.ts';
import { planWords } from '../plan/words/index.ts';
import { formatDecimals, formatLength, formatPurchase, formatSize, type ShownUnits } from '../units/index.ts';
import { rollToCut } from './bestLays.ts';
import { Pages } from './pages.ts';
import type { Sheet } from './sheet.ts';
import { type DataTable, tenth } from './table.ts';
import { outputWords } from './words/index.ts';

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

/** A cloth that is there: from the shelf, or a remnant of the project's own. */
export interface Taken {
  readonly cloth: string;
  readonly clothId: string;
  /** Where on the shelf it lies; empty where nobody said, null for what is not from the shelf. */
  readonly place: string | null;
  /** Cut off a roll, mm; null for a remnant, of which all is taken. */
  readonly lengthMm: number | null;
  /** Pieces cut from it: of a pair two. */
  readonly pieces: number;
}

/** What one material takes. */
export interface ShoppingLine {
  readonly material: string;
  readonly materialId: string;
  /** What its pieces are cut from without buying anything. */
  readonly taken: readonly Taken[];
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

/** Where things lie on the shelf, by the id of their entry. */
export type ShelfPlaces = Readonly<Record<string, string>>;

/**
 * What to buy, and what is taken from what is there: for each material the remnants its pieces lie on and the layout
 * of a roll that is cut (see `rollToCut`), if it is complete. A roll from the shelf is not bought.
 * @param results layouts of all materials
 */
export function shoppingList(
  project: Project,
  results: readonly ClothLay[],
  places: ShelfPlaces = {},
): ShoppingList {
  const cloths = new Map(project.cloths.map((cloth) => [cloth.id, cloth]));
  const lines = project.materials.flatMap((material): ShoppingLine[] => {
    const isCut = project.cutList.some(
      (row) => row.materialId === material.id && row.plain + row.mirrored + row.onFold > 0,
    );
    const own = results.filter((lay) => lay.materialId === material.id && cloths.has(lay.clothId));
    if (!isCut && own.length === 0) return [];
    const take = (lay: ClothLay): Taken => {
      const { kind, name = lay.clothId, shelfId } = cloths.get(lay.clothId) ?? {};
      return {
        cloth: cleanText(name),
        clothId: lay.clothId,
        place: shelfId === undefined ? null : cleanText(places[shelfId] ?? ''),
        lengthMm: kind === 'roll' ? lay.usedMm : null,
        pieces: piecesFrom(lay),
      };
    };
    const remnants = own.filter((lay) => cloths.get(lay.clothId)?.kind === 'remnant');
    const taken = remnants.filter((lay) => piecesFrom(lay) > 0).map(take);
    const isEnough = remnants.some((lay) => lay.verdict === 'fits');
    const { roll: cut } = rollToCut(project, material.id, own);
    const best = !isEnough && cut?.verdict === 'fits' && cut.usedMm > 0 ? cut : null;
    const roll = best && cloths.get(best.clothId);
    const isHad = roll?.shelfId !== undefined;
    return [
      {
        material: cleanText(material.name),
        materialId: material.id,
        taken: best && isHad ? [...taken, take(best)] : taken,
        buy: best && !isHad && roll?.kind === 'roll' ? purchaseOf(best, roll) : null,
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

/** Of a pair two. */
function piecesFrom(lay: ClothLay): number {
  return lay.segments
    .flatMap(({ placed }) => placed)
    .reduce((sum, { hand }) => sum + (hand === 'pair' ? 2 : 1), 0);
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

/** One row of the list for other programs. */
interface Row {
  readonly kind: 'buy' | 'take' | 'shelf' | 'open' | 'notion';
  readonly material?: string;
  readonly what?: string;
  readonly amount?: string;
  readonly place?: string;
  readonly buyMm?: number;
  readonly takeMm?: number;
  readonly pieces?: number;
  readonly spareMm?: number;
  readonly widthMm?: number;
  readonly priceCentsPerMetre?: number | null;
  readonly costCents?: number | null;
  readonly state: string;
  readonly clothId?: string;
  readonly materialId?: string;
}

const COLUMNS: readonly (readonly [title: string, cell: (row: Row) => string | number | null | undefined])[] =
  [
    ['kind', ({ kind }) => kind],
    ['material', ({ material }) => material],
    ['what', ({ what }) => what],
    ['amount', ({ amount }) => amount],
    ['place', ({ place }) => place],
    ['buy_mm', ({ buyMm }) => buyMm && tenth(buyMm)],
    ['take_mm', ({ takeMm }) => takeMm && tenth(takeMm)],
    ['pieces', ({ pieces }) => pieces],
    ['spare_mm', ({ spareMm }) => (spareMm === undefined ? null : tenth(spareMm))],
    ['width_mm', ({ widthMm }) => widthMm && tenth(widthMm)],
    ['price_cents_per_metre', ({ priceCentsPerMetre }) => priceCentsPerMetre],
    ['cost_cents', ({ costCents }) => costCents],
    ['state', ({ state }) => state],
    ['cloth_id', ({ clothId }) => clothId],
    ['material_id', ({ materialId }) => materialId],
  ];

/** The list for other programs: a row for each thing to buy or to take; `shelf`: taken from the shelf. */
export function shoppingTable({ lines, notions }: ShoppingList): DataTable {
  const rows: Row[] = [];
  for (const { material, materialId, taken, buy, state } of lines) {
    const of = { material, materialId, state };
    for (const { cloth, clothId, place, lengthMm, pieces } of taken) {
      const take = {
        ...of,
        what: cloth,
        clothId,
        pieces,
        ...(lengthMm === null ? {} : { takeMm: lengthMm }),
      };
      rows.push(place === null ? { kind: 'take', ...take } : { kind: 'shelf', ...take, place });
    }
    if (buy) rows.push({ kind: 'buy', ...of, ...buy, what: buy.cloth });
    else if (taken.length === 0 || state !== 'settled') rows.push({ kind: 'open', ...of });
  }
  for (const { name, amount, costCents, bought } of notions) {
    rows.push({ kind: 'notion', what: name, amount, costCents, state: bought ? 'bought' : 'to buy' });
  }
  return {
    columns: COLUMNS.map(([title]) => title),
    rows: rows.map((row) => COLUMNS.map(([, cell]) => cell(row) ?? null)),
  };
}

/** The list on paper, with a box to tick for everything that is bought or fetched. */
export function shoppingSheets(
  project: Project,
  list: ShoppingList,
  {
    page,
    units,
    language = USUAL_LANGUAGE,
  }: {
    readonly page: keyof typeof PAPERS;
    readonly units: ShownUnits;
    readonly language?: Language;
  },
): Sheet[] {
  const words = outputWords(language).shopping;
  const long = (mm: number) => formatLength(mm, units, language);
  // An amount with two decimals, in the maker's own money: which one it is, nothing says.
  const money = (cents: number) => formatDecimals(cents / 100, 2, language);
  const pages = new Pages(words.title, isolate(cleanText(project.name)), page, language);
  pages.note(words.lead);
  const toBuy = list.lines.filter(({ buy, state }) => buy !== null || state !== 'settled');
  if (toBuy.length > 0) pages.head(words.cloth);
  for (const { material, buy, state } of toBuy) {
    if (buy === null) {
      if (state !== 'settled') pages.step('', isolate(material), '', words.states[state]);
      continue;
    }
    const { cloth, buyMm, spareMm, widthMm, stepMm, spread, costCents, priceCentsPerMetre } = buy;
    const price = priceCentsPerMetre === null ? null : money(priceCentsPerMetre);
    const facts = [
      planWords(language).spreadTitles[spread],
      words.width(long(widthMm)),
      words.steps(long(stepMm)),
      ...(spareMm > 0 ? [words.spare(formatSize(spareMm, widthMm, units, language))] : []),
      ...(costCents === null ? [] : [words.cost(money(costCents), price)]),
    ];
    const what = `${isolate(material)}: ${isolate(cloth)}`;
    pages.step('', what, formatPurchase(buyMm, units, language), facts.join(' · '));
  }
  const taken = list.lines.flatMap(({ material, taken: cloths }) =>
    cloths.map((cloth) => ({ ...cloth, material })),
  );
  if (taken.length > 0) pages.head(words.taken);
  for (const { material, cloth, place, lengthMm, pieces } of taken) {
    const length = lengthMm === null ? '' : long(lengthMm);
    const facts = [...(place === null ? [] : [words.shelf(isolate(place))]), words.pieces(pieces)];
    pages.step('', `${isolate(material)}: ${isolate(cloth)}`, length, facts.join(' · '));
  }
  if (list.notions.length > 0) pages.head(words.notions);
  for (const { name, amount, costCents, bought } of list.notions) {
    const facts = costCents === null ? '' : money(costCents);
    pages.step('', isolate(cleanText(name)), cleanText(amount), facts, bought);
  }
  if (list.costCents !== null) pages.head(words.total(money(list.costCents), list.isPartly));
  return pages.close();
}
