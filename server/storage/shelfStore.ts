import { z } from 'zod';
import {
  MOST_ENTRIES,
  type ShelfChange,
  type ShelfEntry,
  shelfEntrySchema,
} from '../../pattern/exchange/shelf.ts';
import {
  applyShelfChange,
  type ShelfOutcome,
  type Touched,
  takeBackShelfChange,
} from '../../pattern/shelf/ledger.ts';
import type { Database } from './database.ts';
import { StorageFault } from './storageFault.ts';

/** Steps that can be taken back; older ones are forgotten. */
const KEPT_CHANGES = 200;

const touchedSchema = z.array(
  z.object({ before: shelfEntrySchema.nullable(), after: shelfEntrySchema.nullable() }),
);

export type ShelfResult =
  | { readonly kind: 'changed'; readonly change: number; readonly entries: readonly ShelfEntry[] }
  | { readonly kind: 'refused'; readonly message: string }
  | { readonly kind: 'missing' };

/** The shelf in the file of the projects. Every step is one transaction and remembered with what it touched. */
export class ShelfStore {
  readonly #open: () => Database;
  readonly #time: () => string;

  constructor(open: () => Database, time: () => string) {
    this.#open = open;
    this.#time = time;
  }

  /** Everything on it, what came last first. */
  list(): ShelfEntry[] {
    return this.#open()
      .all('SELECT document FROM shelf ORDER BY added_at DESC, id')
      .map(({ document }) => readEntry(String(document)));
  }

  change(change: ShelfChange): ShelfResult {
    return this.#step((entries) => applyShelfChange(entries, change, this.#time()));
  }

  /** Puts entries of a backup back as they were, which is a step too. The caller leaves out what is there. */
  restore(missing: readonly ShelfEntry[]): ShelfResult {
    return this.#step((entries) =>
      entries.size + missing.length > MOST_ENTRIES
        ? { ok: false, message: `The shelf holds at most ${MOST_ENTRIES} entries.` }
        : { ok: true, touched: missing.map((entry) => ({ before: null, after: entry })) },
    );
  }

  /** Takes a step back, which is a step itself. Missing: no such step is remembered. */
  takeBack(number: number): ShelfResult {
    const [row] = this.#open().all('SELECT touched FROM shelf_changes WHERE number = ?', number);
    if (row === undefined) return { kind: 'missing' };
    const touched = touchedSchema.parse(JSON.parse(String(row.touched)));
    return this.#step((entries) => takeBackShelfChange(entries, touched));
  }

  #step(decide: (entries: ReadonlyMap<string, ShelfEntry>) => ShelfOutcome): ShelfResult {
    const database = this.#open();
    return database.write((): ShelfResult => {
      const outcome = decide(new Map(this.list().map((entry) => [entry.id, entry])));
      if (!outcome.ok) return { kind: 'refused', message: outcome.message };
      for (const one of outcome.touched) write(database, one);
      database.run(
        'INSERT INTO shelf_changes (made_at, touched) VALUES (?, ?)',
        this.#time(),
        JSON.stringify(outcome.touched),
      );
      const [last] = database.all('SELECT max(number) AS number FROM shelf_changes');
      const change = Number(last?.number);
      database.run('DELETE FROM shelf_changes WHERE number <= ?', change - KEPT_CHANGES);
      return { kind: 'changed', change, entries: this.list() };
    });
  }
}

function write(database: Database, { before, after }: Touched): void {
  if (before) database.run('DELETE FROM shelf WHERE id = ?', before.id);
  if (!after) return;
  database.run(
    'INSERT INTO shelf (id, added_at, document) VALUES (?, ?, ?)',
    after.id,
    after.addedAt,
    JSON.stringify(after),
  );
}

function readEntry(text: string): ShelfEntry {
  const read = shelfEntrySchema.safeParse(JSON.parse(text));
  if (read.success) return read.data;
  throw new StorageFault('unreadable', "An entry of the shelf can't be read, and was left as it is.");
}
