import type { DrawingOutline, ReadDrawing } from '../reading/drawing.ts';
import { readInstructions } from './instructions.ts';

/** An instruction stands no farther from its piece than this, … */
const REACH_MM = 60;
/** … and so many times nearer to it than to any other. */
const CLEARLY = 2;
const MOST_WORDS = 500;

const strays = new WeakMap<ReadDrawing, ReadonlyMap<string, readonly string[]>>();

/**
 * Instructions ("Cut 2") that stand too far from every outline to be about one at first sight, by the id of the one
 * they stand by all the same: the only one near.
 */
export function strayWords(reading: ReadDrawing, outlineId: string): readonly string[] {
  let known = strays.get(reading);
  if (!known) {
    known = find(reading);
    strays.set(reading, known);
  }
  return known.get(outlineId) ?? [];
}

function find(reading: ReadDrawing): ReadonlyMap<string, readonly string[]> {
  const claimed = new Set(
    reading.outlines.flatMap(({ textInside, textBeside }) => [...textInside, ...textBeside]),
  );
  const found = new Map<string, string[]>();
  const tops = reading.outlines.filter(({ depth }) => depth === 0);
  for (const { text, box, pageNumber } of reading.texts.slice(0, MOST_WORDS)) {
    if (claimed.has(text) || readInstructions([text]).instructions.length === 0) continue;
    let nearest: DrawingOutline | null = null;
    let least = Number.POSITIVE_INFINITY;
    let second = Number.POSITIVE_INFINITY;
    for (const outline of tops) {
      if (outline.pageNumber !== pageNumber) continue;
      const away = Math.hypot(
        Math.max(0, outline.box.minX - box.maxX, box.minX - outline.box.maxX),
        Math.max(0, outline.box.minY - box.maxY, box.minY - outline.box.maxY),
      );
      if (away < least) {
        second = least;
        least = away;
        nearest = outline;
      } else second = Math.min(second, away);
    }
    if (!nearest || least > REACH_MM || second < CLEARLY * least) continue;
    const words = found.get(nearest.id);
    if (words) words.push(text);
    else found.set(nearest.id, [text]);
  }
  return found;
}
