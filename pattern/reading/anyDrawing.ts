import type { Reading } from './drawing.ts';
import { type DxfOptions, readDxf } from './dxf.ts';
import { isPacked, unpacked } from './gzip.ts';
import { READING_LIMITS } from './limits.ts';
import { type PdfOptions, readPdf } from './pdf.ts';
import { readSvg } from './svg.ts';

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

/**
 * Files that are taken for drawings by their name: how they begin (a letter a byte), and the way on for each.
 */
const OTHERS: readonly (readonly [begins: readonly string[], words: string])[] = [
  [
    ['PK\x03\x04', 'Rar!', '7z\xbc\xaf'],
    'This is an archive, whatever it is called. Unpack it and choose the drawing in it.',
  ],
  [['AC10'], 'This is a DWG. Save it as DXF in the program it comes from, and choose that.'],
  [
    ['\x89PNG', '\xff\xd8\xff', 'RIFF', 'GIF8', 'BM', 'II*\0', 'MM\0*'],
    'This is a picture, not a drawing. Save it as JPEG or PNG, and trace it as a photo.',
  ],
  [
    ['%!PS', '\xc5\xd0\xd3\xc6'],
    'This is PostScript. Save it as PDF in the program it comes from, and choose that.',
  ],
  [
    ['\xd0\xcf\x11\xe0'],
    'This is an office document. Save it as PDF in the program it comes from, and choose that.',
  ],
];
const NEITHER =
  'This is neither an SVG, a DXF nor a PDF drawing. Save the pattern as one of these in the program it comes from.';

/** Reads an SVG (packed ones too), a DXF or a PDF, told apart by content; the options of the other kinds are passed over. */
export async function readAnyDrawing(
  bytes: Uint8Array,
  fileName: string,
  options: DxfOptions & PdfOptions = {},
): Promise<Reading> {
  const unread = (message: string): Reading => ({ ok: false, fileName, message });
  if (bytes.length === 0)
    return unread('The file is empty. Copy or download it again, and choose the new copy.');
  if (isPacked(bytes)) {
    const content = await unpacked(bytes, READING_LIMITS.characters);
    if (content === 'damaged')
      return unread(
        'The file is packed, and damaged or cut off. Copy or download it again, and choose the new copy.',
      );
    if (content === 'too much')
      return unread(
        'The file swells beyond all measure when it is unpacked; that is too much for a pattern.',
      );
    // What is packed twice is no drawing.
    return isPacked(content) ? unread(NEITHER) : readAnyDrawing(content, fileName, options);
  }
  switch (kindOfDrawing(bytes)) {
    case 'pdf':
      return readPdf(bytes, fileName, options);
    case 'dxf':
      return readDxf(bytes, fileName, options);
    case 'svg':
      return readSvg(bytes, fileName, options.factor);
    case null: {
      // Decoders take latin-1 for another code, not all of them.
      const head = String.fromCharCode(...bytes.subarray(0, 16));
      return unread(OTHERS.find(([begins]) => begins.some((mark) => head.startsWith(mark)))?.[1] ?? NEITHER);
    }
  }
}
