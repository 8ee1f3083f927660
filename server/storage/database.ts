import { mkdirSync, statSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import Libsql from 'libsql';
import { StorageFault, type StorageFaultKind } from './storageFault.ts';

/** "clot" in ASCII: tells our files from other programs' databases. */
const APPLICATION_ID = 0x63_6c_6f_74;

/** How long a statement waits for another process to finish its write. */
const BUSY_MS = 2_000;

/** Tables of the file, one step a version: never edit a step that has been released, add one. */
const STEPS: readonly string[] = [
  `CREATE TABLE projects (
     id TEXT PRIMARY KEY,
     name TEXT NOT NULL,
     revision INTEGER NOT NULL,
     updated_at TEXT NOT NULL,
     document TEXT NOT NULL
   ) STRICT;
   CREATE TABLE revisions (
     project_id TEXT NOT NULL,
     revision INTEGER NOT NULL,
     name TEXT NOT NULL,
     updated_at TEXT NOT NULL,
     document TEXT NOT NULL,
     PRIMARY KEY (project_id, revision)
   ) STRICT;
   CREATE TABLE bin (
     id TEXT PRIMARY KEY,
     name TEXT NOT NULL,
     revision INTEGER NOT NULL,
     updated_at TEXT NOT NULL,
     deleted_at TEXT NOT NULL,
     document TEXT NOT NULL
   ) STRICT;`,
  `CREATE TABLE shelf (
     id TEXT PRIMARY KEY,
     added_at TEXT NOT NULL,
     document TEXT NOT NULL
   ) STRICT;
   CREATE TABLE shelf_changes (
     number INTEGER PRIMARY KEY AUTOINCREMENT,
     made_at TEXT NOT NULL,
     touched TEXT NOT NULL
   ) STRICT;`,
];

export type Row = Readonly<Record<string, unknown>>;
type Value = string | number | null;

/**
 * One SQLite file. Write-ahead log with a sync at every commit: what `write` returned from is on the disk, and
 * neither a killed process nor a power cut takes it back. Every fault comes out as a `StorageFault`.
 */
export class Database {
  readonly #file: string;
  readonly #connection: Libsql.Database;
  readonly #inode: bigint;
  readonly #statements = new Map<string, Libsql.Statement>();
  #isOpen = true;

  constructor(file: string, maxBytes?: number) {
    this.#file = file;
    this.#connection = this.#guard(() => {
      mkdirSync(dirname(file), { recursive: true });
      return new Libsql(file, { timeout: BUSY_MS });
    });
    try {
      this.#prepareFile();
      if (maxBytes !== undefined) {
        const pages = Math.floor(maxBytes / Number(this.#pragma('page_size')));
        this.#pragma(`max_page_count = ${pages}`);
      }
      this.#inode = statSync(file, { bigint: true }).ino;
    } catch (error) {
      this.#connection.close();
      throw error;
    }
  }

  /** Rows of a query. */
  all(sql: string, ...values: readonly Value[]): Row[] {
    return this.#guard(() => this.#statement(sql).all(...values) as Row[]);
  }

  /** Runs a statement that changes rows; call it inside `write`. Returns how many it changed. */
  run(sql: string, ...values: readonly Value[]): number {
    return this.#guard(() => this.#statement(sql).run(...values).changes);
  }

  /** Runs `change` as one transaction: all of it is on the disk when this returns, or, if it throws, none of it. */
  write<Result>(change: () => Result): Result {
    this.#requireFileInPlace();
    return this.#transact(change);
  }

  /** Puts the log into the main file and closes it. Safe to call twice. */
  close(): void {
    if (!this.#isOpen) return;
    this.#isOpen = false;
    try {
      this.#connection.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    } catch {
      // The log stays beside the file and is read at the next start: nothing is lost.
    }
    this.#statements.clear();
    this.#connection.close();
  }

  /** Prepared once each: the driver frees a statement late, and the same few are used over and over. */
  #statement(sql: string): Libsql.Statement {
    let statement = this.#statements.get(sql);
    if (statement === undefined) {
      statement = this.#connection.prepare(sql);
      this.#statements.set(sql, statement);
    }
    return statement;
  }

  #prepareFile(): void {
    this.#requireOurs();
    const version = Number(this.#pragma('user_version'));
    if (version > STEPS.length) throw this.#fault('newer');
    const check = this.#pragma('quick_check(1)');
    if (check !== 'ok') throw this.#fault('damaged', check);
    // A file that can't be written, but is up to date, still serves for reading: its writes fail one by one.
    try {
      this.#guard(() => this.#connection.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL'));
    } catch (error) {
      if (!(error instanceof StorageFault && error.kind === 'readOnly' && version === STEPS.length))
        throw error;
    }
    if (version < STEPS.length) this.#migrate();
  }

  /** A file without our mark may only be a new one: empty, or left by a process killed before its first tables. */
  #requireOurs(): void {
    const mark = this.#pragma('application_id');
    if (mark === APPLICATION_ID) return;
    if (mark !== 0 || this.all('SELECT 1 FROM sqlite_schema LIMIT 1').length > 0)
      throw this.#fault('foreign');
  }

  #migrate(): void {
    this.#transact(() => {
      // Asked again under the lock: another process may have been here first.
      const from = Number(this.#pragma('user_version'));
      for (const step of STEPS.slice(from)) this.#connection.exec(step);
      this.#connection.exec(
        `PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${STEPS.length}`,
      );
    });
  }

  #transact<Result>(change: () => Result): Result {
    return this.#guard(() => {
      this.#connection.exec('BEGIN IMMEDIATE');
      try {
        const result = change();
        this.#connection.exec('COMMIT');
        return result;
      } catch (error) {
        // SQLite itself rolls back on a full disk; a second rollback would hide the first error.
        if (this.#connection.inTransaction) this.#connection.exec('ROLLBACK');
        throw error;
      }
    });
  }

  /** The driver returns a row even where one value is asked for. */
  #pragma(source: string): unknown {
    const rows = this.#guard(() => this.#connection.prepare(`PRAGMA ${source}`).all() as Row[]);
    return rows[0] === undefined ? undefined : Object.values(rows[0])[0];
  }

  /**
   * A file that was deleted or replaced while it is open takes writes that nobody will find again. SQLite
   * does not notice in write-ahead mode, so this does.
   */
  #requireFileInPlace(): void {
    const inode = statSync(this.#file, { bigint: true, throwIfNoEntry: false })?.ino;
    if (inode !== this.#inode) throw this.#fault('moved');
  }

  #guard<Result>(action: () => Result): Result {
    try {
      return action();
    } catch (error) {
      if (error instanceof StorageFault) throw error;
      const kind = faultKind(error);
      if (kind === undefined) throw error;
      throw this.#fault(kind, error);
    }
  }

  #fault(kind: StorageFaultKind, cause?: unknown): StorageFault {
    return new StorageFault(kind, faultMessage(kind, basename(this.#file)), cause);
  }
}

/** Kind of an error of the driver or of the file system; undefined for faults of ours, such as wrong SQL. */
function faultKind(error: unknown): StorageFaultKind | undefined {
  if (!(error instanceof Error)) return undefined;
  const code = 'code' in error && typeof error.code === 'string' ? error.code : '';
  if (/^(SQLITE_FULL|ENOSPC|EDQUOT)/.test(code)) return 'full';
  if (/^(SQLITE_READONLY|EROFS|EACCES|EPERM)/.test(code)) return 'readOnly';
  if (/^SQLITE_(CORRUPT|NOTADB)/.test(code)) return 'damaged';
  if (/^SQLITE_(BUSY|LOCKED)/.test(code)) return 'busy';
  if (/^(SQLITE_(IOERR|CANTOPEN|PERM|AUTH|NOMEM)|E[A-Z]+$)/.test(code)) return 'unavailable';
  // The driver gives no code when it can't open a file at all.
  if (error.message.startsWith('ConnectionFailed')) return 'unavailable';
  return undefined;
}

function faultMessage(kind: StorageFaultKind, file: string): string {
  switch (kind) {
    case 'full':
      return `The disk with ${file} is full: nothing was stored. Make room and store again; what was stored before is kept.`;
    case 'readOnly':
      return `${file} or its folder can't be written: nothing was stored. Check its permissions and store again.`;
    case 'damaged':
      return `${file} is damaged or not a project file. It was left as it is; move it away (keep it for rescue) and start again.`;
    case 'foreign':
      return `${file} belongs to another program. It was left as it is; choose another data folder.`;
    case 'newer':
      return `${file} was written by a newer version of this program. Start that version, or choose another data folder.`;
    case 'busy':
      return `${file} is in use by another process. Try again in a moment.`;
    case 'moved':
      return `${file} was moved or deleted while the server was running: nothing was stored. Put it back, or restart the server.`;
    case 'unreadable':
      return `A document in ${file} can't be read.`;
    case 'unavailable':
      return `${file} can't be opened or used: nothing was stored. Check that its folder exists and can be written.`;
  }
}
