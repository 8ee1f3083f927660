import { boundingBox } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import { Contacts } from '../../nesting/hand/contacts.ts';
import { FreePlaces } from '../../nesting/hand/freePlaces.ts';
import type { ClothLay, Project } from '../exchange/project.ts';
import type { CutDemand } from './demands.ts';
import { type HandLay, handFaults, pieceOf, posesOf, putDown, takeUp, withCopyAt } from './hand/handLay.ts';

/** Pieces that are never seen, laid where another material has room to spare. */

/** Lengths closer than this are the same, mm: the engine's own tolerance. */
const SAME_LENGTH_MM = 0.01;

export interface GuestsPlaced {
  readonly lay: ClothLay;
  readonly plain: number;
  readonly mirrored: number;
}

/**
 * Lays as many copies of a guest as there is room for on a finished lay without making it longer, at most so many of
 * each hand. What lies there stays where it is. Every placement passes the checker of the engine's own layouts.
 */
export function placeGuests(
  project: Project,
  finished: ClothLay,
  guest: CutDemand,
  wanted: { readonly plain: number; readonly mirrored: number },
): GuestsPlaced {
  let lay = finished;
  const placed = { plain: 0, mirrored: 0 };
  for (const hand of ['plain', 'mirrored'] as const) {
    while (placed[hand] < wanted[hand]) {
      const next = withOneMore(project, lay, guest, hand);
      if (next === null) break;
      lay = next;
      placed[hand] += 1;
    }
  }
  return { lay, ...placed };
}

function withOneMore(
  project: Project,
  lay: ClothLay,
  guest: CutDemand,
  hand: 'plain' | 'mirrored',
): ClothLay | null {
  const { id } = guest.demand;
  const before = lay.wanted?.find((entry) => entry.id === id) ?? { id, plain: 0, mirrored: 0 };
  const others = lay.wanted?.filter((entry) => entry.id !== id) ?? [];
  const asked = { ...lay, wanted: [...others, { ...before, [hand]: before[hand] + 1 }] };
  const hold = takeUp(project, asked);
  if (typeof hold === 'string') return null;
  const filled = withParkedPlaced(hold, id);
  if (filled === null || handFaults(filled).length > 0) return null;
  const { verdict: _verdict, reason: _reason, ...next } = putDown(filled, () => '');
  return { ...next, verdict: lay.verdict, ...(lay.reason === undefined ? {} : { reason: lay.reason }) };
}

/** The lay with the parked copies of a demand in free places; null if one finds none, or if none is parked. */
function withParkedPlaced(hold: HandLay, demandId: string): HandLay | null {
  let hand = hold;
  let any = false;
  for (const [stretch, layout] of hold.layouts.entries()) {
    for (const { item, copy } of layout.unplaced) {
      const id = { stretch, item, copy };
      if (pieceOf(hold, id)?.cut.demand.id !== demandId) continue;
      any = true;
      const place = freePlaceFor(hand, id);
      if (place === null) return null;
      hand = withCopyAt(hand, id, place);
    }
  }
  return any ? hand : null;
}

function freePlaceFor(hand: HandLay, id: { stretch: number; item: string; copy: number }) {
  const stretch = hand.stretches[id.stretch];
  const layout = hand.layouts[id.stretch];
  const container = stretch?.problem.containers[0];
  const item = stretch?.problem.items.find((entry) => entry.id === id.item);
  if (!stretch || !layout || !container || !item) return null;
  const isStrip = container.kind === 'strip';
  if (isStrip && layout.length === 0) return null;
  for (const { rotation, mirrored } of posesOf(hand, id).poses) {
    const pose = { rotation, mirrored };
    const box = boundingBox(placeRing(item.outline, rotation, mirrored));
    if (isStrip && box.maxX - box.minX > layout.length + SAME_LENGTH_MM) continue;
    // The strip ends where the lay does: nothing may be made longer.
    const room = isStrip ? { ...container, maxLength: layout.length } : container;
    const free = new FreePlaces(new Contacts(stretch.problem), room, layout.placements, id.item, pose);
    const at = free.first(isStrip ? layout.length : Number.POSITIVE_INFINITY);
    if (at === null) continue;
    if (isStrip && at[0] + box.maxX > layout.length + SAME_LENGTH_MM) continue;
    return { ...pose, x: at[0], y: at[1] };
  }
  return null;
}
