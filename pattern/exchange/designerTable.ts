import { z } from 'zod';
import { count, id, LIMITS, name, positiveLength, seedSchema } from './schema/fields.ts';
import { spreadSchema } from './schema/lay.ts';

/** The designer's table: how much cloth a pattern takes on other widths, with or without nap, spread and sized so. */

/** More figures than this in one table nobody reads, and they take hours. */
export const MOST_CELLS = 2_000;

export const tableSizeSchema = z.object({
  name,
  /** Every piece scaled along and across its grain; allowances keep their width. */
  alongPercent: z.number().min(1).max(1000).default(100),
  acrossPercent: z.number().min(1).max(1000).default(100),
});

export const tableRequestSchema = z.object({
  widthsMm: z.array(positiveLength).min(1, 'name a width').max(12).readonly(),
  naps: z
    .array(z.enum(['none', 'oneWay']))
    .min(1)
    .max(2)
    .readonly()
    .default(['none', 'oneWay']),
  spreads: z
    .array(spreadSchema)
    .min(1, 'choose a way to spread the cloth')
    .max(7)
    .readonly()
    .default(['single']),
  sizes: z
    .array(tableSizeSchema)
    .min(1, 'name a size')
    .max(12)
    .readonly()
    .default([{ name: 'as drawn', alongPercent: 100, acrossPercent: 100 }]),
  /** Every material that something is cut from, if empty. */
  materialIds: z.array(id).max(LIMITS.materials).readonly().default([]),
  /** How long to look, for each figure. */
  seconds: z.number().min(0.1).max(600).default(0.5),
  seed: seedSchema,
});

/** One figure, with what it is for. */
export const tableCellSchema = z.object({
  materialId: id,
  size: name,
  widthMm: positiveLength,
  nap: z.enum(['none', 'oneWay']),
  spread: spreadSchema,
  verdict: z.enum(['fits', 'cannot fit', 'not found', 'not allowed']),
  /** Cut from the roll, and that in whole steps of the shop; 0 where it doesn't fit. */
  usedMm: z.number(),
  buyMm: z.number(),
  piecesToTrace: count,
  costCents: z.number().int().nullable(),
  reason: z.string().max(4000).optional(),
});

/** A table as far as it has been worked out: enough to go on later. */
export const designerTableSchema = z.object({
  request: tableRequestSchema,
  /** Changes with the project: figures of another one are worked out anew. */
  madeFrom: z.string().max(80),
  cells: z.array(tableCellSchema).max(MOST_CELLS).readonly(),
});

/** Body of `POST /api/tables/pdf`: a table with the names it is written under. */
export const tableSheetsSchema = z.object({
  project: name,
  units: z.enum(['cm', 'mm', 'in']).default('cm'),
  page: z.enum(['a4', 'letter']).default('a4'),
  materials: z.array(z.object({ id, name })).max(LIMITS.materials).readonly(),
  table: designerTableSchema,
});

export type TableSize = z.infer<typeof tableSizeSchema>;
export type TableRequest = z.infer<typeof tableRequestSchema>;
export type TableCell = z.infer<typeof tableCellSchema>;
export type DesignerTable = z.infer<typeof designerTableSchema>;

/** What a figure of the table is for. */
export type CellKey = Pick<TableCell, 'materialId' | 'size' | 'widthMm' | 'nap' | 'spread'>;

/** Tells a figure from every other of its table. */
export function cellId({ materialId, size, widthMm, nap, spread }: CellKey): string {
  return JSON.stringify([materialId, size, widthMm, nap, spread]);
}
