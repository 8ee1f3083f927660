import { z } from 'zod';
import { id, LIMITS, name, positiveLength } from './fields.ts';
import { spreadSchema } from './lay.ts';

/** Work at the table: how long it is, what is cut already, and what else is bought. */

/** More ticks than cut pieces and steps of any project there can be. */
const MOST_TICKS = 40_000;

/** A line of the shopping list that the maker typed: thread, zip, webbing. */
export const notionSchema = z.object({
  id,
  name,
  /** As typed: `2 spools`, `60 cm`. */
  amount: z.string().max(LIMITS.nameLength).default(''),
  /** What all of it costs. */
  costCents: z.number().int().min(0).max(10_000_000).nullable().default(null),
  bought: z.boolean().default(false),
});

/** Of several layouts of a material's rolls the one that is cut. One that isn't there any longer counts for nothing. */
export const cutByLaySchema = z.object({ materialId: id, clothId: id, spread: spreadSchema });

export const cuttingSchema = z.object({
  /** Length of the cutting table along the cloth; null: as long as the cloth. */
  tableMm: positiveLength.nullable().default(null),
  /** What is done, by the marks of `pattern/output/ticks.ts`, in order of the alphabet. */
  ticks: z.array(z.string().min(1).max(300)).max(MOST_TICKS).readonly().default([]),
  notions: z.array(notionSchema).max(200).readonly().default([]),
  /** What the maker chose to cut by; of other materials the best layout. One line a material. */
  cutBy: z.array(cutByLaySchema).max(LIMITS.materials).readonly().default([]),
});

export type CutByLay = z.infer<typeof cutByLaySchema>;
export type Notion = z.infer<typeof notionSchema>;
export type Cutting = z.infer<typeof cuttingSchema>;
