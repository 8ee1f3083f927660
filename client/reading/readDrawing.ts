import type { Language } from '../../pattern/language.ts';
import type { SheetLayout } from '../../pattern/pages/layout.ts';
import type { Reading } from '../../pattern/reading/drawing.ts';
import { language } from '../strings/index.ts';

/** What of a drawing is read, and how large. */
export interface ReadingOptions {
  /** Multiplies all sizes. */
  readonly factor: number;
  /** Ids of layers, for files that have some; those the file shows if left out. */
  readonly layers?: readonly string[];
  /** Numbers of pages from 1, for a PDF; all if left out. */
  readonly pages?: readonly number[];
  /** Opens a PDF that is locked. */
  readonly password?: string;
  /** The pages of a PDF as sheets of one drawing; apart if left out. */
  readonly sheets?: SheetLayout | 'find' | undefined;
}

export interface ReadingOrder {
  readonly language: Language;
  readonly bytes: Uint8Array;
  readonly fileName: string;
  readonly options: ReadingOptions;
}

/** What the thread says: how far it is, and at last the drawing. */
export type ReadingNews =
  | { readonly kind: 'page'; readonly done: number; readonly of: number }
  | { readonly kind: 'reading'; readonly reading: Reading };

/** A drawing that takes longer than this is given up: the largest real patterns take about a second. */
const LONGEST_MS = 30_000;

/**
 * Reads a drawing in a thread of its own that is ended when it is done, takes too long or is called off.
 * @param onPage told after each page of a PDF
 * @param giveUp aborts the reading; the promise then never settles
 * @returns the reading; a thread that breaks or runs out of time gives an unread drawing with that sentence
 */
export function readDrawing(
  order: Omit<ReadingOrder, 'language'>,
  words: { readonly tooSlow: string; readonly broken: string },
  giveUp: AbortSignal,
  onPage: (done: number, of: number) => void = () => undefined,
): Promise<Reading> {
  return new Promise((resolve) => {
    const worker = new Worker(new URL('./drawingReader.worker.ts', import.meta.url), { type: 'module' });
    const end = (reading: Reading | null): void => {
      clearTimeout(timer);
      worker.terminate();
      if (reading) resolve(reading);
    };
    const unread = (message: string): Reading => ({ ok: false, fileName: order.fileName, message });
    const timer = setTimeout(() => end(unread(words.tooSlow)), LONGEST_MS);
    giveUp.addEventListener('abort', () => end(null), { once: true });
    worker.onmessage = ({ data }: MessageEvent<ReadingNews>) => {
      if (data.kind === 'reading') end(data.reading);
      else if (!giveUp.aborted) onPage(data.done, data.of);
    };
    worker.onerror = () => end(unread(words.broken));
    worker.postMessage({ ...order, language } satisfies ReadingOrder);
  });
}
