import type { z } from 'zod';
import type { tableSheetsSchema } from '../../pattern/exchange/designerTable.ts';
import type { Language } from '../../pattern/language.ts';
import { designerData, designerSheets, outputWords, toCsv } from '../../pattern/output/index.ts';
import type { Download } from '../http/download.ts';
import { cannotBeMade } from '../http/problem.ts';
import { pdfFile } from './pdfFile.ts';

type TableSheets = z.output<typeof tableSheetsSchema>;

/** A designer's table as PDF. @throws Problem 422 without figures */
export function tablePdf({ table, page, ...names }: TableSheets, language: Language): Promise<Download> {
  const words = outputWords(language).table;
  const sheets = designerSheets(table, { ...names, language }, page);
  if (sheets.length === 0) throw cannotBeMade(words.nothing);
  return pdfFile(
    sheets,
    { project: names.project, words: { title: words.all, subject: words.subject }, ending: 'table' },
    { download: '1' },
    language,
  );
}

/** A designer's table as CSV, a row for each figure. */
export function tableCsv({ table, ...names }: TableSheets): Download {
  return {
    type: 'text/csv; charset=utf-8; header=present',
    name: `${names.project}-table`,
    ending: 'csv',
    body: toCsv(designerData(table, names)),
    save: true,
  };
}
