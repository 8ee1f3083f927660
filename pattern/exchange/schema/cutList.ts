import { z } from 'zod';
import { count, id, name } from './fields.ts';

/** Materials, and what is cut from them. */

export const materialSchema = z.object({
  id,
  name,
  role: z.enum(['main', 'contrast', 'lining', 'interfacing', 'foam', 'other']).default('main'),
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
});

export type Material = z.infer<typeof materialSchema>;
export type CutRow = z.infer<typeof cutRowSchema>;
