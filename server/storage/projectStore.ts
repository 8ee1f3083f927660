import { randomUUID } from 'node:crypto';
import type { ProjectSummary, StoredProject } from '../../pattern/exchange/lay.ts';
import { openProject } from '../../pattern/exchange/openProject.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import type { BinnedProject } from '../../pattern/exchange/storedProject.ts';
import { BackupStore } from './backupStore.ts';
import { Database, type Row } from './database.ts';
import { ShelfStore } from './shelfStore.ts';
import { StorageFault } from './storageFault.ts';

/** Newest earlier revisions kept of each project, whatever their age. */
export const KEPT_REVISIONS = 50;
/** Beyond those the last revision of an hour is kept for so many hours that have one … */
export const KEPT_HOURS = 48;
/** … and the last of a day for so many days that have one. */
export const KEPT_DAYS = 30;
/** Deleted projects can be restored for so long. */
export const BIN_DAYS = 30;

const DAY_MS = 86_400_000;

export interface StoreParts {
  /** Created, with its folder, where it is missing. */
  readonly file: string;
  /** The file may grow to so much; a write beyond is refused as on a full disk. No limit where left out. */
  readonly maxBytes?: number | undefined;
  readonly now?: (() => Date) | undefined;
}

export type UpdateResult =
  | { readonly kind: 'stored'; readonly stored: StoredProject }
  | { readonly kind: 'stale'; readonly current: ProjectSummary }
  | { readonly kind: 'binned' }
  | { readonly kind: 'missing' };

/**
 * The user's projects in one SQLite file. All methods are synchronous, return after the change is on the disk
 * and throw `StorageFault` where the file fails. The file is opened at the first use and, if that failed, again
 * at the next, so that a mended disk needs no restart.
 */
export class ProjectStore {
  readonly #parts: StoreParts;
  readonly #now: () => Date;
  #database: Database | undefined;
  #isClosed = false;
  /** Cloth that is there whichever project it is for, in the same file. */
  readonly shelf: ShelfStore;
  /** All of the file, as a backup reads it and puts it back. */
  readonly backup: BackupStore;

  constructor(parts: StoreParts) {
    this.#parts = parts;
    this.#now = parts.now ?? (() => new Date());
    this.shelf = new ShelfStore(
      () => this.#open(),
      () => this.#time(),
    );
    this.backup = new BackupStore(
      () => this.#open(),
      () => this.#time(),
      this.shelf,
    );
  }

  /** Reads something small; throws `StorageFault` if the file can't be used. */
  probe(): void {
    this.#open().all('SELECT 1 FROM projects LIMIT 1');
  }

  close(): void {
    this.#isClosed = true;
    this.#database?.close();
    this.#database = undefined;
  }

