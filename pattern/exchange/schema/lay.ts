import { z } from 'zod';
import { count, id, LIMITS, name, ringSchema } from './fields.ts';

/** How cloth is to be laid, and finished lays. */

/**
 * Ways in which a roll is spread. `folded`: lengthwise, as much doubled as can be, the rest opened out behind it.
 * `sequence`: the same, doubled only where that saves cloth. `crosswise`: cut ends together. `turned`: crosswise, the
 * fold cut and the upper layer turned end for end. `middle`: both selvedges to the middle. `partial`: folded only so
 * deep as is needed, single beside that.
 */
export const SPREADS = ['single', 'folded', 'sequence', 'crosswise', 'turned', 'middle', 'partial'] as const;
export const spreadSchema = z.enum(SPREADS);

/** How one material is to be laid. Cloths not listed in `clothIds` are left alone. */
export const layChoiceSchema = z.object({
  materialId: id,
  clothIds: z.array(id).max(LIMITS.cloths).readonly().default([]),
  spread: z.enum([...SPREADS, 'compare']).default('single'),
  /** Also lay it as if nothing recurred on the cloth, to see what the repeat costs. */
  withoutRepeat: z.boolean().optional(),
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
  /** Numbers of the sets it belongs to, where more than one is laid; two where a pair serves two sets. */
  sets: z.array(z.number().int().min(1)).max(4).readonly().optional(),
  /** One of the lengths that the piece is joined from. */
  part: z.object({ n: z.number().int().min(1), of: z.number().int().min(2) }).optional(),
  /** Cut from here although the cut list puts it into this other material. */
  guestOf: id.optional(),
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

/** A part of a stretch's width: how many layers lie there, and on which of its edges it is folded. */
export const laneSchema = z.object({
  /** Across, in the segment's axes: what pieces may lie on. */
  fromMm: z.number(),
  toMm: z.number(),
  layers: z.union([z.literal(1), z.literal(2)]),
  fold: z.enum(['none', 'low', 'high', 'end']),
});

/**
 * What was decided of a spread before packing, so that the lay can be taken up again: how many copies of a demand lie
 * on the fold and how many doubled placements it has, how deep the fold is, and which way all grain lines lie.
 */
export const arrangementSchema = z.object({
  doubled: z
    .array(z.object({ id: z.string().max(200), fold: count, pairs: count }))
    .max(LIMITS.pieces)
    .readonly()
    .optional(),
  depthMm: z.number().optional(),
  turn: z.enum(['grain', 'cross']).optional(),
});

/** A stretch of cloth spread one way: x runs on from 0 at the segment's own start. */
export const segmentSchema = z.object({
  /** How this stretch lies; one that opens out behind a doubled one is `single`. */
  spread: spreadSchema,
  /** For a roll: usable strip from selvedge (or fold) to selvedge. For a remnant: its bounding height. */
  widthMm: z.number(),
  lengthMm: z.number(),
  /** Remnants only. */
  outline: ringSchema.optional(),
  flaws: z.array(ringSchema).readonly().optional(),
  /** Where the cloth lies in several layers beside each other: from the lower edge up. Missing: one way all over. */
  lanes: z.array(laneSchema).max(20).readonly().optional(),
  placed: z.array(placedSchema).readonly(),
});

/** What one cloth (or one way to spread it) gives. */
export const clothLaySchema = z.object({
  materialId: id,
  clothId: id,
  spread: spreadSchema,
  arrangement: arrangementSchema.optional(),
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
  /** Length cut from the roll as it is bought, squaring loss included; 0 for a remnant. */
  usedMm: z.number(),
  /** The same length after washing, which is what the plan shows; missing where the cloth does not shrink. */
  washedMm: z.number().optional(),
  /** `usedMm` rounded up to the shop's step; 0 for a remnant. */
  buyMm: z.number(),
  /** Length used by a lay of the same cloth with nothing recurring on it: what the repeat costs is the difference. */
  withoutRepeatMm: z.number().optional(),
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

export type Spread = z.infer<typeof spreadSchema>;
export type Lane = z.infer<typeof laneSchema>;
export type Arrangement = z.infer<typeof arrangementSchema>;
export type LayChoice = z.infer<typeof layChoiceSchema>;
export type Placed = z.infer<typeof placedSchema>;
export type Segment = z.infer<typeof segmentSchema>;
export type ClothLay = z.infer<typeof clothLaySchema>;
export type Plan = z.infer<typeof planSchema>;
