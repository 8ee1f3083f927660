import type * as PdfEngine from 'pdfjs-dist/legacy/build/pdf.mjs';

/**
 * pdf.js, ready to parse in the thread that called: its two halves are joined without a worker of its own, since
 * readers run apart from the page and the server's main thread already. Loaded when the first PDF is read.
 */
export async function loadPdfEngine(): Promise<typeof PdfEngine> {
  standIns();
  const shared = globalThis as { pdfjsWorker?: unknown };
  // Where pdf.js looks for its parsing half before it would start a worker.
  shared.pdfjsWorker ??= await parsingHalf();
  return import('pdfjs-dist/legacy/build/pdf.mjs');
}

/**
 * Loaded in a browser's worker the parsing half would take that worker for its own and answer all its messages; it
 * holds back where it sees a window, so it is shown one while it loads.
 */
async function parsingHalf(): Promise<unknown> {
  const shared = globalThis as { window?: unknown };
  const alone = !('window' in shared);
  if (alone) shared.window = shared;
  try {
    return await import('pdfjs-dist/legacy/build/pdf.worker.mjs');
  } finally {
    if (alone) delete shared.window;
  }
}

/**
 * Classes of the browser that pdf.js names while it loads, for where there are none (Node without a canvas). Nothing
 * is drawn here, so they need not do anything.
 */
function standIns(): void {
  const shared = globalThis as Record<string, unknown>;
  shared.DOMMatrix ??= class DOMMatrix {};
  shared.ImageData ??= class ImageData {};
  shared.Path2D ??= class Path2D {};
}
