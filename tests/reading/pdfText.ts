/** Writes small PDF files of our own by hand, so that the numbers in them are known exactly. */

export interface PdfPage {
  /** Points; a page of 200 × 100 mm if it is missing. */
  readonly mediaBox?: readonly number[];
  /** Further entries of the page's dictionary. */
  readonly entries?: string;
  readonly content: string;
  readonly resources?: string;
}

export interface PdfParts {
  readonly pages: readonly PdfPage[];
  /** Further objects by number, from 100: dictionary, and the content of a stream or null. */
  readonly objects?: Readonly<Record<number, readonly [dictionary: string, stream: string | null]>>;
  /** Further entries of the catalogue. */
  readonly catalogue?: string;
}

const MM = 72 / 25.4;
/** Millimetres as points. */
export const mm = (...values: readonly number[]): string =>
  values.map((value) => (value * MM).toFixed(6)).join(' ');

export function pdf({ pages, objects = {}, catalogue = '' }: PdfParts): Uint8Array {
  const numbered = new Map<number, string>();
  const stream = (dictionary: string, content: string): string =>
    `<< ${dictionary} /Length ${content.length} >>\nstream\n${content}\nendstream`;
  numbered.set(1, `<< /Type /Catalog /Pages 2 0 R ${catalogue} >>`);
  numbered.set(
    2,
    `<< /Type /Pages /Count ${pages.length} /Kids [${pages.map((_, i) => `${10 + 2 * i} 0 R`).join(' ')}] >>`,
  );
  numbered.set(3, '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>');
  pages.forEach(({ mediaBox = [0, 0, 200 * MM, 100 * MM], entries = '', content, resources = '' }, i) => {
    numbered.set(
      10 + 2 * i,
      `<< /Type /Page /Parent 2 0 R /MediaBox [${mediaBox.join(' ')}] /Resources << /Font << /F 3 0 R >> ${resources} >> /Contents ${11 + 2 * i} 0 R ${entries} >>`,
    );
    numbered.set(11 + 2 * i, stream('', content));
  });
  for (const [number, [dictionary, content]] of Object.entries(objects))
    numbered.set(Number(number), content === null ? `<< ${dictionary} >>` : stream(dictionary, content));
  let text = '%PDF-1.7\n';
  const offsets = new Map<number, number>();
  for (const [number, body] of numbered) {
    offsets.set(number, text.length);
    text += `${number} 0 obj\n${body}\nendobj\n`;
  }
  const size = Math.max(...numbered.keys()) + 1;
  const start = text.length;
  text += `xref\n0 ${size}\n`;
  for (let i = 0; i < size; i++) {
    const at = offsets.get(i);
    text += at === undefined ? '0000000000 65535 f \n' : `${String(at).padStart(10, '0')} 00000 n \n`;
  }
  text += `trailer\n<< /Size ${size} /Root 1 0 R >>\nstartxref\n${start}\n%%EOF\n`;
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0) & 255);
}

export const square = (x: number, y: number, size: number, paint = 'S'): string =>
  `${mm(x, y, size, size)} re ${paint} `;
