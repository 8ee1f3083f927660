import { groundsOf, SMALL_MM } from '../../pattern/proposals/ground.ts';
import { type Heap, heapsOf } from '../../pattern/proposals/heaps.ts';
import { directlyInside, guessInside } from '../../pattern/proposals/inside.ts';
import { materialSaid } from '../../pattern/proposals/instructions.ts';
import type { DrawingOutline, ReadDrawing } from '../../pattern/reading/drawing.ts';
import { findTestSquare } from '../../pattern/reading/trueSize.ts';
import { type NameMaterial, newPick, outlineById, type Pick, withAlike } from './picking.ts';

const NO_NAMES: NameMaterial = (_role, word) => word ?? '';

const isSmall = ({ widthMm, heightMm }: DrawingOutline): boolean => Math.min(widthMm, heightMm) < SMALL_MM;

/**
 * Everything on the page that is likely to be a piece: what lies in no other outline, or on a cloth that is drawn round
 * it, or in a hole. Outlines with strips of allowance round them are one piece; copies drawn alike are counted instead
 * of repeated. The square that the size is checked by is no piece.
 */
export function pickAll(reading: ReadDrawing, nameMaterial: NameMaterial = NO_NAMES): readonly Pick[] {
  const square = findTestSquare(reading);
  const taken = new Set<string>(square?.sure ? [square.id] : []);
  const grounds = groundsOf(reading);
  const roleOf = materialRoles(reading);
  const picks: Pick[] = [];
  for (const heap of heapsOf(reading)) {
    const isFree = heap.ids.every((id) => !taken.has(id)) && isTop(reading, grounds, heap.ids[0]);
    if (heap.allowanceMm === null || !isFree) continue;
    const pick = heapPick(reading, heap, nameMaterial);
    if (!pick) continue;
    for (const id of heap.ids) taken.add(id);
    picks.push(pick);
  }
  const waiting = reading.outlines.filter(({ id }) => isTop(reading, grounds, id));
  for (let outline = waiting.shift(); outline; outline = waiting.shift()) {
    if (outline.onPage === 'outside' || isSmall(outline) || taken.has(outline.id)) continue;
    const pick = withAlike(
      reading,
      newPick(reading, outline, nameMaterial),
      (other) => taken.has(other.id) || roleOf(other) !== roleOf(outline),
    );
    for (const id of [outline.id, ...pick.alike]) {
      taken.add(id);
      // Nothing of the piece is left in a hole: what lies there is another one.
      for (const [inner, role] of Object.entries(
        guessInside(reading, outlineById(reading).get(id) ?? outline),
      ))
        if (role === 'hole') waiting.push(...directlyInside(reading, inner));
    }
    picks.push(pick);
  }
  return picks;
}

/** What lies on pieces and may be a piece as well: patches, pockets and webbing drawn where they are sewn. */
export function laidOn(reading: ReadDrawing, picks: readonly Pick[]): readonly DrawingOutline[] {
  const taken = new Set(picks.flatMap(({ outlineId, alike, parts }) => [outlineId, ...alike, ...parts]));
  const grounds = groundsOf(reading);
  // Sew lines and holes are no things of their own.
  const lines = new Set(
    reading.outlines.flatMap((outline) =>
      Object.entries(guessInside(reading, outline)).flatMap(([id, role]) =>
        role === 'internal' ? [] : [id],
      ),
    ),
  );
  return reading.outlines.filter(
    (outline) =>
      outline.depth > 0 &&
      outline.onPage !== 'outside' &&
      !isSmall(outline) &&
      !taken.has(outline.id) &&
      !lines.has(outline.id) &&
      !grounds.has(outline.id),
  );
}

/** The picks, and what lies on them as further ones. */
export function withLaidOn(
  reading: ReadDrawing,
  picks: readonly Pick[],
  nameMaterial: NameMaterial = NO_NAMES,
): readonly Pick[] {
  const more: Pick[] = [];
  const left = laidOn(reading, picks);
  const free = new Set(left.map(({ id }) => id));
  const roleOf = materialRoles(reading);
  for (const outline of left) {
    if (!free.has(outline.id)) continue;
    const pick = withAlike(
      reading,
      newPick(reading, outline, nameMaterial),
      (other) => !free.has(other.id) || roleOf(other) !== roleOf(outline),
    );
    for (const id of [outline.id, ...pick.alike]) free.delete(id);
    more.push(pick);
  }
  return [...picks, ...more];
}

/** Heaps that may be one piece and are not taken as one yet, the largest first. */
export const heapsToOffer = (reading: ReadDrawing, picks: readonly Pick[]): readonly Heap[] =>
  heapsOf(reading).filter(
    ({ ids }) => !picks.some((pick) => pick.parts.length > 0 && ids.includes(pick.outlineId)),
  );

/** A heap as one piece; null where its outlines are gone. */
export function heapPick(
  reading: ReadDrawing,
  heap: Heap,
  nameMaterial: NameMaterial = NO_NAMES,
): Pick | null {
  const outlines = outlineById(reading);
  const parts = heap.ids.flatMap((id) => outlines.get(id) ?? []);
  const [largest] = parts;
  if (!largest) return null;
  // The words may stand on, or beside, any of the outlines.
  const words = (key: 'textInside' | 'textBeside'): string[] => [
    ...new Set(parts.flatMap((part) => part[key])),
  ];
  const told: DrawingOutline = {
    ...largest,
    textInside: words('textInside'),
    textBeside: words('textBeside'),
  };
  const pick = newPick(reading, told, nameMaterial);
  const named =
    parts.find(({ textInside }) => textInside.length > 0) ??
    parts.find(({ textBeside }) => textBeside.length > 0);
  return {
    ...pick,
    name: named?.suggestedName ?? `${heap.widthMm.toFixed(0)} × ${heap.heightMm.toFixed(0)} mm`,
    parts: heap.ids.slice(1),
    core: heap.core,
    inside: Object.assign({}, ...parts.map((part) => guessInside(reading, part))) as Pick['inside'],
  };
}

function isTop(reading: ReadDrawing, grounds: ReadonlySet<string>, id: string | undefined): boolean {
  const outline = id === undefined ? undefined : outlineById(reading).get(id);
  if (!outline || grounds.has(outline.id)) return false;
  return outline.parent === null || grounds.has(outline.parent);
}

/** What the words in an outline say it is cut from: the same shape cut from foam is another row of the cut list. */
function materialRoles(reading: ReadDrawing): (outline: DrawingOutline) => string | null {
  const roles = new Map(
    reading.outlines.map(({ id, textInside }) => [id, materialSaid(textInside)?.role ?? null]),
  );
  return ({ id }) => roles.get(id) ?? null;
}
