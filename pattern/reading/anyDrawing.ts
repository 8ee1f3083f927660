import type { Reading } from './drawing.ts';
import { type DxfOptions, readDxf } from './dxf.ts';
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
  return text.trimStart().startsWith('<') || head.startsWith('\x1f\x8b') ? 'svg' : null;
}

/** Reads an SVG, a DXF or a PDF, told apart by content; the options of the other kinds are passed over. */
export async function readAnyDrawing(
  bytes: Uint8Array,
  fileName: string,
  options: DxfOptions & PdfOptions = {},
): Promise<Reading> {
  if (bytes.length === 0) return { ok: false, fileName, message: 'The file is empty.' };
  switch (kindOfDrawing(bytes)) {
    case 'pdf':
      return readPdf(bytes, fileName, options);
    case 'dxf':
      return readDxf(bytes, fileName, options);
    case 'svg':
      return readSvg(bytes, fileName, options.factor);
    case null:
      return { ok: false, fileName, message: 'This is neither an SVG, a DXF nor a PDF drawing.' };
  }
}
