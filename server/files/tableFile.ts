import { type DataTable, toCsv, toRecords } from '../../pattern/output/index.ts';
import type { Download } from '../http/download.ts';

export type Ending = 'csv' | 'json';

/** A table as a file to be saved or shown. */
export function tableFile(table: DataTable, name: string, ending: Ending, save: boolean): Download {
  const csv = ending === 'csv';
  return {
    type: csv ? 'text/csv; charset=utf-8; header=present' : 'application/json; charset=utf-8',
    name,
    ending,
    body: csv ? toCsv(table) : JSON.stringify(toRecords(table)),
    save,
  };
}
