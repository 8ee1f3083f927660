import { z } from 'zod';
import { count, id, LIMITS, name, ringSchema } from './fields.ts';

/** How cloth is to be laid, and finished lays. */

/** How one material is to be laid. Cloths not listed in `clothIds` are left alone. */
export const layChoiceSchema = z.object({
  materialId: id,
  clothIds: z.array(id).max(LIMITS.cloths).readonly().default([]),
  spread: z.enum(['single', 'folded', 'compare']).default('single'),
});

export const placedSchema = z.object({
  pieceId: id,
  /** Which item of the packing problem this is a copy of, so that the lay can be taken up again and changed by hand. */
  item: z.string().max(200).optional(),
  /** Stays where it is when the rest is packed anew. */
  locked: z.boolean().optional(),
  /** 1 … of so many copies of this piece in this material and hand. */
  copy: z.number().int().min(1),
  of: z.number().int().min(1),
  /** `pair`: one placement on doubled cloth gives one plain and one mirrored piece. */
  hand: z.enum(['plain', 'mirrored', 'pair', 'fold', 'either']),
  rotation: z.number(),
  mirrored: z.boolean(),
  x: z.number(),
  y: z.number(),
  /** The cut line as placed, in the segment's axes (x along the cloth, y from the selvedge or the fold). */
  outline: ringSchema,
  holes: z.array(ringSchema).readonly(),
  /** Direction of the grain line and of the piece's top on the cloth. */
  grainDeg: z.number(),
  topDeg: z.number(),
});

/** A stretch of cloth spread one way: x runs on from 0 at the segment's own start. */
export const segmentSchema = z.object({
  spread: z.enum(['single', 'folded']),
  /** For a roll: usable strip from selvedge (or fold) to selvedge. For a remnant: its bounding height. */
  widthMm: z.number(),
  lengthMm: z.number(),
  /** Remnants only. */
  outline: ringSchema.optional(),
  flaws: z.array(ringSchema).readonly().optional(),
  placed: z.array(placedSchema).readonly(),
});

/** What one cloth (or one way to spread it) gives. */
export const clothLaySchema = z.object({
  materialId: id,
  clothId: id,
  spread: z.enum(['single', 'folded']),
  verdict: z.enum(['fits', 'cannot fit', 'not found']),
  /** Why it cannot fit, or what is missing, in words for the maker. */
  reason: z.string().optional(),
  segments: z.array(segmentSchema).readonly(),
  /** Pieces without a place, with how many and which hand. */
  unplaced: z.array(z.object({ pieceId: id, plain: count, mirrored: count, onFold: count })).readonly(),
  /** What this lay set out to cut, by demand (a piece, or its half on the fold), so that it can be changed by hand. */
  wanted: z
    .array(z.object({ id: z.string().max(200), plain: count, mirrored: count }))
    .readonly()
    .optional(),
  /** Length cut from the roll, squaring loss included; 0 for a remnant. */
  usedMm: z.number(),
  /** `usedMm` rounded up to the shop's step; 0 for a remnant. */
  buyMm: z.number(),
  /** No lay of this cloth spread this way can use less than this length; missing where no bound is known. */
  atLeastMm: z.number().optional(),
  /** Area of all cut pieces ÷ (whole width, selvedges too, × `usedMm`), or ÷ the remnant's area without flaws. */
  usePercent: z.number(),
  piecesToTrace: z.number().int(),
  pieceAreaMm2: z.number(),
  clothAreaMm2: z.number(),
  costCents: z.number().int().nullable(),
});

/** A finished lay, kept with the project so that it survives a reload. The engine's own record: see `lay.ts`. */
export const planSchema = z.object({
  id,
  name,
  createdAt: z.string().max(40),
  /** Changes whenever pieces, cut list or cloths do; a plan with another mark is out of date. */
  madeFrom: z.string().max(80),
  results: z.array(clothLaySchema).max(500).readonly(),
});

export type LayChoice = z.infer<typeof layChoiceSchema>;
export type Placed = z.infer<typeof placedSchema>;
export type Segment = z.infer<typeof segmentSchema>;
export type ClothLay = z.infer<typeof clothLaySchema>;
export type Plan = z.infer<typeof planSchema>;
