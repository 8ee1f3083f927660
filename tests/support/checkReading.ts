import { draftOf } from '../../client/reading/picking.ts';
import { pickAll } from '../../client/reading/takeAll.ts';
import { findTestSquares, readAnyDrawing } from '../../pattern/reading/index.ts';
import { scaledDrawing } from '../../pattern/reading/scaledDrawing.ts';
import type { SeedKind } from './seedDrawings.ts';

/** What came of reading a file: a fault of ours, if any, and whether it was read at all. */
export interface ReadingCheck {
  readonly fault: string | null;
  readonly read: boolean;
}

/** Sentences by which a reader owns that something went wrong inside it. */
const OWNED = /cannot follow/;

/**
 * Reads a file the way the page does, to the pieces proposed, and says what of it must not be: something thrown,
 * figures that are no numbers, ids that stand twice, a refusal without a sentence.
 */
export async function checkReading(bytes: Uint8Array, kind: SeedKind): Promise<ReadingCheck> {
  const name = `mutated.${kind}`;
  const fail = (fault: string, read = true): ReadingCheck => ({ fault, read });
  try {
    const reading = await readAnyDrawing(bytes, name, kind === 'pdf' ? { sheets: 'find' } : {});
    if (!reading.ok) {
      if (!/^[A-Z][^\n]{5,300}[.)]$/.test(reading.message))
        return fail(`no sentence: ${reading.message}`, false);
      return { fault: OWNED.test(reading.message) ? reading.message : null, read: false };
    }
    const ids = new Set<string>();
    for (const { id, ring, areaMm2, widthMm, heightMm } of reading.outlines) {
      if (ids.has(id)) return fail(`the id ${id} stands twice`);
      ids.add(id);
      if (ring.length < 3 || !(areaMm2 > 0)) return fail(`${id} encloses nothing`);
      if (![widthMm, heightMm, ...ring.flat()].every(Number.isFinite)) return fail(`${id} is not finite`);
    }
    for (const { id, points } of reading.openLines)
      if (points.length < 2 || !points.flat().every(Number.isFinite)) return fail(`line ${id} is unsound`);
    for (const { text, box } of reading.texts)
      if (text === '' || !Object.values(box).every(Number.isFinite)) return fail(`text "${text}" is unsound`);
    if (reading.warnings.some(({ text }) => text === '' || text.length > 800))
      return fail('a warning without measure');
    findTestSquares(reading);
    scaledDrawing(reading, 1.03);
    for (const pick of pickAll(reading)) {
      try {
        draftOf(reading, pick, 'Main cloth');
      } catch (error) {
        // A sentence for the maker is an answer.
        if (!(error instanceof RangeError) || error.message.includes('draftOf')) throw error;
      }
    }
    return { fault: null, read: true };
  } catch (error) {
    return fail(error instanceof Error ? (error.stack ?? error.message).slice(0, 600) : String(error));
  }
}
