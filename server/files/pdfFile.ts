import type { Language } from '../../pattern/language.ts';
import type { Sheet } from '../../pattern/output/index.ts';
import type { Download } from '../http/download.ts';
import { sheetsToPdf } from '../pdf/sheetsToPdf.ts';

/** What a PDF of sheets is called: inside the file, and as a file. */
export interface PdfNames {
  readonly project: string;
  /** Follows the project's name in the title, such as "lay plan". */
  readonly what: string;
  readonly subject: string;
  /** Follows the project's name in the file's name. */
  readonly ending: string;
}

/** Sheets as one PDF, shown or saved. */
export async function pdfFile(
  sheets: readonly Sheet[],
  { project, what, subject, ending }: PdfNames,
  save: boolean,
  language: Language,
): Promise<Download> {
  const body = await sheetsToPdf(sheets, { title: `${project}: ${what}`, subject, lang: language });
  return { type: 'application/pdf', name: `${project}-${ending}`, ending: 'pdf', body, save, language };
}
