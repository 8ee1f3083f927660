import { z } from 'zod';
import { clothSchema } from './schema/cloth.ts';
import { id, name } from './schema/fields.ts';
import { clothLaySchema } from './schema/lay.ts';
import { offerSchema } from './schema/offer.ts';

/** "What to buy": what shops have, and the baskets of it that serve a material. */

export const buyQuestionSchema = z.object({
  kind: z.literal('buy'),
  materialId: id,
  offers: z.array(offerSchema).max(20, 'at most 20 offers are compared').readonly(),
});

export const basketLineSchema = z.object({
  /** Null for cloth that is there already. */
  offerId: id.nullable(),
  clothId: id,
  name,
  /** Length to buy, in whole steps of the shop (or all that is left of it); 0 for sheets and for what is there. */
  lengthMm: z.number(),
  /** Of that length, what the layout leaves. */
  spareMm: z.number(),
  /** Sheets to buy, or lengths. */
  count: z.number().int(),
  costCents: z.number().int(),
});

export const basketSchema = z.object({
  lines: z.array(basketLineSchema).readonly(),
  costCents: z.number().int(),
  /** The cloths bought and those there, as the layouts name them. */
  cloths: z.array(clothSchema).readonly(),
  results: z.array(clothLaySchema).readonly(),
});

export const buyAnswerSchema = z.object({
  /** Cheapest first, then the least spare. */
  baskets: z.array(basketSchema).readonly(),
  /** Ways of buying laid out so far, of so many. */
  tried: z.number().int(),
  of: z.number().int(),
  /** Ways that did not serve, and why, for the maker. */
  failed: z.array(z.object({ names: z.array(z.string()).readonly(), reason: z.string() })).readonly(),
});

export type { Offer } from './schema/offer.ts';
export type BuyQuestion = z.infer<typeof buyQuestionSchema>;
export type Basket = z.infer<typeof basketSchema>;
export type BasketLine = z.infer<typeof basketLineSchema>;
export type BuyAnswer = z.infer<typeof buyAnswerSchema>;
