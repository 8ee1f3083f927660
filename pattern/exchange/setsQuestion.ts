import { z } from 'zod';
import { id, LIMITS, positiveLength } from './schema/fields.ts';

/** "How many sets does this cloth give?": the question, and the answer as far as it is known. */

/** Sizes tried of one dimension, at most. */
export const MOST_SIZES = 200;

export const varySchema = z
  .object({
    /** Pieces by measurements that all get the same size: rectangles, or pieces by one formula. */
    pieceIds: z.array(id).min(1, 'no piece is chosen whose size may vary').max(LIMITS.pieces).readonly(),
    /** What varies: `along` or `across` of a rectangle, a measure of a piece by formula (`depth`). */
    side: z.string().min(1).max(40),
    fromMm: positiveLength,
    toMm: positiveLength,
    stepMm: positiveLength,
  })
  .refine(({ fromMm, toMm }) => fromMm <= toMm, 'the smallest size must not be larger than the largest')
  .refine(
    ({ fromMm, toMm, stepMm }) => (toMm - fromMm) / stepMm <= MOST_SIZES - 1,
    `the steps are too fine: at most ${MOST_SIZES} sizes are tried`,
  );

export const setsQuestionSchema = z.object({
  kind: z.literal('sets'),
  /** No more than so many are looked for. */
  most: z.number().int().min(1).max(1000).default(200),
  vary: varySchema.nullable().default(null),
});

const verdict = z.enum(['fits', 'cannot fit', 'not found']);

/** One number of sets tried, in one size where a size may vary. */
export const setsTrySchema = z.object({
  sets: z.number().int(),
  sizeMm: z.number().nullable(),
  verdict,
  reason: z.string().optional(),
});

export const setsAnswerSchema = z.object({
  /** More can't be had, by area alone. */
  atMost: z.number().int(),
  tries: z.array(setsTrySchema).readonly(),
  /** What was found to fit, most sets first: for each number of sets the largest size. */
  found: z.array(z.object({ sets: z.number().int(), sizeMm: z.number().nullable() })).readonly(),
});

export type SetsVary = z.infer<typeof varySchema>;
export type SetsQuestion = z.infer<typeof setsQuestionSchema>;
export type SetsTry = z.infer<typeof setsTrySchema>;
export type SetsAnswer = z.infer<typeof setsAnswerSchema>;
