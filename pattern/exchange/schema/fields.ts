import { z } from 'zod';

/** Limits on what one document may hold; the messages that quote them live beside the schema. */
export const LIMITS = {
  pieces: 2_000,
  copies: 10_000,
  points: 20_000,
  cloths: 200,
  materials: 50,
  nameLength: 200,
  notesLength: 20_000,
  /** Largest coordinate or length in mm: a hundred metres. */
  lengthMm: 100_000,
} as const;

export const id = z
  .string()
  .min(1)
  .max(64)
  .regex(/^[\w.-]+$/, 'an id may hold letters, digits, "_", "-" and "."');
export const name = z.string().trim().min(1, 'a name is missing').max(LIMITS.nameLength);
export const coordinate = z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm);
export const length = z.number().min(0).max(LIMITS.lengthMm);
export const positiveLength = z.number().gt(0, 'must be greater than zero').max(LIMITS.lengthMm);
export const angle = z.number().min(-360).max(360);
export const count = z.number().int('must be a whole number').min(0).max(LIMITS.copies);

/** What the engine's random choices begin with: the same seed, steps and threads give the same layout. */
export const seedSchema = z
  .number()
  .int()
  .min(0)
  .max(2 ** 31 - 1)
  .default(1);

export const pointSchema = z.tuple([coordinate, coordinate]).readonly();
/** A closed ring, first vertex not repeated. */
export const ringSchema = z
  .array(pointSchema)
  .min(3, 'an outline needs three points')
  .max(LIMITS.points)
  .readonly();
