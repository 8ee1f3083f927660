import { z } from 'zod';
import { LIMITS, length } from './fields.ts';

/** Pieces that a pattern prints in parts, and how the parts are joined. */

/** A stretch of an outline: so many edges from `edge` on (vertex `edge` to the next). */
export const stretchSchema = z.object({
  edge: z.number().int().min(0).max(LIMITS.points),
  edges: z.number().int().min(1).max(LIMITS.points).default(1),
});

const letter = z.string().trim().max(20);

/** An edge at which a partner belongs, and the letter, number or mark drawn there. */
export const openJointSchema = stretchSchema.extend({ letter: letter.min(1) });

/** One side of a joint. `of`: which part, or, counted on behind the parts, what which earlier joint made. */
const sideSchema = stretchSchema.extend({ of: z.number().int().min(0).max(400) });

export const jointSchema = z.object({
  letter: letter.default(''),
  first: sideSchema,
  second: sideSchema,
  /** Edge against edge, or the second laid over the first by `lapMm`. */
  way: z.enum(['butt', 'lap']).default('butt'),
  lapMm: length.default(0),
});

const MOST_PARTS = 200;

/**
 * Parts and the joints that make one piece of them, in the order they were made: each joins two things that no joint
 * before it has used, and the last gives the piece.
 */
export const madeOfSchema = <Part extends z.ZodType>(part: Part) =>
  z
    .object({
      parts: z.array(part).min(2).max(MOST_PARTS).readonly(),
      joints: z
        .array(jointSchema)
        .min(1)
        .max(MOST_PARTS - 1)
        .readonly(),
    })
    .refine(
      ({ parts, joints }) => isTree(parts.length, joints),
      'the joints do not make one piece of the parts',
    );

/** Whether every part and every earlier result is used once, and in the right order. */
function isTree(parts: number, joints: readonly z.infer<typeof jointSchema>[]): boolean {
  if (joints.length !== parts - 1) return false;
  const used = new Set<number>();
  return joints.every(({ first, second }, index) => {
    const isThere = (of: number): boolean => of < parts + index && !used.has(of);
    if (first.of === second.of || !isThere(first.of) || !isThere(second.of)) return false;
    used.add(first.of).add(second.of);
    return true;
  });
}

export type Stretch = z.infer<typeof stretchSchema>;
export type OpenJoint = z.infer<typeof openJointSchema>;
export type Joint = z.infer<typeof jointSchema>;
