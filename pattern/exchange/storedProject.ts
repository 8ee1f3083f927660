import { z } from 'zod';
import { problemDetailsSchema, projectSummarySchema, storedProjectSchema } from './lay.ts';
import { projectSchema } from './project.ts';

/** What travels between the page and the server about stored projects, besides `StoredProject` itself. */

/** Body of `POST /api/projects`. The answer is a `StoredProject` with the id and revision 1. */
export const projectCreateSchema = z.object({ project: projectSchema });

/** Answer of `GET /api/projects` (newest change first) and of `GET /api/projects/{id}/revisions` (newest first). */
export const projectListSchema = z.array(projectSummarySchema);

/** Answer of `PUT /api/projects/{id}` when `revision` is not the current one: what is there now. */
export const staleWriteProblemSchema = problemDetailsSchema.extend({
  currentRevision: z.number().int(),
  updatedAt: z.string(),
});

/** A deleted project, restorable until `keptUntil`. */
export const binnedProjectSchema = projectSummarySchema.extend({
  deletedAt: z.string(),
  keptUntil: z.string(),
});
export const binSchema = z.array(binnedProjectSchema);

/** Answer of `POST /api/lays`; the lay's address is in the `Location` header too. */
export const layAcceptedSchema = z.object({ id: storedProjectSchema.shape.id });

export type ProjectCreate = z.infer<typeof projectCreateSchema>;
export type BinnedProject = z.infer<typeof binnedProjectSchema>;
export type StaleWriteProblem = z.infer<typeof staleWriteProblemSchema>;
