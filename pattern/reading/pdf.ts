import type * as PdfEngine from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Language } from '../language.ts';
import { assembleSheets } from '../pages/assemble.ts';
import { findLayout } from '../pages/findLayout.ts';
import { type SheetLayout, scaledLayout } from '../pages/layout.ts';
import type { AssembledSheets, DrawingLayer, ReadDrawing, Reading } from './drawing.ts';
import { TooManyPoints } from './flatten.ts';
import { FLATTENING_MM, PDF_SPARE, READING_LIMITS } from './limits.ts';
import { compose, type Matrix } from './matrix.ts';
import type { Budget } from './pdf/budget.ts';
import { loadPdfEngine } from './pdf/engine.ts';
import { withoutFontBombs } from './pdf/fontBombs.ts';
import { drawPage, type OperatorList } from './pdf/page.ts';
import { swellsBeyond } from './pdf/swelling.ts';
import { Refusal, unread, unreadFor } from './refusal.ts';
import { type Scene, setOutScenes } from './scenes.ts';
import { Warnings } from './warnings.ts';
import type { ReadingWords } from './words/index.ts';

export interface PdfOptions {
  /** Multiplies all sizes. */
  readonly factor?: number;
  /** Numbers of the pages to read, from 1. By default all, up to `READING_LIMITS.pages`. */
  readonly pages?: readonly number[];
  /** Ids of the layers to read. By default those that are shown when the file is opened. */
  readonly layers?: readonly string[];
  readonly password?: string;
  /**
   * Puts the pages together as the sheets of one drawing: as laid out here (in mm of the file, whatever the factor),
   * or as their frames and lines tell. By default each page stands by itself.
   */
  readonly sheets?: SheetLayout | 'find' | undefined;
  /** Told after each page. */
  readonly onPage?: (done: number, of: number) => void;
  /** Stops the reading. */
  readonly signal?: AbortSignal;
  /** The language of what is said; English if left out. */
  readonly language?: Language;
}

const MM_PER_POINT = 25.4 / 72;
// Of the permitted deviation, chords take the larger part; the rest goes to dropping needless vertices.
const CHORD_SHARE = 0.8;
const FLATNESS = FLATTENING_MM / PDF_SPARE;

/**
 * Reads the vector drawing of a PDF at true size: every closed outline, open line and text of its pages, in mm. Pages
 * are set side by side, each by itself, and say their number; pages without lines are said to be pictures. What a
 * hidden layer, a clip or the page's edge hides wholly is left out; of what they hide in part the whole line is read.
 *
 * Anything may be handed in: whatever is wrong with the file becomes a message (`ok: false`) or a warning; the promise
 * is never rejected. What is drawn and unpacked is bounded by `READING_LIMITS`, but for streams of a locked file and
 * rare ways of packing. With a damaged file the engine may leave a rejected promise of its own behind: a thread that
 * ends on unhandled rejections must see to that.
 */
export async function readPdf(
  bytes: Uint8Array,
  fileName: string,
  options: PdfOptions = {},
): Promise<Reading> {
  const refuse = (say: (words: ReadingWords) => string): Reading => unread(fileName, options.language, say);
  if (bytes.length === 0) return refuse(({ empty }) => empty);
  if (bytes.length > READING_LIMITS.pdfBytes)
    return refuse(({ tooLarge }) => tooLarge(READING_LIMITS.pdfBytes / 1_000_000));
  // The mark may stand a little into the file (ISO 32000-1, annex H, note 13).
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 1_024));
  if (!head.includes('%PDF-')) return refuse(({ notPdf }) => notPdf);
  const holdsPictures = holdsImages(bytes);
  let task: PdfEngine.PDFDocumentLoadingTask | null = null;
  try {
    if (await swellsBeyond(bytes, READING_LIMITS.pdfUnpackedBytes))
      return refuse(({ pdfSwells }) => pdfSwells);
    const sound = await withoutFontBombs(bytes);
    const engine = await loadPdfEngine();
    task = engine.getDocument({
      // A copy: the engine keeps what it is given.
      data: sound === bytes ? new Uint8Array(bytes) : sound,
      verbosity: 0,
      disableFontFace: true,
      useSystemFonts: false,
      isOffscreenCanvasSupported: false,
      isImageDecoderSupported: false,
      useWasm: false,
      // Pictures are never unpacked: only lines are read.
      maxImageSize: 1,
      ...(options.password === undefined ? {} : { password: options.password }),
    });
    const file = await task.promise;
    return await read(engine, file, fileName, holdsPictures, options);
  } catch (error) {
    const isLocked = error instanceof Error && error.name === 'PasswordException';
    const told = error instanceof Refusal ? error : new Refusal(reasonFor(error, options));
    return { ...unreadFor(told, fileName, options.language), ...(isLocked ? { locked: true } : {}) };
  } finally {
    await task?.destroy().catch(() => undefined);
  }
}

