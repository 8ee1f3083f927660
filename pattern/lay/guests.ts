import type { ClothLay, Project } from '../exchange/project.ts';
import type { CutDemand } from './demands.ts';
import { type HandLay, handFaults, pieceOf, putDown, takeUp, withCopyAt } from './hand/handLay.ts';
import { freePlaceFor } from './hand/handPlaces.ts';

/** Pieces that are never seen, laid where another material has room to spare. */

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
      const place = freePlaceFor(hand, id, false);
      if (place === null) return null;
      hand = withCopyAt(hand, id, place);
    }
  }
  return any ? hand : null;
}
