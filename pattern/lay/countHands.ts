import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import type { ClothLay, Piece, Placed, Project } from '../exchange/project.ts';
import { cutShape } from '../pieces/cutShape.ts';

/** A piece of which a lay gives another number, or another hand, than it set out to cut. */
export interface HandFault {
  readonly pieceId: string;
  readonly hand: 'plain' | 'mirrored' | 'on the fold' | 'altogether';
  readonly asked: number;
  readonly cut: number;
}

/** A placed outline may miss the piece's by this much, mm: drawing and packing agree to far less. */
const SAME_OUTLINE_MM = 0.01;

/**
 * Counts once more what a lay gives, by what is drawn: for each placed outline whether it is the piece as drawn or its
 * mirror image, and on how many layers it lies. Shares nothing with the rules that made the packing problems. Copies
 * without a place are taken as asked; what is over or under, or of the wrong hand, is a fault.
 */
export function countHands(lay: ClothLay, project: Project): HandFault[] {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  const counts = new Map<string, { plain: number; mirrored: number; fold: number; either: number }>();
  const of = (id: string) => {
    const entry = counts.get(id) ?? { plain: 0, mirrored: 0, fold: 0, either: 0 };
    counts.set(id, entry);
    return entry;
  };
  const faults: HandFault[] = [];
  for (const segment of lay.segments) {
    for (const placed of segment.placed) {
      const piece = project.pieces.find(({ id }) => id === placed.pieceId);
      if (!piece) continue;
      const layers = layersUnder(placed, segment);
      const count = of(placed.pieceId);
      if (placed.hand === 'fold') count.fold += 1;
      else if (layers === 2) {
        count.plain += 1;
        count.mirrored += 1;
      } else if (placed.hand === 'either') count.either += 1;
      else {
        const drawn = handDrawn(piece, placed);
        count[drawn] += 1;
        if (drawn !== placed.hand && !cloth?.reversible) {
          faults.push({ pieceId: piece.id, hand: placed.hand as 'plain' | 'mirrored', asked: 1, cut: 0 });
        }
      }
    }
  }
  for (const [pieceId, count] of counts) {
    const asked = askedFor(lay, pieceId);
    const whole = asked.plain + asked.mirrored + asked.onFold;
    const cut = count.plain + count.mirrored + count.fold + count.either;
    if (cut !== whole) faults.push({ pieceId, hand: 'altogether', asked: whole, cut });
  }
  return faults;
}

/** Asked for by this lay, without what has no place. */
function askedFor(lay: ClothLay, pieceId: string): { plain: number; mirrored: number; onFold: number } {
  const sum = { plain: 0, mirrored: 0, onFold: 0 };
  for (const { id, plain, mirrored } of lay.wanted ?? []) {
    if (id === pieceId) {
      sum.plain += plain;
      sum.mirrored += mirrored;
    } else if (id === `${pieceId}~fold`) sum.onFold += plain + mirrored;
  }
  for (const out of lay.unplaced) {
    if (out.pieceId !== pieceId) continue;
    sum.plain -= out.plain;
    sum.mirrored -= out.mirrored;
    sum.onFold -= out.onFold;
  }
  return sum;
}

/** How many layers of cloth lie under the middle of a placed piece. */
function layersUnder(placed: Placed, { spread, lanes }: ClothLay['segments'][number]): 1 | 2 {
  if (!lanes) return spread === 'single' ? 1 : 2;
  const { minY, maxY } = boundingBox(placed.outline);
  const middle = (minY + maxY) / 2;
  return lanes.find(({ fromMm, toMm }) => middle >= fromMm && middle <= toMm)?.layers ?? 1;
}

/** Whether an outline as placed is the piece as drawn or its mirror image, by its corners; unfolded wholes are plain. */
function handDrawn(piece: Piece, placed: Placed): 'plain' | 'mirrored' {
  const { outline } = cutShape(piece);
  if (Math.abs(Math.abs(signedArea(outline)) - Math.abs(signedArea(placed.outline))) > 1)
    return placed.hand as 'plain';
  const lies = (mirrored: boolean): boolean => {
    const ring = placeRing(outline, placed.rotation, mirrored, placed.x, placed.y);
    return ring.every(([x, y]) =>
      placed.outline.some(([u, v]) => Math.hypot(u - x, v - y) < SAME_OUTLINE_MM),
    );
  };
  if (lies(placed.hand === 'mirrored')) return placed.hand as 'plain' | 'mirrored';
  return lies(false) ? 'plain' : 'mirrored';
}
