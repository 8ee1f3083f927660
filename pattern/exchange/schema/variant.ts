import { z } from 'zod';
import { id, LIMITS, length } from './fields.ts';

/** Pieces worked out from other pieces. */

/** What happens where the allowances of two edges meet. */
export const cornersSchema = z.enum(['mitred', 'squared', 'rounded']);

/** An allowance of one edge (vertex `edge` to the next) that differs from the piece's own. */
export const edgeAllowanceSchema = z.object({ edge: z.number().int().min(0), mm: length });

/** A straight stretch of a line drawn on the piece, and which side of it is kept, looking along it as it is drawn. */
export const foldAtLineSchema = z.object({
  /** Index of the mark, and of the point of it at which the stretch begins. */
  mark: z.number().int().min(0),
  from: z.number().int().min(0),
  keep: z.enum(['left', 'right']),
});

const percent = z.number().min(1, 'a scale must be at least 1 %').max(1000);

/** One step from a piece to its variant. Edges are counted on the outline as it is before the step. */
export const variantStepSchema = z.discriminatedUnion('kind', [
  /** A half piece opened out about its fold edge. */
  z.object({ kind: z.literal('unfold') }),
  /** Folded back at a line; what lies beyond it is left out: so far inside an edge, or, where `line` is given, there. */
  z.object({
    kind: z.literal('foldBack'),
    edge: z.number().int().min(0).default(0),
    insideMm: length.default(0),
    line: foldAtLineSchema.optional(),
  }),
  /** Another allowance outside the sew line: none, all round, or edge by edge. */
  z.object({
    kind: z.literal('allowance'),
    mm: length,
    edges: z.array(edgeAllowanceSchema).max(LIMITS.points).readonly().default([]),
    corners: cornersSchema.default('mitred'),
  }),
  /** Left and right exchanged. */
  z.object({ kind: z.literal('mirror') }),
  /** Longer (or shorter, where negative) at a line across the direction, so far from the piece's low end. */
  z.object({
    kind: z.literal('lengthen'),
    direction: z.enum(['along', 'across']).default('along'),
    atMm: length,
    byMm: z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm),
  }),
  /** Scaled along and across its grain; the allowance keeps its width. */
  z.object({ kind: z.literal('scale'), alongPercent: percent, acrossPercent: percent }),
]);

/** Where a variant comes from. Its outline is worked out anew whenever that piece changes. */
export const variantSchema = z.object({
  from: id,
  steps: z.array(variantStepSchema).max(40).readonly().default([]),
});

export type FoldAtLine = z.infer<typeof foldAtLineSchema>;
export type Corners = z.infer<typeof cornersSchema>;
export type EdgeAllowance = z.infer<typeof edgeAllowanceSchema>;
export type VariantStep = z.infer<typeof variantStepSchema>;
export type Variant = z.infer<typeof variantSchema>;
