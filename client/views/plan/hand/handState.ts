import type { ClothLay, Project } from '../../../../pattern/exchange/project.ts';
import {
  type CopyId,
  type HandFault,
  type HandLay,
  isSamePlace,
  pieceOf,
  placementOf,
  segmentOf,
} from '../../../../pattern/lay/hand/handLay.ts';
import { clothFrame } from '../../../../pattern/plan/clothFrame.ts';
import type { PlacedKey } from '../../../render/handView.ts';
import { t } from '../../../strings/index.ts';
import { formatLength } from '../../../strings/lengths.ts';

/** A placed piece of a lay as a copy of its stretch: copies are counted in the order in which they are listed. */
export function copyAt(lay: ClothLay, hand: HandLay, { segment, index }: PlacedKey): CopyId | null {
  const item = lay.segments[segment]?.placed[index]?.item;
  if (item === undefined) return null;
  // Sheets alike are segments of one stretch, and their copies are counted through.
  const isSheet = hand.cloth.kind === 'remnant';
  const before = (isSheet ? lay.segments.slice(0, segment) : []).flatMap(({ placed }) => placed);
  const own = lay.segments[segment]?.placed.slice(0, index) ?? [];
  const copy = [...before, ...own].filter((entry) => entry.item === item).length;
  return { stretch: isSheet ? 0 : segment, item, copy };
}

/** Where a copy stands in the list of a lay that was put down from this state; null if it is parked. */
export function keyIn(lay: ClothLay, hand: HandLay, id: CopyId): PlacedKey | null {
  const at = placementOf(hand, id);
  if (!at) return null;
  const segment = segmentOf(hand, id);
  const placed = lay.segments[segment]?.placed ?? [];
  const index = placed.findIndex((entry) => entry.item === id.item && isSamePlace(entry, at));
  return index < 0 ? null : { segment, index };
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

/** Where a copy lies as the maker chalks it: the lower left corner of its box, from the cut end and the edge. */
export interface Corner {
  readonly along: number;
  readonly across: number;
}

/** How far the axes of a stretch are from the cloth's own: squaring and selvedge lie between. Millimetres. */
export function originOf(project: Project, lay: ClothLay, segment: number): readonly [number, number] {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  const stretch = clothFrame(lay, cloth).stretches.find(({ index }) => index === segment);
  // A stretch that lies folded beside an open one begins higher up: its own fold is what is measured from.
  return [stretch?.originMm[0] ?? 0, (stretch?.originMm[1] ?? 0) - (stretch?.lowMm ?? 0)];
}
