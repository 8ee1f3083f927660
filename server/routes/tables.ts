import { tableSheetsSchema } from '../../pattern/exchange/designerTable.ts';
import { designerData, designerSheets, toCsv } from '../../pattern/output/index.ts';
import { sendDownload } from '../http/download.ts';
import { type Operation, operation } from '../http/operation.ts';
import { cannotBeMade } from '../http/problem.ts';
import { sendPdf } from './sendPdf.ts';

/**
 * A designer's table as files. Its figures are ordinary lays, one each, which a page asks for one after the other, so
 * that it can show, stop and go on with them; here they are only written.
 */
export function tableOperations(): Operation[] {
  return [
    operation(
      {
        method: 'post',
        path: '/api/tables/pdf',
        id: 'tablePdf',
        summary: 'Cloth needed by width, nap, spread and size, as PDF',
        body: tableSheetsSchema,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [422],
      },
      async ({ body: { table, page, ...names } }, response) => {
        const sheets = designerSheets(table, names, page);
        if (sheets.length === 0) throw cannotBeMade('The table has no figures yet.');
        await sendPdf(
          response,
          sheets,
          {
            project: names.project,
            what: 'cloth needed',
            subject: 'Cloth needed by width and size',
            ending: 'table',
          },
          true,
        );
      },
    ),
    operation(
      {
        method: 'post',
        path: '/api/tables/csv',
        id: 'tableCsv',
        summary: 'Cloth needed by width, nap, spread and size, as CSV: a row for each figure, lengths in mm',
        body: tableSheetsSchema,
        answers: { 200: { description: 'The table', mediaType: 'text/csv' } },
      },
      ({ body: { table, ...names } }, response) => {
        sendDownload(response, {
          type: 'text/csv; charset=utf-8; header=present',
          name: `${names.project}-table`,
          ending: 'csv',
          body: toCsv(designerData(table, names)),
          save: true,
        });
      },
    ),
  ];
}
