import type { Language } from '../../pattern/language.ts';
import type { Sheet } from '../../pattern/output/index.ts';
import type { Download } from '../http/download.ts';
import { sheetsToPdf } from '../pdf/sheetsToPdf.ts';

/** What a PDF of sheets is called: inside the file, and as a file. */
export interface PdfNames {
  readonly project: string;
  readonly words: {
    /** Follows the project's name in the title, such as "lay plan". */
    readonly title: string;
    readonly subject: string;
  };
  /** Follows the project's name in the file's name. */
  readonly ending: string;
}

/** Sheets as one PDF, saved if the query asks for that, shown otherwise. */
export async function pdfFile(
  sheets: readonly Sheet[],
  { project, words: { title, subject }, ending }: PdfNames,
  query: { readonly download?: '0' | '1' | undefined },
  language: Language,
): Promise<Download> {
  const body = await sheetsToPdf(sheets, { title: `${project}: ${title}`, subject, lang: language });
  const save = query.download === '1';
  return { type: 'application/pdf', name: `${project}-${ending}`, ending: 'pdf', body, save, language };
}
