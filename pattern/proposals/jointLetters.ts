import type { Point } from '../../nesting/packing/types.ts';
import type { OpenJoint } from '../exchange/project.ts';
import { SAME_LENGTH_MM } from '../parts/joinPieces.ts';
import { lengthAlong, sideNear, stretchPoints } from '../parts/stretch.ts';
import { sideOf } from '../reading/containment.ts';
import type { DrawingOutline, DrawingText, ReadDrawing } from '../reading/drawing.ts';

/** A letter, number or mark drawn at an edge of an outline: there a partner belongs. */
export interface JointMark extends OpenJoint {
  readonly outlineId: string;
  readonly lengthMm: number;
}

/** Two outlines that have the same letter at an edge. */
export interface JointPair {
  readonly letter: string;
  readonly first: JointMark;
  readonly second: JointMark;
  /** By how much the edges differ, mm. */
  readonly offMm: number;
}

export interface JointProposals {
  readonly pairs: readonly JointPair[];
  /** Letters without a partner in this drawing, or with more than one. */
  readonly lone: readonly JointMark[];
}

/** Letters stand inside the edge they mark, no farther than this or than so many of their heights. Millimetres. */
const NEAR_MM = 25;
const NEAR_LETTERS = 2.5;
/** Half a letter may stand beyond the edge: then the other half stands on the partner. */
const BEYOND_MM = 8;
/** Smaller outlines than this are no parts of pieces, mm. */
const LEAST_PART_MM = 30;
const LETTER = /^(?:[A-Z]|([A-Z])\1|[A-Z]\d{1,2})$/;
/** Sizes and right-hand and left-hand marks are single letters too; alone they say nothing of parts. */
const OTHER_LETTER = /^(?:XS|S|M|L|XL|R)$/;
const MARK = /^(?:\d{1,2}|[★☆●○▲△▼▽■□◆◇♥♦♣♠✚]{1,3})$/u;

/**
 * Edges that are to be joined at the same letter. Letters count wherever they stand at an edge; numbers and marks,
 * which may mean anything, only where two edges of one length have the same.
 */
export function jointProposals(reading: ReadDrawing): JointProposals {
  const byLetter = new Map<string, JointMark[]>();
  for (const text of reading.texts) {
    const letter = text.text.trim();
    if (!LETTER.test(letter) && !MARK.test(letter)) continue;
    const mark = markAt(reading, text, letter);
    if (!mark) continue;
    const list = byLetter.get(letter) ?? [];
    // One letter may be drawn at both ends of its edge.
    if (!list.some((other) => other.outlineId === mark.outlineId && other.edge === mark.edge))
      list.push(mark);
    byLetter.set(letter, list);
  }
  const pairs: JointPair[] = [];
  const lone: JointMark[] = [];
  for (const [letter, marks] of byLetter) {
    const [first, second] = marks;
    if (first && second && marks.length === 2 && first.outlineId !== second.outlineId) {
      const offMm = Math.abs(first.lengthMm - second.lengthMm);
      if (offMm <= SAME_LENGTH_MM || isPlainLetter(letter)) pairs.push({ letter, first, second, offMm });
    } else if (isPlainLetter(letter)) lone.push(...marks);
  }
  // A single letter in a drawing without any pair is the name of a piece or of a size as likely.
  return { pairs, lone: pairs.length > 0 || lone.length > 1 ? lone : lone.filter(isAtStraightEdge(reading)) };
}

const isPlainLetter = (letter: string): boolean => LETTER.test(letter) && !OTHER_LETTER.test(letter);

/** A lone letter counts where it stands close to a straight edge. */
function isAtStraightEdge(reading: ReadDrawing): (mark: JointMark) => boolean {
  return ({ outlineId, letter }) => {
    const outline = reading.outlines.find(({ id }) => id === outlineId);
    const text = reading.texts.find((entry) => entry.text.trim() === letter);
    return outline !== undefined && text !== undefined && sideNear(outline.ring, middleOf(text)).offMm <= 12;
  };
}

const middleOf = ({ box }: DrawingText): Point => [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];

/** The edge of the outermost outline that a letter stands at; null where it stands at none. */
function markAt(reading: ReadDrawing, text: DrawingText, letter: string): JointMark | null {
  const at = middleOf(text);
  const reach = Math.max(NEAR_MM, NEAR_LETTERS * text.sizeMm);
  const isPart = ({ depth, widthMm, heightMm, pageNumber }: DrawingOutline): boolean =>
    depth === 0 && Math.min(widthMm, heightMm) >= LEAST_PART_MM && pageNumber === text.pageNumber;
  let best: { outline: DrawingOutline; off: number; mark: JointMark } | null = null;
  for (const outline of reading.outlines) {
    const { box, ring } = outline;
    if (!isPart(outline)) continue;
    if (at[0] < box.minX - BEYOND_MM || at[0] > box.maxX + BEYOND_MM) continue;
    if (at[1] < box.minY - BEYOND_MM || at[1] > box.maxY + BEYOND_MM) continue;
    const { side, offMm } = sideNear(ring, at);
    const isInside = sideOf(ring, at) !== 'outside';
    if (offMm > (isInside ? reach : BEYOND_MM)) continue;
    // Where outlines lie close together, the one it stands in counts.
    const off = isInside ? offMm : offMm + NEAR_MM;
    if (best && best.off <= off) continue;
    const lengthMm = lengthAlong(stretchPoints(ring, side) ?? []);
    best = { outline, off, mark: { letter, ...side, outlineId: outline.id, lengthMm } };
  }
  return best?.mark ?? null;
}
