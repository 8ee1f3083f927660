import { type Shape, sideOf } from './containment.ts';
import type { DrawingText } from './drawing.ts';
import { READING_LIMITS } from './limits.ts';
import { isTelling, type NameCandidate, offMiddleOf } from './pieceName.ts';
import type { WorkBudget } from './simplify.ts';

/** The words that belong to one outline. */
export interface Words {
  readonly inside: string[];
  readonly beside: string[];
  /** Those that may name it. */
  readonly names: NameCandidate[];
}

/** Text farther from an outline than this, and than three lines of its own, is not about it. */
const BESIDE_MM = 20;

/** Areas that differ by less than this part are those of copies. */
const SAME_AREA_PART = 0.999;

/** What fills more than this part of an outline is drawn for the same piece: words on it name the outline too. */
const FILLS_PART = 0.4;

/**
 * Gives every text to the smallest outline that holds its middle, else to the nearest one close by. An outline
 * without telling words of its own gets those of the outlines in it as well. `parents` gives for each outline the one around it or −1.
 */
export function lettering(
  outlines: readonly Shape[],
  parents: readonly number[],
  texts: readonly DrawingText[],
  budget: WorkBudget,
): Words[] {
  const words: Words[] = outlines.map(() => ({ inside: [], beside: [], names: [] }));
  const most = READING_LIMITS.textsPerOutline;
  const add = (list: string[] | undefined, text: string): void => {
    if (list && list.length < most && !list.includes(text)) list.push(text);
  };
  for (const { text, box, sizeMm } of texts) {
    const x = (box.minX + box.maxX) / 2;
    const y = (box.minY + box.maxY) / 2;
    let holder = -1;
    let nearest = -1;
    let gap = Math.max(BESIDE_MM, 3 * sizeMm);
    budget.left -= outlines.length;
    if (budget.left < 0) break;
    outlines.forEach((outline, i) => {
      const { box: around } = outline;
      const away = Math.hypot(
        Math.max(0, around.minX - box.maxX, box.minX - around.maxX),
        Math.max(0, around.minY - box.maxY, box.minY - around.maxY),
      );
      if (away < gap) {
        nearest = i;
        gap = away;
      }
      if (x < around.minX || x > around.maxX || y < around.minY || y > around.maxY) return;
      // Of copies that overlap, the words were written on the one drawn last.
      if (holder >= 0 && (outlines[holder]?.area ?? 0) < outline.area * SAME_AREA_PART) return;
      budget.left -= outline.points.length;
      if (sideOf(outline.points, [x, y]) !== 'outside') holder = i;
    });
    const at = holder >= 0 ? holder : nearest;
    if (at < 0) continue;
    add(holder >= 0 ? words[at]?.inside : words[at]?.beside, text);
    const names = words[at]?.names;
    if (names && names.length < most)
      names.push({
        text,
        sizeMm,
        stands: holder >= 0 ? 'in' : 'beside',
        offMiddle: offMiddleOf([x, y], outlines[at]!.box),
      });
  }
  // From the innermost outwards: what has no telling words of its own takes those of what lies in it.
  const told = words.map(({ inside }) => inside.some(isTelling));
  const inwardsFirst = outlines
    .map((_, i) => i)
    .sort((i, j) => (outlines[i]?.area ?? 0) - (outlines[j]?.area ?? 0));
  for (const i of inwardsFirst) {
    const parent = parents[i] ?? -1;
    if (parent >= 0 && outlines[i]!.area > FILLS_PART * outlines[parent]!.area)
      for (const name of words[i]?.names ?? []) {
        const names = words[parent]!.names;
        if (name.stands !== 'beside' && names.length < most) names.push({ ...name, stands: 'within' });
      }
    if (parent >= 0 && !told[parent])
      for (const text of words[i]?.inside ?? []) add(words[parent]?.inside, text);
  }
  return words;
}
