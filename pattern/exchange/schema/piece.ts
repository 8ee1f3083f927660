import { z } from 'zod';
import { turnSchema } from './cloth.ts';
import { angle, id, LIMITS, length, name, pointSchema, positiveLength, ringSchema } from './fields.ts';
import { madeOfSchema, openJointSchema } from './madeOf.ts';
import { cornersSchema, edgeAllowanceSchema, variantSchema } from './variant.ts';

/** Pieces of the pattern. */

/** A line drawn on the piece that is not cut: a sew line, a placement line, a fold mark. */
export const markSchema = z.object({
  kind: z.enum(['sewLine', 'internal', 'notch']),
  points: z.array(pointSchema).min(1).max(LIMITS.points).readonly(),
  closed: z.boolean().default(false),
});

/** Where a piece came from: kept so that a screen can say so and offer to read it again. */
export const sourceSchema = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('measured'),
    alongMm: positiveLength,
    acrossMm: positiveLength,
  }),
  z.object({
    kind: z.literal('shape'),
    shape: z.enum([
      'roundedRectangle',
      'trapezoid',
      'circle',
      'semicircle',
      'boxedCorner',
      'curvedBottom',
      'strap',
      'toteBody',
      'gusset',
      'binding',
    ]),
    /** In mm, by name; those of `strap` and what follows it are the finished ones. */
    measures: z.record(z.string().max(40), length),
  }),
  z.object({
    kind: z.literal('drawing'),
    file: z.string().max(LIMITS.nameLength),
    element: z.string().max(LIMITS.nameLength),
    /**
     * By its test square the drawing was off by more than the tolerance, and it is not decided yet whether its pieces
     * are corrected or left: what lengths must be multiplied by to be true.
     */
    notTrueToSize: z
      .object({ factorX: z.number().min(0.001).max(1_000), factorY: z.number().min(0.001).max(1_000) })
      .optional(),
  }),
]);

/** A piece by itself, wherever it comes from. */
export const plainPieceSchema = z.object({
  id,
  name,
  /** The outline as drawn, counter-clockwise, seen from the right side. */
  outline: ringSchema,
  /** Cut-outs inside the outline, clockwise. */
  holes: z.array(ringSchema).max(500).readonly().default([]),
  marks: z.array(markSchema).max(2_000).readonly().default([]),
  /** Direction of the grain line in the piece's own axes: a line, so 0 and 180 mean the same. 90 = upright. */
  grainDeg: angle.default(90),
  /** Which way is up when the piece is worn or carried. 90 = as drawn. */
  topDeg: angle.default(90),
  /** How its grain line lies, where that differs from what the cloth says: a strip to be cut on the bias. */
  lie: turnSchema.optional(),
  /** Front and back in one, with the bottom between them: a print that has an up stands on its head at the back. */
  turnsOver: z.boolean().optional(),
  /** Where it does so: at the bottom, a body; or at its highest, a strap over the shoulder. At the bottom where missing. */
  turnsAt: z.enum(['bottom', 'top']).optional(),
  /**
   * A point of the piece, in its own axes, that must lie on a point of the cloth's motif, given from the motif's
   * own point along and across the cloth. `toleranceMm` each way.
   */
  motif: z
    .object({ at: pointSchema, onMotif: pointSchema.default([0, 0]), toleranceMm: length.default(0) })
    .optional(),
  /** Its lower edge, away from its top, lies on the border of its cloth, so much of it beyond the border's line. */
  onBorder: z.object({ beyondMm: length.default(0) }).optional(),
  /** Index i of the outline's edge (vertex i to i + 1) that lies on a fold; null for a whole piece. */
  foldEdge: z.number().int().min(0).nullable().default(null),
  /**
   * What the outline is: the line to sew, with `allowanceMm` to add outside it, or the line to cut, with
   * `allowanceMm` already in it (0 where that is not known).
   */
  line: z.enum(['cut', 'sew']).default('cut'),
  allowanceMm: length.default(0),
  /** Edges whose allowance differs from `allowanceMm`. A fold edge has none, whatever stands here. */
  edgeAllowances: z.array(edgeAllowanceSchema).max(LIMITS.points).readonly().optional(),
  corners: cornersSchema.optional(),
  /** It is a part of a larger piece: where its partners are joined to it, by the letters drawn there. */
  openJoints: z.array(openJointSchema).max(100).readonly().optional(),
  source: sourceSchema.optional(),
  notes: z.string().max(LIMITS.notesLength).default(''),
});

export const pieceSchema = plainPieceSchema.extend({
  /** Worked out from another piece: outline, marks, directions and allowance follow it. */
  variant: variantSchema.optional(),
  /** Put together from parts, which are kept, so that it can be taken apart again. */
  madeOf: madeOfSchema(plainPieceSchema).optional(),
});

export type Piece = z.infer<typeof pieceSchema>;
export type MadeOf = NonNullable<Piece['madeOf']>;
export type ShapeSource = Extract<z.infer<typeof sourceSchema>, { kind: 'shape' }>;
export type PieceMark = z.infer<typeof markSchema>;
