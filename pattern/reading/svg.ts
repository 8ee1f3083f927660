import type { Language } from '../language.ts';
import { StyleSheet } from './cssRules.ts';
import type { DrawingScale, ReadDrawing, ScaleGuess, SvgReading } from './drawing.ts';
import { MM_PER_PIXEL } from './length.ts';
import { FLATTENING_MM, READING_LIMITS } from './limits.ts';
import { sortOut } from './outlines.ts';
import { Refusal, unread, unreadFor } from './refusal.ts';
import { propertiesOf } from './style.ts';
import { type Page, pageMatrix, pageOf } from './viewport.ts';
import { walk } from './walk.ts';
import { Warnings } from './warnings.ts';
import type { ReadingWords } from './words/index.ts';
import { parseXml, type XmlDocument } from './xmlTree.ts';

// Of the permitted deviation, chords take the larger part; the rest goes to dropping needless vertices.
const CHORD_SHARE = 0.8;

/**
 * Reads an SVG drawing at true size: every closed outline, open line and text on its page, in mm.
 *
 * Anything may be handed in: whatever is wrong with the file becomes a message (`ok: false`) or a warning; nothing is
 * thrown, time and memory are bounded by `READING_LIMITS`. `factor` multiplies all sizes (see `scaleReading`).
 */
export function readSvg(
  source: string | Uint8Array,
  fileName: string,
  factor = 1,
  language?: Language,
): SvgReading {
  try {
    const text = typeof source === 'string' ? source : decodeText(source);
    const early = faultAtFirstSight(text);
    if (early) return unread(fileName, language, early);
    return read(text, fileName, factor, language);
  } catch (error) {
    return unreadFor(error, fileName, language);
  }
}

function read(text: string, fileName: string, factor: number, language?: Language): ReadDrawing {
  const warnings = new Warnings(language);
  const document = parseXml(text.trimStart(), warnings);
  const rootProperty = propertiesOf(document.root, new StyleSheet(document.styleTexts, new Warnings()));
  const page = pageOf(
    rootProperty,
    document.root.attributes.get('viewBox'),
    document.root.attributes.get('preserveAspectRatio'),
  );
  const size = {
    widthMm: page.width * MM_PER_PIXEL * factor,
    heightMm: page.height * MM_PER_PIXEL * factor,
  };
  const scale = scaleOf(page, document, factor, warnings);
  const { shapes, texts } = walk(document, page, factor, FLATTENING_MM * CHORD_SHARE, warnings);
  const { outlines, openLines, refused } = sortOut(
    shapes,
    texts,
    size,
    FLATTENING_MM * (1 - CHORD_SHARE),
    warnings,
  );
  if (outlines.length === 0)
    warnings.once(
      'no-outlines',
      'No closed outline was found in the drawing, so there is nothing to cut yet.',
    );
  if (openLines.length > 0)
    warnings.once(
      'open',
      openLines.length === 1
        ? '1 line is open (its ends do not meet); it is listed as a line, not as an outline.'
        : `${openLines.length} lines are open (their ends do not meet); they are listed as lines, not as outlines.`,
    );
  const offPage = outlines.filter(({ onPage }) => onPage === 'outside').length;
  if (offPage > 0)
    warnings.once(
      'off-page',
      offPage === 1
        ? '1 outline lies off the page; it was read all the same.'
        : `${offPage} outlines lie off the page; they were read all the same.`,
    );
  return {
    ok: true,
    fileName,
    page: size,
    scale,
    outlines,
    openLines,
    texts,
    refused,
    warnings: warnings.list(),
    source: text,
  };
}

/** What can be told without parsing; null if the text may be a drawing. */
function faultAtFirstSight(text: string): ((words: ReadingWords) => string) | null {
  if (text.length > READING_LIMITS.characters)
    return ({ tooLarge }) => tooLarge(READING_LIMITS.characters / 1_000_000);
  const head = text.slice(0, 2_000).trimStart();
  if (head === '') return text.trim() === '' ? ({ empty }) => empty : null;
  if (head.startsWith('\u001f\u008b') || head.startsWith('\u001f\ufffd')) return ({ svgPacked }) => svgPacked;
  if (head.startsWith('%PDF')) return ({ pdfNotSvg }) => pdfNotSvg;
  if (head.includes('\u0000') || !head.startsWith('<')) return ({ notSvg }) => notSvg;
  return null;
}

/** Text of a file: by its byte order mark, else by the encoding it names, else UTF-8. */
function decodeText(bytes: Uint8Array): string {
  if (bytes.length > READING_LIMITS.characters * 2)
    throw new Refusal(({ tooLarge }) => tooLarge(READING_LIMITS.characters / 1_000_000));
  const [first, second] = bytes;
  if (first === 0x1f && second === 0x8b) throw new Refusal(({ svgPacked }) => svgPacked);
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 200));
  const named = /^\s*<\?xml[^>]*encoding\s*=\s*["']([\w.:-]{1,40})["']/.exec(head)?.[1] ?? 'utf-8';
  try {
    return new TextDecoder(named).decode(bytes);
  } catch {
    return new TextDecoder().decode(bytes);
  }
}

const GUESSED_DPI = [90, 72] as const;

function scaleOf(page: Page, document: XmlDocument, factor: number, warnings: Warnings): DrawingScale {
  const matrix = pageMatrix(page, factor);
  const mmPerUnitX = Math.abs(matrix[0]);
  const mmPerUnitY = Math.abs(matrix[3]);
  if (Math.abs(mmPerUnitX / mmPerUnitY - 1) > 1e-3)
    warnings.once(
      'uneven-scale',
      `The file stretches the drawing differently across and up (by ${((mmPerUnitX / mmPerUnitY) * 100).toFixed(1)} %). Check a known length in both directions.`,
    );
  if (page.physical || factor !== 1)
    return {
      known: page.physical,
      basis: page.physical ? 'physical' : 'pixels',
      factor,
      mmPerUnitX,
      mmPerUnitY,
      doubt: null,
      guesses: [],
    };
  const likely = likelyDpi(document.writer);
  const guesses = GUESSED_DPI.map((dpi): ScaleGuess => ({ dpi, factor: 96 / dpi, likely: dpi === likely }));
  return {
    known: false,
    basis: 'pixels',
    factor,
    mmPerUnitX,
    mmPerUnitY,
    doubt: likely === null ? warnings.words.dpiUnknown : warnings.words.dpiLikely(likely),
    guesses,
  };
}

/**
 * Inkscape drew at 90 dots per inch until version 0.91 and at 96 from 0.92 on (its release notes of 2017); Adobe
 * Illustrator writes points, 72 per inch, and calls them pixels.
 */
function likelyDpi(writer: string): 90 | 72 | null {
  if (/Adobe Illustrator/.test(writer)) return 72;
  const version = /inkscape:version 0\.(\d+)/.exec(writer)?.[1];
  return version !== undefined && Number(version.slice(0, 2)) < 92 ? 90 : null;
}
