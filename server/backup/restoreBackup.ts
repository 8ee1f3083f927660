import type { RestoreReport } from '../../pattern/exchange/backup.ts';
import type { ShelfEntry } from '../../pattern/exchange/shelf.ts';
import type { BackupStore, Restored, StoredText } from '../storage/backupStore.ts';
import { readBackup } from './readBackup.ts';

/** Names and reasons listed of each kind; a report is to be read. */
const MOST_LISTED = 200;
const LONGEST_NAME = 200;

/**
 * Restores a backup into a store that may hold work of its own, without changing or dropping any of that. The whole file
 * is read once before anything is written; then each project is one transaction, and the shelf another.
 * @throws BackupFault where the file as a whole can't be used; StorageFault where the store can't be written: what was
 *   restored until then stays, and restoring again goes on
 */
export async function restoreBackup(store: BackupStore, file: Uint8Array): Promise<RestoreReport> {
  const leftOut: string[] = [];
  for await (const entry of readBackup(file)) {
    if (entry.kind === 'unreadable') leftOut.push(entry.reason);
  }
  const found = {
    added: [] as string[],
    beside: [] as string[],
    binned: [] as string[],
    unchanged: [] as string[],
  } satisfies Record<Restored, string[]>;
  const shelf: ShelfEntry[] = [];
  let madeAt = '';
  for await (const entry of readBackup(file)) {
    if (entry.kind === 'head') madeAt = entry.madeAt;
    else if (entry.kind === 'shelf') shelf.push(entry.entry);
    else if (entry.kind === 'project') {
      const { project, revisions } = entry;
      const copy = (): { name: string; document: string } => besides(project, madeAt);
      const done = store.restore(project, revisions, copy);
      found[done].push(done === 'beside' ? copy().name : project.name);
    }
  }
  return {
    madeAt,
    added: found.added.slice(0, MOST_LISTED),
    beside: found.beside.slice(0, MOST_LISTED),
    binned: found.binned.slice(0, MOST_LISTED),
    unchanged: found.unchanged.length,
    ...restoreShelf(store, shelf, leftOut),
    leftOut: leftOut.slice(0, MOST_LISTED),
  };
}

/** The document under a name that says where it comes from. */
function besides({ name, document }: StoredText, madeAt: string): { name: string; document: string } {
  const mark = ` (${madeAt.slice(0, 10)})`;
  const named = `${name.slice(0, LONGEST_NAME - mark.length)}${mark}`;
  return { name: named, document: JSON.stringify({ ...JSON.parse(document), name: named }) };
}

/** Cloth that is missing is put back. What has changed since (it may be cut up by now) stays as it is. */
function restoreShelf(
  store: BackupStore,
  entries: readonly ShelfEntry[],
  leftOut: string[],
): Pick<RestoreReport, 'shelfAdded' | 'shelfUnchanged' | 'shelfKept'> {
  const here = new Map(store.shelf().map((entry) => [entry.id, JSON.stringify(entry)]));
  const missing = entries.filter(({ id }) => !here.has(id));
  const refused = missing.length > 0 ? store.restoreShelf(missing) : null;
  if (refused !== null) leftOut.push(refused);
  const changed = entries
    .filter((entry) => here.has(entry.id) && here.get(entry.id) !== JSON.stringify(entry))
    .map(({ cloth }) => cloth.name);
  return {
    shelfAdded: refused === null ? missing.length : 0,
    shelfUnchanged: entries.length - missing.length - changed.length,
    shelfKept: changed.slice(0, MOST_LISTED),
  };
}
