import { z } from 'zod';
import { id, LIMITS, length, name, positiveLength, ringSchema } from './fields.ts';

/** Cloths: rolls and remnants. */

/** How far cloth may be said to shrink, in per cent: woollens can felt to half; beyond that it is another cloth. */
export const MOST_SHRINKAGE_PERCENT = 60;
/** How much may be bought for safety, in per cent of the length needed: as much again. */
export const MOST_RESERVE_PERCENT = 100;
const shrinkage = z
  .number()
  .min(0)
  .max(
    MOST_SHRINKAGE_PERCENT,
    `cloth that shrinks by more than ${MOST_SHRINKAGE_PERCENT} % leaves too little to lay on: wash it first and give its measures after`,
  )
  .default(0);

/**
 * How the grain lines of pieces may lie: along the cloth, across it, on the bias (45°, either way or to one side),
 * at quarter turns, at any angle. On the bias to the left the grain line rises to the left-hand selvedge.
 */
export const turnSchema = z.enum(['grain', 'cross', 'bias', 'biasLeft', 'biasRight', 'quarter', 'free']);

/** The lattice on which a print, a stripe or a plaid recurs. Lengths as measured on the cloth to be laid on. */
export const repeatSchema = z.object({
  /** 0 where nothing recurs in that direction: a stripe along the cloth has no repeat along it. */
  alongMm: length.default(0),
  acrossMm: length.default(0),
  /** Half drop: every second column is set off by half a repeat along. Brick: every second row by half across. */
  kind: z.enum(['straight', 'halfDrop', 'brick']).default('straight'),
  /** Where the first motif (or the middle of the first bar) lies, from the cut end and from the lower selvedge. */
  fromEndMm: length.default(0),
  fromSelvedgeMm: length.default(0),
  /**
   * What recurs: a print's motifs, or the bars of a stripe or plaid. An even one looks the same in a mirror, its bars
   * run out alike to both sides of the widest; an uneven one does not.
   */
  look: z.enum(['print', 'even', 'uneven']).default('print'),
  /** So far the print runs off the grain, counter-clockwise as the cloth lies on the plan, in degrees. */
  skewDeg: z.number().min(-15).max(15, 'a print more than 15° off the grain can’t be followed').default(0),
  /** Where the two differ, pieces are laid with the print, or with the grain. */
  follow: z.enum(['print', 'grain']).default('print'),
});

/** A border printed along one edge of the cloth, or along both. Lengths as measured on the cloth to be laid on. */
export const borderSchema = z.object({
  /** `low`: along the lower edge of the plan, the right-hand selvedge seen from the cut end. */
  side: z.enum(['low', 'high', 'both']).default('low'),
  /** From the edge of the cloth to the line on which the lower edges of pieces lie. */
  fromEdgeMm: length.default(0),
  /** How far the border reaches from that line into the cloth. */
  depthMm: length.default(0),
  /** Pieces that are not on the border keep off it. */
  keepOff: z.boolean().default(true),
});

/** Letters of the data address of a picture: about 300 kB of it. */
const MOST_PICTURE = 400_000;

/**
 * What recurs, as the cloth lies on the plan, cut end at the left: one repeat as the data address of a PNG or JPEG,
 * which nothing but a picture can be.
 */
export const printPictureSchema = z
  .string()
  .max(MOST_PICTURE, 'the picture of the repeat is too large: make it smaller than 300 kB')
  .regex(
    /^data:image\/(?:png;base64,iVBORw0KGgo|jpeg;base64,\/9j\/)[A-Za-z0-9+/]*={0,2}$/,
    'the picture of the repeat must be a PNG or a JPEG',
  );

/** What every cloth has, a roll or a remnant. */
const clothCommon = {
  id,
  name,
  materialId: id,
  turn: turnSchema.default('grain'),
  /** How far a piece may be tilted off the grain, either way, in degrees. */
  tiltDeg: z.number().min(0).max(15, 'a tilt of more than 15° is no grain any more').default(0),
  /**
   * Pile, sheen, a print that looks different upside down. `oneWay`: all pieces point the same way. `twoWay`: along
   * or against it, but not across. `upAndDown`: all pieces of one set point the same way, sets may differ.
   */
  nap: z.enum(['none', 'oneWay', 'twoWay', 'upAndDown']).default('none'),
  /** The grain lines of all pieces lie the same way, along or across, so that all stretch alike. */
  stretchAlike: z.boolean().default(false),
  /** Marked and cut with the wrong side up: the plan is drawn as it is seen then, mirrored as a whole. */
  cutFromBack: z.boolean().default(false),
  shrinkAlongPercent: shrinkage,
  shrinkAcrossPercent: shrinkage,
  repeat: repeatSchema.nullable().default(null),
  border: borderSchema.nullable().default(null),
  printPicture: printPictureSchema.optional(),
  /** Which preset its first values came from, so that their source can be named. */
  preset: z.string().max(40).optional(),
  /** Where the print's up points on the cloth: away from the cut end (+x), back towards it, or across. */
  printUp: z.enum(['none', 'away', 'back', 'left', 'right']).default('none'),
  /** Both sides may be the right side, so that a mirrored piece is a plain one turned over. */
  reversible: z.boolean().default(false),
  gapMm: length.default(0),
  /** Clear space along every cut edge of the cloth. */
  edgeMarginMm: length.default(0),
  priceCentsPerMetre: z.number().int().min(0).max(10_000_000).nullable().default(null),
  notes: z.string().max(LIMITS.notesLength).default(''),
  /** What of the shelf it is, if it comes from there. */
  shelfId: id.optional(),
};

export const rollSchema = z.object({
  ...clothCommon,
  kind: z.literal('roll'),
  /** Whole width, selvedge to selvedge. */
  widthMm: positiveLength,
  /** Strip lost along each selvedge. */
  selvedgeMm: length.default(0),
  /** Width that can be cut from, where it is not the width between the selvedges: a coating, a wavy edge. */
  usableWidthMm: positiveLength.nullable().default(null),
  /** Lost at the cut end to make it square, and at the far end. */
  squaringMm: length.default(0),
  squaringEndMm: length.default(0),
  /** Stains, holes, misprints: x from the cut end as it is bought, y from the lower selvedge. No piece may enter one. */
  flaws: z.array(ringSchema).max(200).readonly().default([]),
  /** Strips along the whole cloth that are left out, such as the faded line of the bolt's fold: y of both sides. */
  fadedLines: z
    .array(z.object({ fromMm: length, toMm: length }))
    .max(20)
    .readonly()
    .default([]),
  /** The shop cuts in steps of this length. */
  shopStepMm: positiveLength.default(100),
  /** Bought beyond the need, for safety: a share of the length needed, in per cent, and a length. */
  reservePercent: z
    .number()
    .min(0)
    .max(
      MOST_RESERVE_PERCENT,
      `a reserve of more than ${MOST_RESERVE_PERCENT} % is another project: lay more sets`,
    )
    .default(0),
  reserveMm: length.default(0),
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
  /** So many alike, not joined to each other: fat quarters, pre-cut sheets. */
  quantity: z.number().int('must be a whole number').min(1).max(200).default(1),
});

export const clothSchema = z.discriminatedUnion('kind', [rollSchema, remnantSchema]);

export type Border = z.infer<typeof borderSchema>;
export type Repeat = z.infer<typeof repeatSchema>;
export type Turn = z.infer<typeof turnSchema>;
export type Roll = z.infer<typeof rollSchema>;
export type Remnant = z.infer<typeof remnantSchema>;
export type Cloth = z.infer<typeof clothSchema>;
