import { boundingBox } from '../../../../nesting/geometry/rings.ts';
import { Contacts } from '../../../../nesting/hand/contacts.ts';
import { FreePlaces } from '../../../../nesting/hand/freePlaces.ts';
import type { Container, Pose } from '../../../../nesting/index.ts';
import type { ClothLay, Project } from '../../../../pattern/exchange/project.ts';
import {
  type CopyId,
  type HandFault,
  type HandLay,
  pieceOf,
  placementOf,
  posesOf,
} from '../../../../pattern/lay/hand/handLay.ts';
import { clothFrame } from '../../../../pattern/plan/clothFrame.ts';
import type { PlacedKey } from '../../../render/handView.ts';
import { t } from '../../../strings/index.ts';
import { formatLength } from '../../../strings/lengths.ts';

/** A placed piece of a lay as a copy of its stretch: copies are counted in the order in which they are listed. */
export function copyAt(lay: ClothLay, { segment, index }: PlacedKey): CopyId | null {
  const placed = lay.segments[segment]?.placed ?? [];
  const item = placed[index]?.item;
  if (item === undefined) return null;
  const copy = placed.slice(0, index).filter((entry) => entry.item === item).length;
  return { stretch: segment, item, copy };
}

/** Where a copy stands in the list of a lay that was put down from this state; null if it is parked. */
export function keyIn(lay: ClothLay, hand: HandLay, id: CopyId): PlacedKey | null {
  const at = placementOf(hand, id);
  const index =
    lay.segments[id.stretch]?.placed.findIndex(
      (entry) =>
        entry.item === id.item && entry.x === at?.x && entry.y === at.y && entry.rotation === at.rotation,
    ) ?? -1;
  return index < 0 ? null : { segment: id.stretch, index };
}

/** "Strap, 2 of 4", with the hand where it matters. */
export function copyName(hand: HandLay, id: CopyId): string {
  const what = pieceOf(hand, id);
  const quantity =
    hand.stretches[id.stretch]?.problem.items.find(({ id: item }) => item === id.item)?.quantity ?? 1;
  const name = what?.cut.piece.name ?? id.item;
  const handed = what?.hand === 'mirrored' ? `${name} (${t.plan.hands.mirrored})` : name;
  return t.hand.copyName(handed, id.copy + 1, quantity);
}

/** One sentence for a broken rule. */
export function faultWords(hand: HandLay, fault: HandFault, units: Project['units']): string {
  const [a = '', b = ''] = fault.copies.map((id) => copyName(hand, id));
  const by = formatLength(Math.max(0.1, Math.round(fault.amountMm * 10) / 10), units);
  switch (fault.kind) {
    case 'overlap':
      return t.hand.fault.overlap(a, b, by);
    case 'gap':
      return t.hand.fault.gap(a, b, by);
    case 'outside':
      return t.hand.fault.outside(a, by);
    case 'blocked':
      return t.hand.fault.blocked(a, by);
    case 'fold':
      return t.hand.fault.fold(a, by);
    case 'pose':
      return t.hand.fault.pose(a);
    default:
      return t.hand.fault.other(a);
  }
}

export const reasonIn =
  (hand: HandLay, units: Project['units']) =>
  (faults: readonly HandFault[]): string =>
    t.hand.reason(faults.slice(0, 3).map((fault) => faultWords(hand, fault, units)));

/** The places a copy may be dragged to in its pose. */
export function placesFor(hand: HandLay, id: CopyId, pose: Pose): FreePlaces {
  const { problem } = hand.stretches[id.stretch]!;
  const others = othersOf(hand, id);
  return new FreePlaces(new Contacts(problem), problem.containers[0] as Container, others, id.item, pose);
}

/** All that lies on the copy's stretch beside it. */
export function othersOf(hand: HandLay, id: CopyId) {
  const { placements } = hand.layouts[id.stretch]!;
  return placements.filter(({ item, copy }) => item !== id.item || copy !== id.copy);
}

/** A free place for a parked copy: in the pose that keeps the cloth shortest. */
export function freePlaceFor(hand: HandLay, id: CopyId) {
  const item = hand.stretches[id.stretch]?.problem.items.find((entry) => entry.id === id.item);
  const layout = hand.layouts[id.stretch];
  if (!item || !layout) return null;
  const box = boundingBox(item.outline);
  const beyond = layout.length + Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  let best: { x: number; y: number; rotation: number; mirrored: boolean } | null = null;
  for (const { rotation, mirrored } of posesOf(hand, id).poses) {
    const [x, y] = placesFor(hand, id, { rotation, mirrored }).first(beyond) ?? [];
    if (x === undefined || y === undefined || (best && best.x <= x)) continue;
    best = { x, y, rotation, mirrored };
  }
  return best;
}

/** Where a copy lies as the maker chalks it: the lower left corner of its box, from the cut end and the edge. */
export interface Corner {
  readonly along: number;
  readonly across: number;
}

/** How far the axes of a stretch are from the cloth's own: squaring and selvedge lie between. Millimetres. */
export function originOf(project: Project, lay: ClothLay, segment: number): readonly [number, number] {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  const stretch = clothFrame(lay, cloth).stretches.find(({ index }) => index === segment);
  return [stretch?.originMm[0] ?? 0, stretch?.originMm[1] ?? 0];
}
