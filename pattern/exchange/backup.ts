import { z } from 'zod';
import { shelfEntrySchema } from './shelf.ts';

/**
 * The backup of everything a server holds: lines of JSON, compressed by gzip (RFC 1952). The first says what it is, the
 * last how many came before it, so that a file that was cut off is known. Documents stand in it as they are stored, in
 * whatever version of the project format that was.
 */

export const BACKUP_FORMAT = 'clothlay-backup';
export const BACKUP_VERSION = 1;

const time = z.iso.datetime();
const place = {
  id: z.string().regex(/^[\w-]{1,64}$/),
  revision: z.number().int().min(1).max(Number.MAX_SAFE_INTEGER),
  updatedAt: time,
};

export const backupHeadSchema = z.object({
  kind: z.literal('head'),
  format: z.literal(BACKUP_FORMAT),
  version: z.number().int(),
  madeAt: time,
});

/** A project as it is, followed by the earlier versions kept of it, oldest first. */
export const backupProjectSchema = z.object({
  kind: z.literal('project'),
  ...place,
  /** When it was deleted, of a project in the bin. */
  deletedAt: time.optional(),
  document: z.unknown(),
});
export const backupRevisionSchema = z.object({
  kind: z.literal('revision'),
  ...place,
  document: z.unknown(),
});
export const backupShelfSchema = z.object({ kind: z.literal('shelf'), entry: shelfEntrySchema });
export const backupEndSchema = z.object({
  kind: z.literal('end'),
  /** Lines between the first and this one. */
  lines: z.number().int().min(0),
});

export const backupLineSchema = z.discriminatedUnion('kind', [
  backupHeadSchema,
  backupProjectSchema,
  backupRevisionSchema,
  backupShelfSchema,
  backupEndSchema,
]);

const names = z.array(z.string()).readonly();

/** What restoring a backup did; nothing that was there before is changed or gone. */
export const restoreReportSchema = z.object({
  /** ISO time. */
  madeAt: z.string(),
  /** Projects that were missing, and those that are back out of the bin. */
  added: names,
  /** Projects that look otherwise here: the backup's stand beside them, under these names. */
  beside: names,
  /** Projects in the backup's bin that are in the bin again. */
  binned: names,
  /** Projects that are here as they are in the backup, now or among their earlier versions. */
  unchanged: z.number().int(),
  shelfAdded: z.number().int(),
  shelfUnchanged: z.number().int(),
  /** Cloth of the shelf that has changed since: it stays as it is here. */
  shelfKept: names,
  /** What could not be read and was left out, each with the reason. */
  leftOut: names,
});

export type BackupHead = z.infer<typeof backupHeadSchema>;
export type BackupProject = z.infer<typeof backupProjectSchema>;
export type BackupRevision = z.infer<typeof backupRevisionSchema>;
export type RestoreReport = z.infer<typeof restoreReportSchema>;
