import { type RestoreReport, restoreReportSchema } from '../../pattern/exchange/backup.ts';
import { requestWithFile } from './http.ts';

/** Everything the server holds, as one file. */
export const BACKUP_ADDRESS = '/api/backup';

/** Puts back what a backup holds. @throws HttpProblem, Unreachable */
export async function restoreBackup(file: Blob): Promise<RestoreReport> {
  const response = await requestWithFile('/api/backup/restore', file, 'application/gzip');
  return restoreReportSchema.parse(await response.json());
}
