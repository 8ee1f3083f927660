import type { z } from 'zod';
import type { tableSheetsSchema } from '../../pattern/exchange/designerTable.ts';
import { designerData, designerSheets, toCsv } from '../../pattern/output/index.ts';
import type { Download } from '../http/download.ts';
import { cannotBeMade } from '../http/problem.ts';
import { pdfFile } from './pdfFile.ts';

type TableSheets = z.output<typeof tableSheetsSchema>;

/** A designer's table as PDF. @throws Problem 422 without figures */
export function tablePdf({ table, page, ...names }: TableSheets): Promise<Download> {
  const sheets = designerSheets(table, names, page);
  if (sheets.length === 0) throw cannotBeMade('The table has no figures yet.');
  return pdfFile(
    sheets,
    {
      project: names.project,
      what: 'cloth needed',
      subject: 'Cloth needed by width and size',
      ending: 'table',
    },
    true,
  );
}

export function tableCsv({ table, ...names }: TableSheets): Download {
  return {
    type: 'text/csv; charset=utf-8; header=present',
    name: `${names.project}-table`,
    ending: 'csv',
    body: toCsv(designerData(table, names)),
    save: true,
  };
}
