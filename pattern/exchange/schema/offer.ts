import { z } from 'zod';
import { id, name, positiveLength } from './fields.ts';

/** What a shop has of a material. */

const offerCommon = { id, name };
const price = z.number().int().min(0).max(10_000_000);

export const offerSchema = z.discriminatedUnion('kind', [
  z.object({
    ...offerCommon,
    kind: z.literal('roll'),
    widthMm: positiveLength,
    selvedgeMm: z.number().min(0).max(1000).default(0),
    /** Cut in steps of this length, rounded up only. */
    stepMm: positiveLength.default(100),
    /** Null until it is known: such an offer can't be compared. */
    priceCentsPerMetre: price.nullable().default(null),
    /** Lengths left at the shop, not joined to each other; none: as much as one likes. */
    leftMm: z.array(positiveLength).max(20).readonly().default([]),
  }),
  /** Fat quarters, squares of cork, foam in packs: whole sheets only. */
  z.object({
    ...offerCommon,
    kind: z.literal('sheet'),
    alongMm: positiveLength,
    acrossMm: positiveLength,
    priceCents: price.nullable().default(null),
    /** Sheets left at the shop; null: as many as one likes. */
    left: z.number().int('must be a whole number').min(1).max(200).nullable().default(null),
  }),
]);

/** Offers of the project, each for a material. */
export const materialOfferSchema = z.object({ materialId: id, offer: offerSchema });

export type Offer = z.infer<typeof offerSchema>;
