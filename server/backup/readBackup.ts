import { Readable } from 'node:stream';
import { createGunzip } from 'node:zlib';
import {
  BACKUP_FORMAT,
  BACKUP_VERSION,
  type BackupHead,
  type BackupProject,
  type BackupRevision,
  backupEndSchema,
  backupHeadSchema,
  backupLineSchema,
} from '../../pattern/exchange/backup.ts';
import { openDocument } from '../../pattern/exchange/openProject.ts';
import type { ShelfEntry } from '../../pattern/exchange/shelf.ts';
import type { StoredText } from '../storage/backupStore.ts';

/** A backup as a whole can't be used; the message says why. */
export class BackupFault extends Error {
  override readonly name = 'BackupFault';
}

/** A stored document takes 8 MB at most; a line holds one. */
const LONGEST_LINE_BYTES = 16 * 1024 * 1024;
/** Unpacked; a small file must not unpack without end. */
const MOST_BYTES = 16 * 1024 ** 3;

/** A project with all that belongs to it, or a line that can't be read. */
export type BackupEntry =
  | { readonly kind: 'project'; readonly project: StoredText; readonly revisions: readonly StoredText[] }
  | { readonly kind: 'shelf'; readonly entry: ShelfEntry }
  | { readonly kind: 'unreadable'; readonly reason: string };

/**
 * Reads a backup from beginning to end, entry by entry.
 * @throws BackupFault where the file is none, is damaged, cut off or of a newer version
 */
export async function* readBackup(file: Uint8Array): AsyncGenerator<BackupHead | BackupEntry> {
  let lines = 0;
  let head: BackupHead | null = null;
  let isEnded = false;
  let open: { project: StoredText | null; readonly id: string; readonly revisions: StoredText[] } | null =
    null;
  const finished = (): BackupEntry[] => {
    // Of a project that can't be read as it is, its last version that can be is better than nothing.
    const project = open?.project ?? open?.revisions.at(-1);
    return project ? [{ kind: 'project', project, revisions: open?.revisions ?? [] }] : [];
  };
  for await (const text of linesOf(file)) {
    if (isEnded) throw new BackupFault('The backup goes on after its end: it is damaged.');
    const value = parsed(text);
    if (head === null) {
      head = headOf(value);
      yield head;
      continue;
    }
    const end = backupEndSchema.safeParse(value);
    if (end.success) {
      if (end.data.lines !== lines) throw new BackupFault('Lines are missing in the backup: it is damaged.');
      isEnded = true;
      continue;
    }
    lines++;
    const line = backupLineSchema.safeParse(value);
    if (!line.success) {
      yield { kind: 'unreadable', reason: `line ${lines + 1}: ${line.error.issues[0]?.message ?? ''}` };
      continue;
    }
    switch (line.data.kind) {
      case 'project': {
        yield* finished();
        const read = toStored(line.data, line.data.deletedAt ?? null);
        open = { project: typeof read === 'string' ? null : read, id: line.data.id, revisions: [] };
        if (typeof read === 'string') yield { kind: 'unreadable', reason: read };
        break;
      }
      case 'revision': {
        const read = toStored(line.data, null);
        if (typeof read === 'string') yield { kind: 'unreadable', reason: read };
        else if (open?.id === line.data.id) open.revisions.push(read);
        break;
      }
      case 'shelf':
        yield { kind: 'shelf', entry: line.data.entry };
        break;
      default:
        throw new BackupFault('The backup begins twice: it is damaged.');
    }
  }
  if (head === null) throw new BackupFault('The file is empty.');
  if (!isEnded) throw cutOff();
  yield* finished();
}

/** The document as it is to be stored, or why it can't be. */
function toStored(
  { id, revision, updatedAt, document }: BackupProject | BackupRevision,
  deletedAt: string | null,
): StoredText | string {
  const opened = openDocument(document);
  if (!opened.ok) return `${nameIn(document)}: ${opened.message}`;
  const name = opened.project.name.replaceAll('\0', '\uFFFD');
  return { id, name, revision, updatedAt, deletedAt, document: JSON.stringify(document) };
}

function nameIn(document: unknown): string {
  const name = (document as { name?: unknown } | null)?.name;
  return typeof name === 'string' ? `“${name.slice(0, 60)}”` : 'A project';
}

function headOf(value: unknown): BackupHead {
  const head = backupHeadSchema.safeParse(value);
  if (!head.success) {
    const isProject = (value as { format?: unknown } | null)?.format === 'clothlay-project';
    throw new BackupFault(
      isProject
        ? 'This is the file of one project, not a backup. Open it with “Open a file”.'
        : `This is not a backup: its first line does not say “${BACKUP_FORMAT}”.`,
    );
  }
  if (head.data.version > BACKUP_VERSION)
    throw new BackupFault('The backup was made by a newer clothlay. Update this one to restore it.');
  return head.data;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new BackupFault('The backup is damaged, or it is no backup: a line of it can’t be read.');
  }
}

async function* linesOf(file: Uint8Array): AsyncGenerator<string> {
  let parts: Buffer[] = [];
  let length = 0;
  let total = 0;
  for await (const chunk of unpacked(file)) {
    total += chunk.length;
    if (total > MOST_BYTES) throw new BackupFault('The backup is too large to be restored.');
    let from = 0;
    for (let at = chunk.indexOf(10); at >= 0; at = chunk.indexOf(10, from)) {
      parts.push(chunk.subarray(from, at));
      yield Buffer.concat(parts).toString('utf8');
      parts = [];
      length = 0;
      from = at + 1;
    }
    length += chunk.length - from;
    if (length > LONGEST_LINE_BYTES)
      throw new BackupFault('A line of the backup is too long: it is damaged.');
    parts.push(chunk.subarray(from));
  }
  if (length > 0) throw cutOff();
}

async function* unpacked(file: Uint8Array): AsyncGenerator<Buffer> {
  if (file.length === 0) return;
  const isPacked = file[0] === 0x1f && file[1] === 0x8b;
  if (!isPacked) {
    // A browser or a person may have unpacked it.
    for (let from = 0; from < file.length; from += 65_536)
      yield Buffer.from(file.buffer, file.byteOffset + from, Math.min(65_536, file.length - from));
    return;
  }
  const gunzip = createGunzip();
  Readable.from([file]).pipe(gunzip);
  try {
    for await (const chunk of gunzip) yield chunk as Buffer;
  } catch (error) {
    if (error instanceof BackupFault) throw error;
    throw (error as { code?: unknown }).code === 'Z_BUF_ERROR'
      ? cutOff()
      : new BackupFault('The backup is damaged: it can’t be unpacked.');
  }
}

function cutOff(): BackupFault {
  return new BackupFault(
    'The backup is cut off: its end is missing. Nothing was restored; look for a complete copy.',
  );
}
