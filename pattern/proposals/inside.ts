import { sideOf } from '../reading/containment.ts';
import type { DrawingOutline, ReadDrawing } from '../reading/drawing.ts';

/** What an outline inside a picked one is. */
export type InsideRole = 'hole' | 'sewLine' | 'internal' | 'ignore';

/** The inner outline with more than this part of the area is the sew line of the outer one. */
const SEW_LINE_PART = 0.5;
/** One with less than this part, and smaller than this both ways, is a hole punched or cut. */
const HOLE_PART = 0.05;
const HOLE_MM = 40;
/** Drawn to point at things, not to be cut. */
const POINTING = /arrow|pfeil/i;

const children = new WeakMap<ReadDrawing, ReadonlyMap<string, readonly DrawingOutline[]>>();

/** Outlines that lie directly in this one. */
export function directlyInside(reading: ReadDrawing, outlineId: string): readonly DrawingOutline[] {
  let byParent = children.get(reading);
  if (!byParent) {
    const lists = new Map<string, DrawingOutline[]>();
    for (const outline of reading.outlines) {
      if (outline.parent === null) continue;
      const list = lists.get(outline.parent);
      if (list) list.push(outline);
      else lists.set(outline.parent, [outline]);
    }
    byParent = lists;
    children.set(reading, byParent);
  }
  return byParent.get(outlineId) ?? [];
}

/**
 * A first guess at what the outlines inside one are: those directly in it, and those in its sew line, which is a line
 * on the piece and not a thing of its own. `drawn` are parts of other marks, such as heads of arrows.
 */
export function guessInside(
  reading: ReadDrawing,
  outline: DrawingOutline,
  drawn: ReadonlySet<string> = new Set(),
): Readonly<Record<string, InsideRole>> {
  const file = reading.proposals?.find(({ outlineId }) => outlineId === outline.id);
  const roles: Record<string, InsideRole> = {};
  const guess = (child: DrawingOutline, isSewLine: boolean): InsideRole => {
    if (drawn.has(child.id)) return 'ignore';
    if (file?.sewLineIds.includes(child.id)) return 'sewLine';
    if (file?.holeIds.includes(child.id)) return 'hole';
    if (file?.internalIds.includes(child.id)) return 'internal';
    if (isSewLine) return 'sewLine';
    return isHole(reading, child, outline) ? 'hole' : 'internal';
  };
  const direct = directlyInside(reading, outline.id);
  const largest = direct.reduce<DrawingOutline | null>(
    (most, child) => (!most || child.areaMm2 > most.areaMm2 ? child : most),
    null,
  );
  const sewLine =
    largest && largest.areaMm2 > SEW_LINE_PART * outline.areaMm2 && !isRing(reading, largest, outline)
      ? largest
      : null;
  for (const child of direct) roles[child.id] = guess(child, child === sewLine);
  if (sewLine && roles[sewLine.id] === 'sewLine')
    for (const child of directlyInside(reading, sewLine.id)) roles[child.id] = guess(child, false);
  return roles;
}

/** Loops of one element share its id before the point. */
const elementOf = ({ id }: DrawingOutline): string => id.replace(/\.\d+$/, '');

const loops = new WeakMap<ReadDrawing, ReadonlyMap<string, number>>();

/**
 * Whether both are loops of one element that has a hole in it: it is filled, or has no more than these two. Programs
 * that draw all lines of a kind as one element fill none of them.
 */
function isRing(reading: ReadDrawing, inner: DrawingOutline, outer: DrawingOutline): boolean {
  const element = elementOf(outer);
  if (elementOf(inner) !== element) return false;
  let counts = loops.get(reading);
  if (!counts) {
    const found = new Map<string, number>();
    for (const outline of reading.outlines)
      found.set(elementOf(outline), (found.get(elementOf(outline)) ?? 0) + 1);
    counts = found;
    loops.set(reading, counts);
  }
  const isPair = counts.get(element) === 2 && inner.areaMm2 < SEW_LINE_PART * outer.areaMm2;
  return outer.fillColour !== null || isPair;
}

function isHole(reading: ReadDrawing, child: DrawingOutline, outline: DrawingOutline): boolean {
  if (isRing(reading, child, outline)) return true;
  if (child.areaMm2 > HOLE_PART * outline.areaMm2 || Math.max(child.widthMm, child.heightMm) > HOLE_MM)
    return false;
  // Another pen or layer says another thing; so does a colour of its own, which shows that something is there.
  if (child.layer !== outline.layer || child.strokeColour !== outline.strokeColour) return false;
  if (child.fillColour !== null && child.fillColour !== '#ffffff' && child.fillColour !== outline.fillColour)
    return false;
  if (POINTING.test(`${child.label} ${child.elementId}`)) return false;
  return child.ring.every((point) => sideOf(outline.ring, point) === 'inside');
}
