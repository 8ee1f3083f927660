import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import { restoreReportSchema } from '../../pattern/exchange/backup.ts';
import { BackupFault } from '../backup/readBackup.ts';
import { restoreBackup } from '../backup/restoreBackup.ts';
import { backupLines } from '../backup/writeBackup.ts';
import { type Operation, operation } from '../http/operation.ts';
import { Problem } from '../http/problem.ts';
import type { BackupStore } from '../storage/backupStore.ts';

const GZIP = 'application/gzip';
/** Packed; it is in memory while it is restored. */
const UPLOAD_LIMIT_BYTES = 256 * 1024 * 1024;

/** Everything that is stored, in one file, and back. */
export function backupOperations(store: BackupStore): Operation[] {
  let isRestoring = false;
  return [
    operation(
      {
        method: 'get',
        path: '/api/backup',
        id: 'readBackup',
        summary:
          'Everything in one file: projects, their earlier versions, the bin, the shelf with its pictures',
        answers: { 200: { description: 'Lines of JSON, packed', mediaType: GZIP } },
        problems: [503],
      },
      async (_checked, response) => {
        const lines = backupLines(store);
        // The first document is read before the answer begins: a store that fails is told as a problem.
        const head = lines.next().value ?? '';
        const first = lines.next().value ?? '';
        response.setHeader('Content-Type', GZIP);
        response.setHeader('Content-Disposition', `attachment; filename="${fileName(store.now())}"`);
        const all = (function* () {
          yield head;
          yield first;
          yield* lines;
        })();
        await pipeline(Readable.from(all, { objectMode: false }), createGzip(), response).catch(() => {
          // Broken off, by them or by us: without its last line the file is known to be no whole backup.
          response.destroy();
        });
      },
    ),
    operation(
      {
        method: 'post',
        path: '/api/backup/restore',
        id: 'restoreBackup',
        summary: 'Put back what a backup holds; nothing that is stored is changed or dropped',
        upload: { mediaType: GZIP, limitBytes: UPLOAD_LIMIT_BYTES },
        answers: { 200: { description: 'What was done with each', schema: restoreReportSchema } },
        problems: [422, 503, 507],
      },
      async ({ upload }, response) => {
        if (isRestoring)
          throw new Problem({
            status: 503,
            kind: 'restoring',
            title: 'A backup is being restored',
            detail: 'Wait until it is done.',
            headers: { 'Retry-After': '5' },
          });
        isRestoring = true;
        try {
          response.json(await restoreBackup(store, upload));
        } catch (error) {
          if (!(error instanceof BackupFault)) throw error;
          throw new Problem({ status: 422, kind: 'backup', title: 'Not restored', detail: error.message });
        } finally {
          isRestoring = false;
        }
      },
    ),
  ];
}

function fileName(now: string): string {
  return `clothlay-backup-${now.slice(0, 10)}.jsonl.gz`;
}
