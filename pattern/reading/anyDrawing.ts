import type { Reading } from './drawing.ts';
import { type DxfOptions, readDxf } from './dxf.ts';
import { isPacked, unpacked } from './gzip.ts';
import { READING_LIMITS } from './limits.ts';
import { type PdfOptions, readPdf } from './pdf.ts';
import { unread } from './refusal.ts';
import { readSvg } from './svg.ts';
import type { ReadingWords } from './words/index.ts';

export type DrawingKind = 'svg' | 'dxf' | 'pdf';

/** What a file is by its first bytes, whatever it is called; null if it is no drawing that can be read. */
export function kindOfDrawing(bytes: Uint8Array): DrawingKind | null {
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 1_024));
  if (head.includes('%PDF-')) return 'pdf';
  if (head.startsWith('AutoCAD Binary DXF')) return 'dxf';
  const text = head.replace(/^(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)/, '').replace(/\0/g, '');
  // A DXF is pairs of lines, a code and a value; a comment (999) or the first section opens it.
  if (/^\s*(?:999\s*\n[^\n]*\n\s*)*0\s*\n\s*SECTION\b/.test(text) || /^\s*999\s*\n/.test(text)) return 'dxf';
  return text.trimStart().startsWith('<') ? 'svg' : null;
}

/** Files that are taken for drawings by their name: how they begin (a letter a byte), and what they are. */
const OTHERS: readonly (readonly [
  begins: readonly string[],
  what: 'archive' | 'dwg' | 'picture' | 'postScript' | 'office',
])[] = [
  [['PK\x03\x04', 'Rar!', '7z\xbc\xaf'], 'archive'],
  [['AC10'], 'dwg'],
  [['\x89PNG', '\xff\xd8\xff', 'RIFF', 'GIF8', 'BM', 'II*\0', 'MM\0*'], 'picture'],
  [['%!PS', '\xc5\xd0\xd3\xc6'], 'postScript'],
  [['\xd0\xcf\x11\xe0'], 'office'],
];

/** Reads an SVG (packed ones too), a DXF or a PDF, told apart by content; the options of the other kinds are passed over. */
export async function readAnyDrawing(
  bytes: Uint8Array,
  fileName: string,
  options: DxfOptions & PdfOptions = {},
): Promise<Reading> {
  const refuse = (say: (words: ReadingWords) => string): Reading => unread(fileName, options.language, say);
  if (bytes.length === 0) return refuse(({ empty }) => empty);
  if (isPacked(bytes)) {
    const content = await unpacked(bytes, READING_LIMITS.characters);
    if (content === 'damaged') return refuse(({ packedDamaged }) => packedDamaged);
    if (content === 'too much') return refuse(({ packedTooMuch }) => packedTooMuch);
    // What is packed twice is no drawing.
    return isPacked(content) ? refuse(({ neither }) => neither) : readAnyDrawing(content, fileName, options);
  }
  switch (kindOfDrawing(bytes)) {
    case 'pdf':
      return readPdf(bytes, fileName, options);
    case 'dxf':
      return readDxf(bytes, fileName, options);
    case 'svg':
      return readSvg(bytes, fileName, options.factor, options.language);
    case null: {
      // Decoders take latin-1 for another code, not all of them.
      const head = String.fromCharCode(...bytes.subarray(0, 16));
      const [, what] = OTHERS.find(([begins]) => begins.some((mark) => head.startsWith(mark))) ?? [];
      return refuse((words) => words[what ?? 'neither']);
    }
  }
}
