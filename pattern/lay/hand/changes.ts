import { pushTogether } from '../../../nesting/hand/pushTogether.ts';
import type { Layout, Placement } from '../../../nesting/index.ts';
import type { ClothLay, Project } from '../../exchange/project.ts';
import { handsServed } from '../assemble.ts';
import {
  type CopyId,
  type HandFault,
  type HandLay,
  isSameCopy,
  layoutOf,
  middleOf,
  pieceOf,
  placementOf,
  putDown,
  takeUp,
  withCopiesAt,
  withCopyAt,
} from './handLay.ts';

/** Changes of a lay by hand that concern more than one copy. */

/** Two copies of one stretch change places, each about the middle of the other's box, turned as they are. */
export function swapped(hand: HandLay, a: CopyId, b: CopyId): HandLay {
  const [p, q] = [placementOf(hand, a), placementOf(hand, b)];
  if (!p || !q || a.stretch !== b.stretch || isSameCopy(a, b)) return hand;
  const [middleA, middleB] = [middleOf(hand, a), middleOf(hand, b)];
  const [dx, dy] = [middleB[0] - middleA[0], middleB[1] - middleA[1]];
  return withCopiesAt(hand, [
    { id: a, place: { ...p, x: p.x + dx, y: p.y + dy, sheet: q.sheet } },
    { id: b, place: { ...q, x: q.x - dx, y: q.y - dy, sheet: p.sheet } },
  ]);
}

/**
 * Hands a copy over from one lay to another of the same material, where it is parked: the first no longer sets out to
 * cut it. Null if the other cloth can't take it as it is spread, or is wanted for it already in another way.
 */
export function handedOver(
  project: Project,
  from: HandLay,
  id: CopyId,
  to: ClothLay,
  reasonFor: (faults: readonly HandFault[]) => string,
): { from: ClothLay; to: ClothLay } | null {
  const what = pieceOf(from, id);
  if (!what || to.wanted === undefined) return null;
  const { demand } = what.cut;
  const open = { plain: demand.plain, mirrored: demand.mirrored };
  const hands = handsServed(what.hand, open);
  const change = (by: 1 | -1) => (entry: { id: string; plain: number; mirrored: number }) => {
    if (entry.id !== demand.id) return entry;
    const count = (hand: 'plain' | 'mirrored') => by * hands.filter((served) => served === hand).length;
    return { ...entry, plain: entry.plain + count('plain'), mirrored: entry.mirrored + count('mirrored') };
  };
  const left = putDown(withCopyAt(from, id, null), reasonFor);
  const known = to.wanted.some((entry) => entry.id === demand.id);
  const wanted = known ? to.wanted : [...to.wanted, { id: demand.id, plain: 0, mirrored: 0 }];
  const giver = takeUp(project, { ...left, wanted: (left.wanted ?? []).map(change(-1)) });
  const taker = takeUp(project, { ...to, wanted: wanted.map(change(1)) });
  if (typeof giver === 'string' || typeof taker === 'string') return null;
  const parked = (lay: HandLay) => lay.layouts.reduce((sum, { unplaced }) => sum + unplaced.length, 0);
  const before = takeUp(project, to);
  // What the cloth is too narrow for is refused by the rules, and would silently drop out of the list.
  if (typeof before === 'string' || parked(taker) <= parked(before)) return null;
  return { from: putDown(giver, reasonFor), to: putDown(taker, reasonFor) };
}

/**
 * The arrangement with its gaps closed, nothing turned and nothing passing another, each lane and each sheet by itself;
 * locked copies stay. Null if nothing moves.
 */
export function tidied(hand: HandLay): HandLay | null {
  let moved = false;
  const layouts = hand.stretches.map((stretch, index) => {
    const layout = hand.layouts[index] as Layout;
    const isFixed = ({ item, copy }: Placement): boolean =>
      hand.locked.some((id) => isSameCopy(id, { stretch: index, item, copy }));
    const roomOf = ({ container, containerCopy }: Placement): string => `${containerCopy} ${container}`;
    const rooms = [...new Set(layout.placements.map(roomOf))];
    const placements = rooms.flatMap((room) => {
      const there = layout.placements.filter((placement) => roomOf(placement) === room);
      const container = stretch.problem.containers.find(({ id }) => id === there[0]?.container);
      if (!container) return there;
      const next = pushTogether(stretch.problem, container, there, isFixed);
      moved ||= next.some((placement, i) => placement !== there[i]);
      return next;
    });
    return layoutOf(stretch, placements);
  });
  return moved ? { ...hand, layouts } : null;
}
