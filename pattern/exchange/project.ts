import { z } from 'zod';

/**
 * The project document, version 2: everything the page knows. The same schema guards what the server stores,
 * what a user opens from a file and what a lay is asked for. Lengths are millimetres, angles degrees
 * (counter-clockwise, y up), money whole cents; inches and fractions exist only on screen and on paper.
 */

import { clothSchema } from './schema/cloth.ts';
import { bagSetSchema, cutRowSchema, materialSchema } from './schema/cutList.ts';
import { cuttingSchema } from './schema/cutting.ts';
import { LIMITS, name } from './schema/fields.ts';
import { layChoiceSchema, planSchema } from './schema/lay.ts';
import { matchSchema } from './schema/matching.ts';
import { materialOfferSchema } from './schema/offer.ts';
import { pieceSchema } from './schema/piece.ts';

export * from './schema/cloth.ts';
export * from './schema/cutList.ts';
export * from './schema/cutting.ts';
export { LIMITS, pointSchema, ringSchema } from './schema/fields.ts';
export * from './schema/lay.ts';
export * from './schema/madeOf.ts';
export * from './schema/matching.ts';
export * from './schema/offer.ts';
export * from './schema/piece.ts';
export * from './schema/variant.ts';

export const PROJECT_FORMAT = 'clothlay-project';
export const PROJECT_VERSION = 2;

export const projectSchema = z.object({
  format: z.literal(PROJECT_FORMAT),
  version: z.literal(PROJECT_VERSION),
  name,
  notes: z.string().max(LIMITS.notesLength).default(''),
  /** How lengths are shown and typed: centimetres, millimetres, or inches with fractions. */
  units: z.enum(['cm', 'mm', 'in']).default('cm'),
  pieces: z
    .array(pieceSchema)
    .max(LIMITS.pieces, `at most ${LIMITS.pieces} different pieces`)
    .readonly()
    .default([]),
  materials: z.array(materialSchema).max(LIMITS.materials).readonly().default([]),
  cutList: z
    .array(cutRowSchema)
    .max(LIMITS.pieces * 5)
    .readonly()
    .default([]),
  /** What is laid at once: so many of the cut list, in so many sizes. Missing: one, as drawn. */
  sets: z.array(bagSetSchema).max(50).readonly().optional(),
  matches: z.array(matchSchema).max(500).readonly().optional(),
  cloths: z.array(clothSchema).max(LIMITS.cloths).readonly().default([]),
  /** What shops have, to be compared. */
  offers: z.array(materialOfferSchema).max(200).readonly().optional(),
  layChoices: z.array(layChoiceSchema).max(LIMITS.materials).readonly().default([]),
  plans: z.array(planSchema).max(100).readonly().default([]),
  cutting: cuttingSchema.prefault({}),
});

export type Project = z.infer<typeof projectSchema>;
