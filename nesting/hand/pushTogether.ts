import { boundingBox } from '../geometry/rings.ts';
import type { Container, Placement, Problem } from '../packing/types.ts';
import { Contacts } from './contacts.ts';
import { FreePlaces } from './freePlaces.ts';

/** Slides shorter than this don't count, as a part of the cloth's width: nobody could cut the difference. */
const LEAST_SLIDE_SHARE = 1e-5;
/** Rounds of slides at most; each after the first mends what the one before made room for. */
const MOST_ROUNDS = 40;

/**
 * Closes the gaps of an arrangement without changing it: one piece after the other, from the cut end on, slides back
 * towards it as far as it goes, then down to the selvedge or the fold and back again, until nothing moves any more.
 * No piece turns or passes another. This is compaction by exact line searches along the two axes, as in Egeblad,
 * Nielsen & Odgaard 2007; it never makes the cloth longer.
 *
 * @param placements a legal arrangement of copies of the problem, all in one container; illegal pieces stay put
 * @param isFixed copies that must not move; those confined to points, or to lines across, never do
 * @returns the same copies in the same order, some of them moved
 */
export function pushTogether(
  problem: Problem,
  container: Container,
  placements: readonly Placement[],
  isFixed: (placement: Placement) => boolean,
): Placement[] {
  const now = [...placements];
  const width = container.kind === 'strip' ? container.width : extentOf(container.outline);
  const least = LEAST_SLIDE_SHARE * width;
  const contacts = new Contacts(problem);
  const lowEnd = (placement: Placement): number =>
    placement.x + contacts.posed(placement.item, placement).box.minX;
  const longest = Math.max(...now.map((p) => p.x + contacts.posed(p.item, p).box.maxX), 0) + width;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let moved = 0;
    const order = now.map((_, i) => i).sort((a, b) => lowEnd(now[a]!) - lowEnd(now[b]!));
    for (const index of order) {
      const start = now[index] as Placement;
      const { item } = contacts.posed(start.item, start);
      const lattices = item.poses.flatMap(({ lattice }) => lattice ?? []);
      // On lines along the cloth it slides along them; off any other lattice it would slide.
      const isOnLine = lattices.every(({ u, v }) => v === null && u[0] === 0);
      if (isFixed(start) || !isOnLine) continue;
      const others = now.filter((_, i) => i !== index);
      const places = new FreePlaces(contacts, container, others, start.item, start);
      let { x, y } = start;
      if (!places.isFree(x, y)) continue;
      const slide = (dx: number, dy: number): void => {
        const by = places.slide(x, y, dx, dy, longest);
        if (by < least) return;
        x += by * dx;
        y += by * dy;
        moved += by;
      };
      slide(-1, 0);
      if (!item.onFold && lattices.length === 0) {
        slide(0, -1);
        slide(-1, 0);
      }
      // Sums of slides round: what would no longer pass as free is not taken.
      const isMoved = x !== start.x || y !== start.y;
      if (isMoved && places.isFree(x, y)) now[index] = { ...start, x, y };
    }
    if (moved < least) break;
  }
  return now;
}

function extentOf(outline: Parameters<typeof boundingBox>[0]): number {
  const box = boundingBox(outline);
  return Math.min(box.maxX - box.minX, box.maxY - box.minY);
}