/** What the engine calls files that it can't make out; the last for what it finds while it looks for their parts. */
const DAMAGE = new Set(['InvalidPDFException', 'FormatError', 'XRefParseException', 'UnknownErrorException']);

function reasonFor(error: unknown, options: PdfOptions): (words: ReadingWords) => string {
  if (error instanceof TooManyPoints) return ({ tooManyLines }) => tooManyLines;
  if (options.signal?.aborted) return ({ pdfStopped }) => pdfStopped;
  const name = error instanceof Error ? error.name : '';
  if (name === 'PasswordException')
    return ({ pdfLocked, pdfWrongPassword }) =>
      options.password === undefined ? pdfLocked : pdfWrongPassword;
  return ({ pdfDamaged, cannotFollow }) => (DAMAGE.has(name) ? pdfDamaged : cannotFollow);
}

/** Whether the file has pictures in it: their entries are never packed. */
function holdsImages(bytes: Uint8Array): boolean {
  const decoder = new TextDecoder('latin1');
  const step = 1_000_000;
  for (let at = 0; at < bytes.length; at += step)
    if (/\/Subtype\s*\/Image\b/.test(decoder.decode(bytes.subarray(at, at + step + 64)))) return true;
  return false;
}

async function read(
  engine: typeof PdfEngine,
  file: PdfEngine.PDFDocumentProxy,
  fileName: string,
  holdsPictures: boolean,
  options: PdfOptions,
): Promise<ReadDrawing> {
  const warnings = new Warnings(options.language);
  const factor = options.factor ?? 1;
  const numbers = pageNumbers(file.numPages, options.pages, warnings);
  const config = await file.getOptionalContentConfig();
  const layers: DrawingLayer[] = [];
  const chosen = options.layers ? new Set(options.layers) : null;
  for (const [id, group] of config as Iterable<[string, { name?: unknown; visible?: unknown }]>) {
    if (layers.length >= READING_LIMITS.layers) break;
    const shownByFile = group.visible === true;
    layers.push({
      id,
      name: typeof group.name === 'string' && group.name.trim() !== '' ? group.name.trim().slice(0, 80) : id,
      shownByFile,
      read: chosen ? chosen.has(id) : shownByFile,
    });
  }
  if (chosen) for (const { id, read: shown } of layers) config.setVisibility(id, shown, false);
  const layerNames = new Map(layers.map(({ id, name }) => [id, name]));
  const layerOf = (properties: unknown): { id: string; shown: boolean } => {
    const { id, ids } = (properties ?? {}) as { id?: unknown; ids?: unknown };
    const first: unknown = typeof id === 'string' ? id : Array.isArray(ids) ? ids[0] : undefined;
    return {
      id: typeof first === 'string' ? (layerNames.get(first) ?? '') : '',
      shown: config.isVisible(properties) !== false,
    };
  };

  const budget: Budget = { left: READING_LIMITS.points, shapes: 0, segments: 0, texts: 0, operators: 0 };
  const scenes: Scene[] = [];
  const damaged: number[] = [];
  const hidden = new Map<string, number>();
  let clippedAway = 0;
  let clippedInPart = 0;
  let largestUnit = 1;
  for (const number of numbers) {
    if (options.signal?.aborted) throw new Refusal(({ pdfStopped }) => pdfStopped);
    const loaded = await loadPage(engine, file, number, budget, options.signal);
    if (!loaded) {
      damaged.push(number);
      continue;
    }
    const { viewport, userUnit, operators } = loaded;
    const mm = MM_PER_POINT * factor;
    // The viewport's y runs down from the page's top.
    const matrix = compose([mm, 0, 0, -mm, 0, viewport.height * mm], viewport.transform as unknown as Matrix);
    largestUnit = Math.max(largestUnit, userUnit);
    const size = { widthMm: viewport.width * mm, heightMm: viewport.height * mm };
    const content = drawPage(operators, {
      ...size,
      ops: engine.OPS,
      matrix,
      layerOf,
      tolerance: FLATNESS * CHORD_SHARE,
      budget,
      prefix: numbers.length === 1 ? 'line-' : `page-${number}/line-`,
    });
    for (const [layer, parts] of content.onHiddenLayers) hidden.set(layer, (hidden.get(layer) ?? 0) + parts);
    clippedAway += content.clippedAway;
    clippedInPart += content.clippedInPart;
    scenes.push({
      number,
      ...size,
      shapes: content.shapes,
      texts: content.texts,
      without: holdsPictures ? 'picture' : 'empty',
    });
    options.onPage?.(scenes.length, numbers.length);
  }

  if (scenes.length === 0) throw new Refusal(({ pdfDamaged }) => pdfDamaged);
  for (const number of damaged) warnings.each('pages', `Page ${number} is damaged and was left out.`);
  const sheets = putTogether(scenes, options.sheets, factor, warnings);
  // The drawing is in the sheets now: a pattern of a hundred pages holds it twice else.
  if (sheets) scenes.length = 0;
  const set = setOutScenes(
    sheets ? [sheets.scene] : scenes,
    FLATNESS * (1 - CHORD_SHARE),
    warnings,
    sheets === null,
  );
  for (const [layer, parts] of hidden)
    warnings.each(
      'layer',
      `The layer "${layer}" is hidden and was left out: ${parts} ${parts === 1 ? 'part' : 'parts'}.`,
    );
  if (clippedAway > 0)
    warnings.once('off-page', `Lines that the page does not show were left out: ${clippedAway}.`);
  if (clippedInPart > 0)
    warnings.once('clip', `Lines that the page shows only in part were read whole: ${clippedInPart}.`);
  const without = set.pages.filter(({ content }) => content !== 'lines');
  if (without.length > 0) warnings.once('picture', withoutLines(without, set.pages.length));
  if (set.outlines.length === 0)
    warnings.once(
      'no-outlines',
      'No closed outline was found in the drawing, so there is nothing to cut yet.',
    );
  const open = set.openLines.length;
  if (open > 0)
    warnings.once(
      'open',
      open === 1
        ? '1 line is open (its ends do not meet); it is listed as a line, not as an outline.'
        : `${open} lines are open (their ends do not meet); they are listed as lines, not as outlines.`,
    );
  return {
    ok: true,
    fileName,
    page: { widthMm: set.page.widthMm, heightMm: set.page.heightMm },
    scale: {
      known: true,
      basis: 'physical',
      factor,
      mmPerUnitX: MM_PER_POINT * factor * largestUnit,
      mmPerUnitY: MM_PER_POINT * factor * largestUnit,
      doubt: null,
      guesses: [],
    },
    outlines: set.outlines,
    openLines: set.openLines,
    texts: set.texts,
    refused: set.refused,
    warnings: warnings.list(),
    source: '',
    format: 'pdf',
    layers,
    pages: sheets ? [] : set.pages,
    ...(sheets ? { sheets: sheets.told } : {}),
  };
}

