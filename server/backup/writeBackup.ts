import { BACKUP_FORMAT, BACKUP_VERSION } from '../../pattern/exchange/backup.ts';
import type { BackupStore, StoredText } from '../storage/backupStore.ts';

/**
 * The lines of a backup, each read when it is wanted, so that no more than one document is in memory. Every project is
 * written in one state with its own earlier versions; what is changed while the backup runs may or may not be in it.
 */
export function* backupLines(store: BackupStore): Generator<string> {
  yield line({ kind: 'head', format: BACKUP_FORMAT, version: BACKUP_VERSION, madeAt: store.now() });
  let lines = 0;
  for (const id of store.ids()) {
    const project = store.project(id);
    if (project === undefined) continue;
    const numbers = store.revisionNumbers(id);
    yield withDocument({ kind: 'project', ...placeOf(project) }, project.document);
    lines++;
    for (const number of numbers) {
      // Old revisions are dropped as new ones come in.
      const revision = store.revision(id, number);
      if (revision === undefined) continue;
      yield withDocument({ kind: 'revision', ...placeOf(revision) }, revision.document);
      lines++;
    }
  }
  for (const entry of store.shelf()) {
    yield line({ kind: 'shelf', entry });
    lines++;
  }
  yield line({ kind: 'end', lines });
}

function placeOf({ id, revision, updatedAt, deletedAt }: StoredText): object {
  return { id, revision, updatedAt, ...(deletedAt === null ? {} : { deletedAt }) };
}

function line(value: object): string {
  return `${JSON.stringify(value)}\n`;
}

/** The document goes in as it is stored, which is one line of JSON. */
function withDocument(value: object, document: string): string {
  return `${JSON.stringify(value).slice(0, -1)},"document":${document}}\n`;
}
