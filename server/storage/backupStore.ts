import { createHash } from 'node:crypto';
import type { ShelfEntry } from '../../pattern/exchange/shelf.ts';
import type { Database, Row } from './database.ts';
import type { ShelfStore } from './shelfStore.ts';

/** A stored document as text, with the facts of its row. */
export interface StoredText {
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  readonly updatedAt: string;
  /** When it was moved into the bin; null for a project that is in use. */
  readonly deletedAt: string | null;
  readonly document: string;
}

/** What became of a project of a backup. */
export type Restored = 'added' | 'beside' | 'binned' | 'unchanged';

const COLUMNS = 'id, name, revision, updated_at, document';

/** The store as a backup sees it: rows as they are, read and put back without touching what is there. */
export class BackupStore {
  readonly #open: () => Database;
  readonly #time: () => string;
  readonly #shelf: ShelfStore;

  constructor(open: () => Database, time: () => string, shelf: ShelfStore) {
    this.#open = open;
    this.#time = time;
    this.#shelf = shelf;
  }

  now(): string {
    return this.#time();
  }

  /** Ids of all projects, also of those in the bin. */
  ids(): string[] {
    return this.#open()
      .all('SELECT id FROM projects UNION SELECT id FROM bin ORDER BY id')
      .map(({ id }) => String(id));
  }

  /** A project, wherever it is now; undefined if it is gone for good meanwhile. */
  project(id: string): StoredText | undefined {
    const [row] = this.#open().all(
      `SELECT ${COLUMNS}, NULL AS deleted_at FROM projects WHERE id = ?1
       UNION ALL SELECT ${COLUMNS}, deleted_at FROM bin WHERE id = ?1`,
      id,
    );
    return row === undefined ? undefined : toText(row);
  }

  /** Numbers of the earlier revisions kept of a project, oldest first. */
  revisionNumbers(id: string): number[] {
    return this.#open()
      .all('SELECT revision FROM revisions WHERE project_id = ? ORDER BY revision', id)
      .map(({ revision }) => Number(revision));
  }

  revision(id: string, revision: number): StoredText | undefined {
    const [row] = this.#open().all(
      `SELECT project_id AS id, name, revision, updated_at, document, NULL AS deleted_at
       FROM revisions WHERE project_id = ? AND revision = ?`,
      id,
      revision,
    );
    return row === undefined ? undefined : toText(row);
  }

  shelf(): ShelfEntry[] {
    return this.#shelf.list();
  }

  /** Puts cloth back on the shelf. @returns why not, if it can't be */
  restoreShelf(entries: readonly ShelfEntry[]): string | null {
    const result = this.#shelf.restore(entries);
    return result.kind === 'refused' ? result.message : null;
  }

  /**
   * Puts a project of a backup back, with its earlier revisions, as one transaction. One that is here in that state, now
   * or before, is left alone (and taken out of the bin if need be); one that is here in another state gets the backup's
   * beside it. The same backup again changes nothing.
   * @param asCopy the document under a name that tells the two apart
   */
  restore(
    project: StoredText,
    revisions: readonly StoredText[],
    asCopy: () => { readonly name: string; readonly document: string },
  ): Restored {
    const database = this.#open();
    return database.write((): Restored => {
      const here = this.project(project.id);
      if (here === undefined) {
        this.#insert(database, project, revisions);
        return project.deletedAt === null ? 'added' : 'binned';
      }
      if (this.#isKnown(database, here, project.document)) {
        if (here.deletedAt === null || project.deletedAt !== null) return 'unchanged';
        takeOutOfBin(database, here.id);
        return 'added';
      }
      // The id follows from the content: restored twice, it is there already.
      const id = idOf(project);
      if (this.project(id) !== undefined) return 'unchanged';
      const copy = { ...project, ...asCopy(), id };
      this.#insert(
        database,
        copy,
        revisions.map((revision) => ({ ...revision, id })),
      );
      return project.deletedAt === null ? 'beside' : 'binned';
    });
  }

  /** Whether a project is, or was in an earlier version that is kept, this document. */
  #isKnown(database: Database, here: StoredText, document: string): boolean {
    return (
      here.document === document ||
      database.all('SELECT 1 FROM revisions WHERE project_id = ? AND document = ? LIMIT 1', here.id, document)
        .length > 0
    );
  }

  #insert(database: Database, project: StoredText, revisions: readonly StoredText[]): void {
    const { id, name, revision, updatedAt, document } = project;
    // Out of a backup the time in the bin begins anew: what is brought back is not gone the day after.
    if (project.deletedAt !== null)
      database.run(
        'INSERT INTO bin (id, name, revision, updated_at, deleted_at, document) VALUES (?, ?, ?, ?, ?, ?)',
        ...[id, name, revision, updatedAt, this.#time(), document],
      );
    else
      database.run(
        'INSERT INTO projects (id, name, revision, updated_at, document) VALUES (?, ?, ?, ?, ?)',
        ...[id, name, revision, updatedAt, document],
      );
    for (const earlier of revisions) {
      if (earlier.revision >= revision) continue;
      database.run(
        `INSERT OR IGNORE INTO revisions (project_id, revision, name, updated_at, document)
         VALUES (?, ?, ?, ?, ?)`,
        ...[id, earlier.revision, earlier.name, earlier.updatedAt, earlier.document],
      );
    }
  }
}

function takeOutOfBin(database: Database, id: string): void {
  database.run(
    `INSERT INTO projects (id, name, revision, updated_at, document)
     SELECT id, name, revision, updated_at, document FROM bin WHERE id = ?`,
    id,
  );
  database.run('DELETE FROM bin WHERE id = ?', id);
}

/** A version 8 UUID (RFC 9562) of a project's id and document. */
function idOf({ id, document }: StoredText): string {
  const hex = createHash('sha256').update(`${id}\n${document}`).digest('hex');
  const parts = [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    `a${hex.slice(17, 20)}`,
    hex.slice(20, 32),
  ];
  return parts.join('-');
}

function toText(row: Row): StoredText {
  return {
    id: String(row.id),
    name: String(row.name),
    revision: Number(row.revision),
    updatedAt: String(row.updated_at),
    deletedAt: row.deleted_at === null ? null : String(row.deleted_at),
    document: String(row.document),
  };
}
