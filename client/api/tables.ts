import type { z } from 'zod';
import type { tableSheetsSchema } from '../../pattern/exchange/designerTable.ts';
import { type MadeFile, nameIn } from './files.ts';
import { request } from './http.ts';

/** A designer's table as a file. */
export async function fetchTableFile(
  ending: 'pdf' | 'csv',
  body: z.input<typeof tableSheetsSchema>,
): Promise<MadeFile> {
  const response = await request('POST', `/api/tables/${ending}`, body);
  return {
    name: nameIn(response.headers.get('content-disposition')) ?? `table.${ending}`,
    content: await response.blob(),
  };
}
