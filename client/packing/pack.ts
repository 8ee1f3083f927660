import type { Layout, Problem, SearchResult } from '../../nesting/index.ts';

export interface PackOrder {
  readonly problem: Problem;
  readonly seed: number;
  /** How long to look, in milliseconds. */
  readonly maxMs: number;
  readonly maxSteps?: number;
}

/** What the packing thread tells the page. */
export type PackReport =
  | { readonly kind: 'better'; readonly layout: Layout }
  | { readonly kind: 'done'; readonly result: SearchResult }
  | { readonly kind: 'failed'; readonly reason: string };

/** A thread that waits for its order: fetched while the server answers, so that packing works without it later. */
let spare: Worker | null = null;

function newWorker(): Worker {
  return new Worker(new URL('./packer.worker.ts', import.meta.url), { type: 'module' });
}

/** Makes a packing thread ready. */
export function prepare(): void {
  spare ??= newWorker();
}

/** Copies without a place first, then the length: less is better. */
export function isBetterLayout(a: Layout, b: Layout): boolean {
  if (a.unplaced.length !== b.unplaced.length) return a.unplaced.length < b.unplaced.length;
  return a.length < b.length;
}

/**
 * Packs a problem in a thread of its own until the time is up or the signal is aborted, and tells of each better layout.
 * Resolves with the best result there was, null if there was none; rejects if the thread breaks.
 */
export function pack(
  order: PackOrder,
  onBetter: (layout: Layout) => void,
  signal: AbortSignal,
): Promise<SearchResult | null> {
  return new Promise((resolve, reject) => {
    const worker = spare ?? newWorker();
    spare = newWorker();
    let best: Layout | null = null;
    const end = (): void => {
      worker.terminate();
      const verdict = best?.unplaced.length === 0 ? 'fits' : 'not found';
      resolve(best && { verdict, layout: best, steps: 0 });
    };
    if (signal.aborted) return end();
    signal.addEventListener('abort', end, { once: true });
    worker.onmessage = ({ data }: MessageEvent<PackReport>) => {
      if (data.kind === 'failed') {
        worker.terminate();
        reject(new Error(data.reason));
        return;
      }
      if (data.kind === 'done') {
        worker.terminate();
        resolve(data.result);
      } else if (best === null || isBetterLayout(data.layout, best)) {
        best = data.layout;
        onBetter(best);
      }
    };
    worker.onerror = (event) => {
      worker.terminate();
      reject(new Error(event.message));
    };
    worker.postMessage(order);
  });
}
