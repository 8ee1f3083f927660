import { tableSheetsSchema } from '../../pattern/exchange/designerTable.ts';
import type { MakeFile } from '../files/makers.ts';
import { type Operation, operation } from '../http/operation.ts';
import { sendFile } from './sendFile.ts';

/**
 * A designer's table as files. Its figures are ordinary lays, one each, which a page asks for one after the other, so
 * that it can show, stop and go on with them; here they are only written.
 */
export function tableOperations(make: MakeFile): Operation[] {
  return [
    operation(
      {
        method: 'post',
        path: '/api/tables/pdf',
        id: 'tablePdf',
        summary: 'Cloth needed by width, nap, spread and size, as PDF',
        body: tableSheetsSchema,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [422, 503],
      },
      ({ body }, response) => sendFile(response, make, 'tablePdf', body),
    ),
    operation(
      {
        method: 'post',
        path: '/api/tables/csv',
        id: 'tableCsv',
        summary: 'Cloth needed by width, nap, spread and size, as CSV: a row for each figure, lengths in mm',
        body: tableSheetsSchema,
        answers: { 200: { description: 'The table', mediaType: 'text/csv' } },
        problems: [422, 503],
      },
      ({ body }, response) => sendFile(response, make, 'tableCsv', body),
    ),
  ];
}
