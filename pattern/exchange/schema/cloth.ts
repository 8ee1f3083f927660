import { z } from 'zod';
import { id, LIMITS, length, name, positiveLength, ringSchema } from './fields.ts';

/** Cloths: rolls and remnants. */

/** What every cloth has, a roll or a remnant. */
const clothCommon = {
  id,
  name,
  materialId: id,
  /** `grain`: the grain line stays along the cloth. `quarter`: quarter turns too. `free`: any angle. */
  turn: z.enum(['grain', 'quarter', 'free']).default('grain'),
  /** Pile or sheen: all pieces point the same way. */
  nap: z.enum(['none', 'oneWay']).default('none'),
  /** Where the print's up points on the cloth: away from the cut end (+x), back towards it, or across. */
  printUp: z.enum(['none', 'away', 'back', 'left', 'right']).default('none'),
  /** Both sides may be the right side, so that a mirrored piece is a plain one turned over. */
  reversible: z.boolean().default(false),
  gapMm: length.default(0),
  /** Clear space along every cut edge of the cloth. */
  edgeMarginMm: length.default(0),
  priceCentsPerMetre: z.number().int().min(0).max(10_000_000).nullable().default(null),
  notes: z.string().max(LIMITS.notesLength).default(''),
};

export const rollSchema = z.object({
  ...clothCommon,
  kind: z.literal('roll'),
  /** Whole width, selvedge to selvedge. */
  widthMm: positiveLength,
  /** Strip lost along each selvedge. */
  selvedgeMm: length.default(0),
  /** Lost at the cut end to make it square. */
  squaringMm: length.default(0),
  /** The shop cuts in steps of this length. */
  shopStepMm: positiveLength.default(100),
  /** May be folded lengthwise: no for vinyl, foam, leather. */
  foldable: z.boolean().default(true),
  /** All there is, if the roll is not endless. */
  availableMm: positiveLength.nullable().default(null),
});

export const remnantSchema = z.object({
  ...clothCommon,
  kind: z.literal('remnant'),
  /** x along the grain, y across it, right side up. */
  outline: ringSchema,
  /** Holes, stains, burns: no piece may enter one. */
  flaws: z.array(ringSchema).max(200).readonly().default([]),
});

export const clothSchema = z.discriminatedUnion('kind', [rollSchema, remnantSchema]);

export type Roll = z.infer<typeof rollSchema>;
export type Remnant = z.infer<typeof remnantSchema>;
export type Cloth = z.infer<typeof clothSchema>;