/** The pages as one scene; null where they stay apart. */
function putTogether(
  scenes: readonly Scene[],
  how: PdfOptions['sheets'],
  factor: number,
  warnings: Warnings,
): { readonly scene: Scene; readonly told: AssembledSheets } | null {
  if (how === undefined) return null;
  const layout = how === 'find' ? findLayout(scenes) : scaledLayout(how, factor);
  if (!layout) {
    warnings.once(
      'pages',
      'No lines were found that go on from page to page, so the pages were left apart. Type how they lie if they belong together.',
    );
    return null;
  }
  const { scene, placed, met, loose, widestGapMm, whole } = assembleSheets(scenes, layout);
  if (loose > 0)
    warnings.once(
      'pages',
      `${loose} ${loose === 1 ? 'line ends' : 'lines end'} at the border of a sheet and ${loose === 1 ? 'meets' : 'meet'} nothing on the next: compare the sheets with the pattern's own map.`,
    );
  return {
    scene,
    told: { layout: scaledLayout(layout, 1 / factor), sheets: placed.length, met, loose, widestGapMm, whole },
  };
}

interface LoadedPage {
  readonly viewport: PdfEngine.PageViewport;
  readonly userUnit: number;
  readonly operators: OperatorList;
}

/** The part of pdf.js's page that each batch of operators passes through on its way to the list. */
interface Pump {
  _renderPageChunk?: (chunk: { readonly length?: number }, state: ListUnderWay) => void;
}