  /** Whether nothing was ever stored here, not even something deleted since. */
  isEmpty(): boolean {
    const [row] = this.#open().all(
      'SELECT (SELECT count(*) FROM projects) + (SELECT count(*) FROM bin) AS n',
    );
    return row?.n === 0;
  }

  /** All projects, latest change first. */
  list(): ProjectSummary[] {
    return this.#open()
      .all('SELECT id, name, revision, updated_at FROM projects ORDER BY updated_at DESC, id')
      .map(toSummary);
  }

  get(id: string): StoredProject | undefined {
    const [row] = this.#open().all(
      'SELECT id, name, revision, updated_at, document FROM projects WHERE id = ?',
      id,
    );
    return row === undefined ? undefined : toStored(row);
  }

  create(project: Project): StoredProject {
    const database = this.#open();
    const stored = { id: randomUUID(), revision: 1, updatedAt: this.#time(), project };
    database.write(() => insertProject(database, stored));
    return stored;
  }

  /**
   * Writes `project` over revision `revision`, which is kept aside. Nothing is written if that is not the
   * current one. If the document is already what is stored, that is as good as stored: so a write whose answer
   * got lost can be sent again.
   */
  update(id: string, revision: number, project: Project): UpdateResult {
    const database = this.#open();
    return database.write((): UpdateResult => {
      const [row] = database.all(
        'SELECT id, name, revision, updated_at, document FROM projects WHERE id = ?',
        id,
      );
      if (row === undefined) {
        const isBinned = database.all('SELECT 1 FROM bin WHERE id = ?', id).length > 0;
        return { kind: isBinned ? 'binned' : 'missing' };
      }
      const current = toSummary(row);
      const document = JSON.stringify(project);
      if (document === row.document) {
        return { kind: 'stored', stored: { ...stampOf(current), project } };
      }
      if (current.revision !== revision) return { kind: 'stale', current };
      database.run(
        `INSERT INTO revisions (project_id, revision, name, updated_at, document)
         SELECT id, revision, name, updated_at, document FROM projects WHERE id = ?`,
        id,
      );
      const stored = { id, revision: revision + 1, updatedAt: this.#time(), project };
      database.run(
        'UPDATE projects SET name = ?, revision = ?, updated_at = ?, document = ? WHERE id = ?',
        toColumn(project.name),
        stored.revision,
        stored.updatedAt,
        document,
        id,
      );
      dropOldRevisions(database, id);
      return { kind: 'stored', stored };
    });
  }

  /** Moves a project into the bin. False if there is none with this id. */
  remove(id: string): boolean {
    const database = this.#open();
    return database.write(() => {
      emptyOldBin(database, this.#binLimit());
      database.run(
        `INSERT INTO bin (id, name, revision, updated_at, deleted_at, document)
         SELECT id, name, revision, updated_at, ?, document FROM projects WHERE id = ?`,
        this.#time(),
        id,
      );
      return database.run('DELETE FROM projects WHERE id = ?', id) > 0;
    });
  }

  /** Deleted projects that can still be restored, last deleted first. */
  binned(): BinnedProject[] {
    return this.#open()
      .all(
        `SELECT id, name, revision, updated_at, deleted_at FROM bin
         WHERE deleted_at >= ? ORDER BY deleted_at DESC, id`,
        this.#binLimit(),
      )
      .map((row) => {
        const deletedAt = String(row.deleted_at);
        const keptUntil = new Date(Date.parse(deletedAt) + BIN_DAYS * DAY_MS).toISOString();
        return { ...toSummary(row), deletedAt, keptUntil };
      });
  }

  /** Takes a project out of the bin as it was, with its earlier revisions. Undefined if it isn't there. */
  restore(id: string): StoredProject | undefined {
    const database = this.#open();
    const isRestored = database.write(() => {
      const restored = database.run(
        `INSERT INTO projects (id, name, revision, updated_at, document)
         SELECT id, name, revision, updated_at, document FROM bin WHERE id = ? AND deleted_at >= ?`,
        id,
        this.#binLimit(),
      );
      if (restored > 0) database.run('DELETE FROM bin WHERE id = ?', id);
      return restored > 0;
    });
    if (!isRestored) return undefined;
    return this.get(id);
  }

  /** Earlier revisions of a project, newest first; the current one is not among them. Undefined: no such project. */
  revisions(id: string): ProjectSummary[] | undefined {
    const database = this.#open();
    if (database.all('SELECT 1 FROM projects WHERE id = ?', id).length === 0) return undefined;
    return database
      .all(
        `SELECT project_id AS id, name, revision, updated_at FROM revisions
         WHERE project_id = ? ORDER BY revision DESC`,
        id,
      )
      .map(toSummary);
  }

  /** One earlier revision, or the current one. */
  revision(id: string, revision: number): StoredProject | undefined {
    const [row] = this.#open().all(
      `SELECT id, revision, updated_at, document FROM projects WHERE id = ? AND revision = ?
       UNION ALL
       SELECT project_id, revision, updated_at, document FROM revisions
       WHERE project_id = ? AND revision = ? AND project_id IN (SELECT id FROM projects)`,
      id,
      revision,
      id,
      revision,
    );
    return row === undefined ? undefined : toStored(row);
  }

  #open(): Database {
    if (this.#isClosed)
      throw new StorageFault('unavailable', 'The server is shutting down: nothing was stored.');
    this.#database ??= new Database(this.#parts.file, this.#parts.maxBytes);
    return this.#database;
  }

  #time(): string {
    return this.#now().toISOString();
  }

  #binLimit(): string {
    return new Date(this.#now().getTime() - BIN_DAYS * DAY_MS).toISOString();
  }
}

function insertProject(database: Database, stored: StoredProject): void {
  database.run(
    'INSERT INTO projects (id, name, revision, updated_at, document) VALUES (?, ?, ?, ?, ?)',
    stored.id,
    toColumn(stored.project.name),
    stored.revision,
    stored.updatedAt,
    JSON.stringify(stored.project),
  );
}

/** Autosave writes often: the newest revisions undo the last minutes, the last of each hour and day older mistakes. */
function dropOldRevisions(database: Database, id: string): void {
  database.run(
    `DELETE FROM revisions WHERE project_id = ?1 AND revision NOT IN (
       SELECT revision FROM (
         SELECT revision FROM revisions WHERE project_id = ?1 ORDER BY revision DESC LIMIT ?2)
       UNION
       SELECT revision FROM (
         SELECT max(revision) AS revision FROM revisions WHERE project_id = ?1
         GROUP BY substr(updated_at, 1, 10) ORDER BY 1 DESC LIMIT ?3)
       UNION
       SELECT revision FROM (
         SELECT max(revision) AS revision FROM revisions WHERE project_id = ?1
         GROUP BY substr(updated_at, 1, 13) ORDER BY 1 DESC LIMIT ?4))`,
    id,
    KEPT_REVISIONS,
    KEPT_DAYS,
    KEPT_HOURS,
  );
}

function emptyOldBin(database: Database, limit: string): void {
  database.run('DELETE FROM revisions WHERE project_id IN (SELECT id FROM bin WHERE deleted_at < ?)', limit);
  database.run('DELETE FROM bin WHERE deleted_at < ?', limit);
}

/** The driver reads text only as far as a NUL character; the document itself has it escaped. */
function toColumn(text: string): string {
  return text.replaceAll('\0', '\uFFFD');
}

function toSummary(row: Row): ProjectSummary {
  return {
    id: String(row.id),
    name: String(row.name),
    revision: Number(row.revision),
    updatedAt: String(row.updated_at),
  };
}

function stampOf({ id, revision, updatedAt }: ProjectSummary): Omit<StoredProject, 'project'> {
  return { id, revision, updatedAt };
}

function toStored(row: Row): StoredProject {
  return {
    id: String(row.id),
    revision: Number(row.revision),
    updatedAt: String(row.updated_at),
    project: readDocument(String(row.document)),
  };
}

/** A stored document in the present version, whichever version it was stored in. */
function readDocument(text: string): Project {
  const opened = openProject(text);
  if (opened.ok) return opened.project;
  const message = `This stored project can't be read, and was left as it is. ${opened.message}`;
  throw new StorageFault('unreadable', message);
}
