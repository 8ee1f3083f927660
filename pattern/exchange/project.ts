import { z } from 'zod';

/**
 * The project document, version 1: everything the page knows. The same schema guards what the server stores,
 * what a user opens from a file and what a lay is asked for. Lengths are millimetres, angles degrees
 * (counter-clockwise, y up), money whole cents; inches and fractions exist only on screen and on paper.
 */

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

const id = z
  .string()
  .min(1)
  .max(64)
  .regex(/^[\w.-]+$/, 'an id may hold letters, digits, "_", "-" and "."');
const name = z.string().trim().min(1, 'a name is missing').max(LIMITS.nameLength);
const coordinate = z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm);
const length = z.number().min(0).max(LIMITS.lengthMm);
const positiveLength = z.number().gt(0, 'must be greater than zero').max(LIMITS.lengthMm);
const angle = z.number().min(-360).max(360);
const count = z.number().int('must be a whole number').min(0).max(LIMITS.copies);

export const pointSchema = z.tuple([coordinate, coordinate]).readonly();
/** A closed ring, first vertex not repeated. */
export const ringSchema = z
  .array(pointSchema)
  .min(3, 'an outline needs three points')
  .max(LIMITS.points)
  .readonly();

/** A line drawn on the piece that is not cut: a sew line, a placement line, a fold mark. */
const markSchema = z.object({
  kind: z.enum(['sewLine', 'internal', 'notch']),
  points: z.array(pointSchema).min(1).max(LIMITS.points).readonly(),
  closed: z.boolean().default(false),
});

/** Where a piece came from: kept so that a screen can say so and offer to read it again. */
const sourceSchema = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('measured'),
    alongMm: positiveLength,
    acrossMm: positiveLength,
  }),
  z.object({
    kind: z.literal('drawing'),
    file: z.string().max(LIMITS.nameLength),
    element: z.string().max(LIMITS.nameLength),
  }),
]);

export const pieceSchema = z.object({
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
  /** Index i of the outline's edge (vertex i to i + 1) that lies on a fold; null for a whole piece. */
  foldEdge: z.number().int().min(0).nullable().default(null),
  /** What the outline is: the line to cut, or the line to sew, with `allowanceMm` to add outside it. */
  line: z.enum(['cut', 'sew']).default('cut'),
  allowanceMm: length.default(0),
  source: sourceSchema.optional(),
  notes: z.string().max(LIMITS.notesLength).default(''),
});

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
});

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

/** How one material is to be laid. Cloths not listed in `clothIds` are left alone. */
export const layChoiceSchema = z.object({
  materialId: id,
  clothIds: z.array(id).max(LIMITS.cloths).readonly().default([]),
  spread: z.enum(['single', 'folded', 'compare']).default('single'),
});

const placedSchema = z.object({
  pieceId: id,
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
const segmentSchema = z.object({
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

export const PROJECT_FORMAT = 'clothlay-project';
export const PROJECT_VERSION = 1;

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
  cloths: z.array(clothSchema).max(LIMITS.cloths).readonly().default([]),
  layChoices: z.array(layChoiceSchema).max(LIMITS.materials).readonly().default([]),
  plans: z.array(planSchema).max(100).readonly().default([]),
});

export type Piece = z.infer<typeof pieceSchema>;
export type PieceMark = z.infer<typeof markSchema>;
export type Material = z.infer<typeof materialSchema>;
export type CutRow = z.infer<typeof cutRowSchema>;
export type Roll = z.infer<typeof rollSchema>;
export type Remnant = z.infer<typeof remnantSchema>;
export type Cloth = z.infer<typeof clothSchema>;
export type LayChoice = z.infer<typeof layChoiceSchema>;
export type Placed = z.infer<typeof placedSchema>;
export type Segment = z.infer<typeof segmentSchema>;
export type ClothLay = z.infer<typeof clothLaySchema>;
export type Plan = z.infer<typeof planSchema>;
export type Project = z.infer<typeof projectSchema>;
