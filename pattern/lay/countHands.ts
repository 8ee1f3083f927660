import { boundingBox } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import type { ClothLay, Placed } from '../exchange/project.ts';
import type { CutDemand } from './demands.ts';

/** A piece of which a lay gives another number, or another hand, than is asked for. */
export interface HandFault {
  readonly pieceId: string;
  readonly hand: 'plain' | 'mirrored' | 'altogether';
  readonly asked: number;
  readonly cut: number;
}

/** A placed outline may miss the piece's by this much, mm: drawing and packing agree to far less. */
const SAME_OUTLINE_MM = 0.01;

interface Counts {
  plain: number;
  mirrored: number;
  /** Copies whose hand does not matter: wholes from the fold, pieces that are their own mirror image. */
  either: number;
}

/**
 * Counts once more what a lay gives, by what is drawn: for each placed outline whether it is the piece as drawn or its
 * mirror image, and on how many layers it lies. Shares nothing with the rules that made the packing problems. Copies
 * without a place are taken as the lay tells them; what is over or under, or of the wrong hand, is a fault.
 */
export function countHands(lay: ClothLay, demands: readonly CutDemand[], isReversible: boolean): HandFault[] {
  const found = new Map(
    demands.map((cut) => [cut, { plain: 0, mirrored: 0, either: 0 } satisfies Counts as Counts]),
  );
  for (const segment of lay.segments) {
    for (const placed of segment.placed) {
      const cut = demands.find(({ demand }) => demand.id === placed.item?.split(':')[0]);
      if (cut) countPlaced(found.get(cut)!, placed, segment, cut);
    }
  }
  const faults: HandFault[] = [];
  const pieces = new Set(demands.map(({ piece }) => piece.id));
  for (const pieceId of pieces) {
    const own = demands.filter(({ piece }) => piece.id === pieceId);
    const out = lay.unplaced.filter((entry) => entry.pieceId === pieceId);
    const without = out.reduce((sum, { plain, mirrored, onFold }) => sum + plain + mirrored + onFold, 0);
    const asked = own.reduce((sum, { demand }) => sum + demand.plain + demand.mirrored, 0) - without;
    const cut = own.reduce((sum, entry) => sum + total(found.get(entry)!), 0);
    if (cut !== asked) faults.push({ pieceId, hand: 'altogether', asked, cut });
    if (out.length > 0 || isReversible) continue;
    for (const entry of own) {
      const { demand } = entry;
      const counts = found.get(entry)!;
      // A piece that is its own mirror image in some turn may serve as either hand.
      if (demand.mirrorTurns.length > 0 || counts.either > 0) continue;
      for (const hand of ['plain', 'mirrored'] as const) {
        if (counts[hand] !== demand[hand]) {
          faults.push({ pieceId, hand, asked: demand[hand], cut: counts[hand] });
        }
      }
    }
  }
  return faults;
}

const total = ({ plain, mirrored, either }: Counts): number => plain + mirrored + either;

function countPlaced(
  counts: Counts,
  placed: Placed,
  segment: ClothLay['segments'][number],
  { demand }: CutDemand,
): void {
  if (demand.half && liesAs(demand.half.outline, placed)) {
    counts.either += 1;
    return;
  }
  if (layersUnder(placed, segment) === 2) {
    counts.plain += 1;
    counts.mirrored += 1;
    return;
  }
  const drawn = handDrawn(demand.outline, placed);
  if (drawn !== null) counts[drawn] += 1;
}

/** How many layers of cloth lie under the middle of a placed piece. */
function layersUnder(placed: Placed, { spread, lanes }: ClothLay['segments'][number]): 1 | 2 {
  if (!lanes) return spread === 'single' ? 1 : 2;
  const { minY, maxY } = boundingBox(placed.outline);
  const middle = (minY + maxY) / 2;
  return lanes.find(({ fromMm, toMm }) => middle >= fromMm && middle <= toMm)?.layers ?? 1;
}

type Ring = Placed['outline'];

/** Whether an outline as placed is the piece as drawn or its mirror image, by its corners; null if it is neither. */
function handDrawn(outline: Ring, placed: Placed): 'plain' | 'mirrored' | null {
  if (lies(outline, placed, false)) return 'plain';
  return lies(outline, placed, true) ? 'mirrored' : null;
}

function liesAs(outline: Ring, placed: Placed): boolean {
  return lies(outline, placed, false) || lies(outline, placed, true);
}

function lies(outline: Ring, { rotation, x, y, outline: there }: Placed, mirrored: boolean): boolean {
  if (there.length !== outline.length) return false;
  const ring = placeRing(outline, rotation, mirrored, x, y);
  return ring.every(([u, v]) => there.some(([s, t]) => Math.hypot(s - u, t - v) < SAME_OUTLINE_MM));
}
