/**
 * Why the store did not do what it was asked:
 * - `full`: no room on the disk; `readOnly`: the file or folder can't be written
 * - `damaged`: the file is not (or no longer) a sound database; `foreign`: a database of another program
 * - `newer`: written by a later version of this program; `unreadable`: one document can't be read
 * - `busy`: another process holds the file; `moved`: the file is no longer where it was opened
 * - `unavailable`: it can't be opened at all
 */
export type StorageFaultKind =
  | 'full'
  | 'readOnly'
  | 'damaged'
  | 'foreign'
  | 'newer'
  | 'unreadable'
  | 'busy'
  | 'moved'
  | 'unavailable';

/** A fault of the store with a message for the person in front of the screen. What was stored before is kept. */
export class StorageFault extends Error {
  readonly kind: StorageFaultKind;

  constructor(kind: StorageFaultKind, message: string, cause?: unknown) {
    super(message, { cause });
    this.name = 'StorageFault';
    this.kind = kind;
  }
}

/** What may be logged of it: why a document can't be read is told by quoting it, so that stays out. */
export function storageFacts({ kind, message }: StorageFault): Readonly<Record<string, unknown>> {
  return kind === 'unreadable' ? { kind } : { kind, message };
}
