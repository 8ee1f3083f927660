import { z } from 'zod';
import { count, id, LIMITS, length, name } from './fields.ts';

/** Materials, and what is cut from them. */

/** How a material is cut where that differs from the piece's own cut line. Fold edges are never moved. */
export const sizingSchema = z.object({
  /** How much of the seam allowance: all, none, or so much as stays in the seam. */
  allowance: z.enum(['full', 'none', 'partly']).default('full'),
  inSeamMm: length.default(0),
  /** Larger all round (smaller where negative): a lining that must not wrinkle, a foam that shrinks. */
  largerMm: z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm).default(0),
  /** Cut so much larger all round, and trimmed to size later: panels that are quilted first. */
  roughMm: length.default(0),
});

/**
 * A material sold by the area of whole hides: what of them ends in pieces, and what they cost.
 *
 * Up to 70 per cent of a hide end in small parts, about 50 in large panels
 * (https://www.keleenleathers.com/leather-cutting-yield-explained/). Others reckon with 75
 * (http://gloverbros.co.uk/Fabric%20leather%20vinyl/05_hide.html); hides differ, so it is a range that can be changed.
 */
export const byAreaSchema = z.object({
  yieldLowPercent: z.number().min(1).max(100).default(50),
  yieldHighPercent: z.number().min(1).max(100).default(70),
  /** One hide, mm²; an ordinary cow hide has 50 square feet (https://www.keleenleathers.com/how-to-buy-leather/). */
  hideMm2: z.number().gt(0).max(1e8).default(4_645_152),
  priceCentsPerM2: z.number().int().min(0).max(10_000_000).nullable().default(null),
});

export const materialSchema = z.object({
  id,
  name,
  role: z.enum(['main', 'contrast', 'lining', 'interfacing', 'foam', 'other']).default('main'),
  /** Materials in which everything cut from this one is cut as well. */
  companions: z.array(id).max(LIMITS.materials).readonly().optional(),
  sizing: sizingSchema.optional(),
  byArea: byAreaSchema.optional(),
});

/** How a piece may be made from shorter lengths, or narrower widths; of a half on the fold, from its two halves. */
export const joinsSchema = z.object({
  /** At most so many joins. */
  most: z.number().int().min(1).max(20),
  /** Added to each of the two ends that meet. */
  allowanceMm: length.default(0),
  /** Straight across, or at 45°, as bindings are joined. */
  slant: z.enum(['straight', 'diagonal']).default('straight'),
  /** So much about the middle of its length is in one piece: the part of a strap that lies on the shoulder. */
  wholeMiddleMm: length.default(0),
  /** What the joins divide; its longer side unless said. */
  divides: z.enum(['length', 'width']).optional(),
});

/** One cell of the cut list: a piece in a material. */
export const cutRowSchema = z.object({
  pieceId: id,
  materialId: id,
  /** Copies as drawn, right side up. */
  plain: count.default(0),
  /** Copies as the mirror image. */
  mirrored: count.default(0),
  /** Whole pieces got from a half piece on the fold (only where the piece has a fold edge). */
  onFold: count.default(0),
  /** Cut later, to measure: the places of these copies stay free, hatched on the plan. */
  heldBack: z.boolean().optional(),
  /**
   * The row is there because other materials ask for it. Its counts are theirs, unless they are the maker's `own`.
   */
  follows: z
    .object({ from: z.array(id).max(LIMITS.materials).readonly(), own: z.boolean().default(false) })
    .optional(),
  /** Never seen: other materials it may come from instead, the one to try first in front. */
  elsewhere: z.array(id).max(LIMITS.materials).readonly().optional(),
  joins: joinsSchema.optional(),
  /**
   * It is a block that is fused to the cloth of another material before pieces are cut through both: instead of these
   * rows, which come back when the block is given up.
   */
  block: z
    .object({
      underId: id,
      instead: z
        .array(z.object({ pieceId: id, plain: count, mirrored: count, onFold: count }))
        .max(LIMITS.pieces)
        .readonly(),
    })
    .optional(),
});

/** So many of the whole cut list, in one size. */
export const bagSetSchema = z.object({
  id,
  name,
  times: z.number().int('must be a whole number').min(1).max(1000).default(1),
  /** Every piece scaled along and across its grain; allowances keep their width. */
  alongPercent: z.number().min(1).max(1000).default(100),
  acrossPercent: z.number().min(1).max(1000).default(100),
});

export type Material = z.infer<typeof materialSchema>;
export type ByAreaSale = z.infer<typeof byAreaSchema>;
export type Sizing = z.infer<typeof sizingSchema>;
export type CutRow = z.infer<typeof cutRowSchema>;
export type Joins = z.infer<typeof joinsSchema>;
export type BagSet = z.infer<typeof bagSetSchema>;
