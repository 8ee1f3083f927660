import type { Ring } from '../../nesting/geometry/points.ts';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import { type Cloth, type Remnant, type Roll, remnantSchema } from '../exchange/project.ts';
import { ON_SHELF, type ShelfEntry, type ShelfItem } from '../exchange/shelf.ts';
import type { Leavings, Offcut } from './offcuts.ts';

/** Of whom the leavings are, and what new entries are called. */
export interface PutBack {
  readonly cloth: Cloth;
  /** The entry of the shelf that the cloth is, if it came from there. */
  readonly entry: ShelfEntry | null;
  readonly projectName: string;
  readonly freshId: () => string;
  /** Name of the n-th offcut. */
  readonly nameOf: (n: number) => string;
}

/**
 * What goes on the shelf when a lay is cut: chosen offcuts as remnants with the cloth's rules, the rest of a roll as a
 * shorter roll, untouched sheets as sheets. What stays of an entry of the shelf keeps its id. Offcuts of cloth that was
 * laid washed shrink no more. Values go by area.
 */
export function putBack(leavings: Leavings, chosen: readonly Offcut[], how: PutBack): ShelfItem[] {
  const { cloth, entry } = how;
  const items = chosen.map((offcut, i) => remnantItem(offcut, i + 1, how));
  if (cloth.kind === 'roll' && leavings.restOfRollMm > 0) {
    const rest: Roll = { ...cloth, availableMm: leavings.restOfRollMm };
    items.push(restItem(rest, leavings.restOfRollMm / (cloth.availableMm ?? leavings.restOfRollMm), how));
  }
  if (cloth.kind === 'remnant' && leavings.untouchedSheets > 0) {
    const rest: Remnant = { ...cloth, quantity: leavings.untouchedSheets };
    items.push(restItem(rest, leavings.untouchedSheets / cloth.quantity, how));
  }
  return items.map((item) => (entry ? { ...item, fibre: entry.fibre, place: entry.place } : item));
}

/** What is left of the cloth itself: its entry with less on it, or a new one. */
function restItem(cloth: Cloth, share: number, { entry, freshId, projectName }: PutBack): ShelfItem {
  const id = entry?.id ?? freshId();
  const valueCents =
    entry === null || entry.valueCents === null ? null : Math.round(entry.valueCents * Math.min(1, share));
  return {
    ...bare(id, { ...cloth, id, materialId: ON_SHELF }),
    picture: entry?.picture ?? null,
    valueCents,
    leftFrom: projectName,
  };
}

function remnantItem(
  offcut: Offcut,
  n: number,
  { cloth, entry, projectName, freshId, nameOf }: PutBack,
): ShelfItem {
  const { minX, minY } = boundingBox(offcut.outline);
  const moved = (ring: Ring) => ring.map(([x, y]) => [tidy(x - minX), tidy(y - minY)] as const);
  const id = freshId();
  return {
    // What only a roll has falls away.
    ...bare(
      id,
      remnantSchema.parse({
        ...cloth,
        kind: 'remnant',
        id,
        materialId: ON_SHELF,
        name: nameOf(n),
        shrinkAlongPercent: 0,
        shrinkAcrossPercent: 0,
        repeat: cloth.repeat && {
          ...cloth.repeat,
          fromEndMm: phase(cloth.repeat.fromEndMm - minX, cloth.repeat.alongMm),
          fromSelvedgeMm: phase(cloth.repeat.fromSelvedgeMm - minY, cloth.repeat.acrossMm),
        },
        outline: moved(offcut.outline),
        flaws: offcut.holes.map(moved),
        quantity: 1,
      }),
    ),
    valueCents: worthOf(offcut, cloth, entry),
    leftFrom: projectName,
  };
}

function bare(id: string, cloth: Cloth): ShelfItem {
  return { id, cloth, fibre: '', place: '', picture: null, valueCents: null };
}

/** By area: of the price of a metre, or of what the entry it came from is worth. */
function worthOf(offcut: Offcut, cloth: Cloth, entry: ShelfEntry | null): number | null {
  const { priceCentsPerMetre } = cloth;
  if (cloth.kind === 'roll' && priceCentsPerMetre !== null)
    return Math.round((offcut.areaMm2 / (cloth.widthMm * 1000)) * priceCentsPerMetre);
  if (cloth.kind === 'remnant' && entry && entry.valueCents !== null) {
    const { minX, maxX, minY, maxY } = boundingBox(cloth.outline);
    const whole = (maxX - minX) * (maxY - minY) * cloth.quantity;
    return Math.round(entry.valueCents * Math.min(1, offcut.areaMm2 / whole));
  }
  return null;
}

/** Hundredths of a millimetre are more than scissors know. */
const tidy = (mm: number): number => Math.round(mm * 100) / 100;

/** A position on something that recurs, 0 … step. */
function phase(at: number, step: number): number {
  return step > 0 ? ((at % step) + step) % step : Math.max(0, at);
}
