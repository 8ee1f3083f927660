import { z } from 'zod';
import { id } from './fields.ts';

/** Pieces whose edges are joined, so that the bars or motifs of the cloth must meet there. */

/** Where a piece is joined: the middle of an edge (vertex i to i + 1), or one of its notches. */
export const joinedEndSchema = z.object({
  pieceId: id,
  edge: z.number().int().min(0).nullable().default(null),
  /** Index among the piece's marks. */
  notch: z.number().int().min(0).nullable().default(null),
});

export const matchSchema = z.object({ id, a: joinedEndSchema, b: joinedEndSchema });

export type JoinedEnd = z.infer<typeof joinedEndSchema>;
export type Match = z.infer<typeof matchSchema>;
