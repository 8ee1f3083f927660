import { type PdfOptions, type ReadDrawing, readPdf } from '../../../pattern/reading/index.ts';
import { type PdfParts, pdf } from '../pdfText.ts';
import { drawn } from '../readings.ts';

/** Reads a PDF that is written for the test. */
export const readParts = async (parts: PdfParts, options: PdfOptions = {}): Promise<ReadDrawing> =>
  drawn(await readPdf(pdf(parts), 'test.pdf', options));

/** Reads a PDF of one page of 200 × 100 mm. */
export const readContent = (content: string): Promise<ReadDrawing> => readParts({ pages: [{ content }] });