/** What pdf.js keeps of a list of operators that is still coming in. */
interface ListUnderWay {
  streamReader?: { read(): Promise<{ readonly done: boolean }> } | null;
}

/**
 * Ends the engine while a list is still coming in. Left to itself the engine would cancel the list's stream, and its
 * parsing half rejects then a promise for which nothing waits once the last batch is out: an unhandled rejection
 * ("Page was destroyed"). So the stream is taken out of its hands and emptied, until the parsing half sees that it
 * has been told to end.
 */
function endUnderWay(file: PdfEngine.PDFDocumentProxy, state: ListUnderWay): void {
  const reader = state.streamReader;
  state.streamReader = null;
  void file.loadingTask.destroy().catch(() => undefined);
  const drain = async (): Promise<void> => {
    while (reader && !(await reader.read()).done);
  };
  drain().catch(() => undefined);
}

/**
 * A page with its operators; null if the engine can make nothing of it. Throws `Refusal` as soon as there are too many
 * of them, or the signal asks to stop: the engine itself would go on to the end.
 */
async function loadPage(
  engine: typeof PdfEngine,
  file: PdfEngine.PDFDocumentProxy,
  number: number,
  budget: Budget,
  signal: AbortSignal | undefined,
): Promise<LoadedPage | null> {
  try {
    const page = await file.getPage(number);
    const viewport = page.getViewport({ scale: 1 });
    if (!(viewport.width > 0 && viewport.height > 0 && viewport.transform.every(Number.isFinite)))
      return null;
    const pump = page as unknown as Pump;
    const pass = pump._renderPageChunk;
    const stopped = new Promise<never>((_, reject) => {
      if (!pass) return;
      pump._renderPageChunk = (chunk, state) => {
        budget.operators += chunk.length ?? 0;
        if (signal?.aborted) reject(new Refusal(({ pdfStopped }) => pdfStopped));
        else if (budget.operators > READING_LIMITS.pdfOperators)
          reject(new Refusal(({ tooManyLines }) => tooManyLines));
        else {
          pass.call(page, chunk, state);
          return;
        }
        // Nothing is kept any more, and the engine is told to end.
        endUnderWay(file, state);
      };
    });
    const operators: OperatorList = await Promise.race([
      page.getOperatorList({ annotationMode: engine.AnnotationMode.DISABLE }),
      stopped,
    ]);
    // The page lives as long as the file, and what would stop it would hold its operators with it.
    delete pump._renderPageChunk;
    page.cleanup();
    return { viewport, userUnit: page.userUnit, operators };
  } catch (error) {
    if (error instanceof Refusal) throw error;
    return null;
  }
}

function pageNumbers(count: number, chosen: readonly number[] | undefined, warnings: Warnings): number[] {
  const all = chosen
    ? [...new Set(chosen)].filter((number) => Number.isInteger(number) && number >= 1 && number <= count)
    : Array.from({ length: Math.min(count, READING_LIMITS.pages + 1) }, (_, i) => i + 1);
  if (all.length === 0) throw new Refusal(({ noSuchPages }) => noSuchPages);
  if (all.length > READING_LIMITS.pages) {
    warnings.once(
      'limit',
      `The PDF has ${count} pages; the first ${READING_LIMITS.pages} were read. Choose pages to read others.`,
    );
    return all.slice(0, READING_LIMITS.pages);
  }
  return all.sort((p, q) => p - q);
}

function withoutLines(pages: readonly { number: number; content: string }[], of: number): string {
  const pictures = pages.some(({ content }) => content === 'picture');
  const what = pictures
    ? 'holds no lines to read, only a picture (a scan or photo)'
    : 'holds no lines to read';
  if (pages.length === of)
    return of === 1
      ? `The page ${what}.`
      : `None of the ${of} pages holds lines to read${pictures ? ', only pictures (scans or photos)' : ''}.`;
  const listed = pages.slice(0, 10).map(({ number }) => number);
  return pages.length === 1
    ? `Page ${listed[0]} ${what}.`
    : `Pages ${listed.join(', ')}${pages.length > 10 ? ', …' : ''} hold no lines to read${pictures ? ', only pictures or text' : ''}.`;
}
