import type { DrawingOutline, ReadDrawing } from '../reading/drawing.ts';
import { directlyInside, guessInside } from './inside.ts';

/** Outlines narrower than this are hardly pieces: stitch holes, marks, lettering. Millimetres. */
export const SMALL_MM = 12;
/** Pieces laid out on a cloth take up at least this part of it. */
const LAID_PART = 0.6;
const FEWEST_LAID = 3;
/** A frame round the page takes up at least this part of its width and height, and holds so many outlines. */
const FRAME_PART = 0.95;
const FEWEST_FRAMED = 2;

const grounds = new WeakMap<ReadDrawing, ReadonlySet<string>>();

/**
 * Outlines that are no pieces but what pieces lie on: the cloth of a cutting layout drawn by hand, or a frame round the
 * page. What lies in them stands for itself.
 */
export function groundsOf(reading: ReadDrawing): ReadonlySet<string> {
  let known = grounds.get(reading);
  if (!known) {
    known = new Set(reading.outlines.filter((outline) => isGround(reading, outline)).map(({ id }) => id));
    grounds.set(reading, known);
  }
  return known;
}

function isGround(reading: ReadDrawing, outline: DrawingOutline): boolean {
  if (outline.depth > 0 || reading.proposals?.some(({ outlineId }) => outlineId === outline.id)) return false;
  const roles = guessInside(reading, outline);
  if (Object.values(roles).includes('sewLine')) return false;
  const laid = directlyInside(reading, outline.id).filter(
    ({ id, widthMm, heightMm }) => roles[id] === 'internal' && Math.min(widthMm, heightMm) >= SMALL_MM,
  );
  if (laid.length < FEWEST_FRAMED) return false;
  const part = laid.reduce((sum, { areaMm2 }) => sum + areaMm2, 0) / outline.areaMm2;
  if (laid.length >= FEWEST_LAID && part >= LAID_PART) return true;
  const page = reading.pages?.find(({ number }) => number === outline.pageNumber) ?? reading.page;
  const isRectangle = outline.areaMm2 > 0.999 * outline.widthMm * outline.heightMm;
  return (
    isRectangle &&
    outline.onPage === 'inside' &&
    outline.widthMm >= FRAME_PART * page.widthMm &&
    outline.heightMm >= FRAME_PART * page.heightMm
  );
}
