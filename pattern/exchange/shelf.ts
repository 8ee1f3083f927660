import { z } from 'zod';
import { clothSchema } from './schema/cloth.ts';
import { id, LIMITS, name, ringSchema } from './schema/fields.ts';

/**
 * The shelf: cloth that is there, whichever project it is for. It belongs to the installation, not to a project; a
 * project that takes something from it keeps a copy of the cloth with the entry's id (`shelfId`).
 */

/** More entries than any sewing room holds. */
export const MOST_ENTRIES = 2_000;
/** Photographs are data addresses of at most so many letters. */
const MOST_PICTURE = 400_000;
/** Cloth on the shelf is of no project's material. */
export const ON_SHELF = 'shelf';

const projectRef = {
  projectId: z.string().max(64),
  projectName: z.string().max(LIMITS.nameLength),
  /** ISO time. */
  at: z.string().max(40),
};

export const shelfStateSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('free') }),
  /** Kept for a plan that is not cut yet. */
  z.object({ kind: z.literal('reserved'), ...projectRef }),
  /** Cut up: kept as a record, and so that it can be put back. */
  z.object({ kind: z.literal('taken'), ...projectRef }),
]);

/** What a piece of cloth is meant for: a plan, as a sketch and in words, so that it is still known years later. */
export const shelfPlanSchema = z.object({
  ...projectRef,
  /** How it is laid: "Vinyl, single layer". */
  name: z.string().max(LIMITS.nameLength),
  pieces: z
    .array(z.object({ name: z.string().max(LIMITS.nameLength), copies: z.number().int().min(1) }))
    .max(200)
    .readonly(),
  /** The cloth and what lies on it, coarsely, in mm: x along the cloth, y across. */
  outline: ringSchema,
  placed: z.array(ringSchema).max(500).readonly(),
});

const shelfEntryFields = {
  id,
  /** Outline or width and length, flaws, and the rules of the cloth. */
  cloth: clothSchema,
  /** Fibre or kind, in the maker's words: "waxed cotton, 8 oz". */
  fibre: z.string().max(LIMITS.nameLength).default(''),
  /** Where it lies: "box 3". */
  place: z.string().max(LIMITS.nameLength).default(''),
  picture: z
    .string()
    .max(MOST_PICTURE, 'the picture is too large: make it smaller than 300 kB')
    // By what it begins with, not by what it says it is.
    .regex(
      /^data:image\/(?:png;base64,iVBORw0KGgo|jpeg;base64,\/9j\/)[A-Za-z0-9+/]*={0,2}$/,
      'the picture must be a PNG or JPEG',
    )
    .nullable()
    .default(null),
  /** What all of it is worth, in whole cents. */
  valueCents: z.number().int().min(0).max(10_000_000).nullable().default(null),
  /** Its length is an estimate from its weight, in g, and the weight of a metre. */
  weighed: z
    .object({ grams: z.number().gt(0).max(1e6), gramsPerMetre: z.number().gt(0).max(1e5) })
    .optional(),
  /** The project it was left over from. */
  leftFrom: z.string().max(LIMITS.nameLength).optional(),
  plan: shelfPlanSchema.optional(),
};

/** What a maker says of a piece of cloth; state and time are the shelf's own. */
export const shelfItemSchema = z.object(shelfEntryFields);
export const shelfEntrySchema = z.object({
  ...shelfEntryFields,
  state: shelfStateSchema,
  addedAt: z.string().max(40),
});

const ids = z.array(id).min(1, 'nothing is named').max(500).readonly();
const project = { projectId: z.string().max(64), projectName: name };

/** One step, all of it or nothing, that can be taken back as a whole. */
export const shelfChangeSchema = z.discriminatedUnion('kind', [
  /** Adds, or changes what has the same id. */
  z.object({ kind: z.literal('put'), items: z.array(shelfItemSchema).min(1).max(500).readonly() }),
  z.object({ kind: z.literal('remove'), ids }),
  z.object({ kind: z.literal('reserve'), ids, ...project }),
  /** No longer reserved, or put back although it was marked as cut. */
  z.object({ kind: z.literal('release'), ids }),
  /** Keeps a plan with it, or none any longer. */
  z.object({ kind: z.literal('plan'), ids, plan: shelfPlanSchema.nullable() }),
  /** A plan is cut: what it used is gone, what it left comes on the shelf. */
  z.object({
    kind: z.literal('cut'),
    ids: z.array(id).max(500).readonly().default([]),
    items: z.array(shelfItemSchema).max(500).readonly().default([]),
    ...project,
  }),
]);

export const shelfSchema = z.object({ entries: z.array(shelfEntrySchema).readonly() });

export const shelfChangedSchema = shelfSchema.extend({
  /** Number of the step, to take it back by. */
  change: z.number().int(),
});

export type ShelfPlan = z.infer<typeof shelfPlanSchema>;
export type ShelfItem = z.infer<typeof shelfItemSchema>;
export type ShelfEntry = z.infer<typeof shelfEntrySchema>;
export type ShelfChange = z.infer<typeof shelfChangeSchema>;
export type ShelfChangeInput = z.input<typeof shelfChangeSchema>;
