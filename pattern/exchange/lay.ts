import { z } from 'zod';
import { LANGUAGES } from '../language.ts';
import { clothLaySchema, layChoiceSchema, projectSchema } from './project.ts';
import { seedSchema } from './schema/fields.ts';
import { setsAnswerSchema, setsQuestionSchema } from './setsQuestion.ts';
import { buyAnswerSchema, buyQuestionSchema } from './whatToBuy.ts';

/** What travels between the page and the server about lays: requests, state, progress. */

export const layRequestSchema = z.object({
  project: projectSchema,
  /** Which materials to lay and how; an empty list means every material, as the project's own choices say. */
  choices: z.array(layChoiceSchema).max(50).readonly().default([]),
  /** How long to look for better layouts, for each cloth and spread. */
  seconds: z.number().min(0.1).max(600).default(10),
  seed: seedSchema,
  /** Stop each search after so many steps: with one thread the same steps give the same layout. */
  maxSteps: z.number().int().min(1).max(1_000_000_000).optional(),
  /** In which reasons and hints are told; English where left out. They are stored as they were told. */
  language: z.enum(LANGUAGES).optional(),
  /** Something else to find out by laying; the lays asked for themselves if it is left out. */
  question: z.discriminatedUnion('kind', [setsQuestionSchema, buyQuestionSchema]).optional(),
});

/** Something the maker should know before or after packing. Wording belongs to the screen; `text` is English. */
export const noticeSchema = z.object({
  level: z.enum(['error', 'warning', 'info']),
  code: z.string(),
  text: z.string(),
  /** What the notice is about, so that a screen can lead there. */
  pieceId: z.string().optional(),
  materialId: z.string().optional(),
  clothId: z.string().optional(),
});

export const layStateSchema = z.object({
  id: z.string(),
  state: z.enum(['queued', 'running', 'done', 'cancelled', 'failed']),
  /** Grows with every change, so that a reader can tell old from new. */
  revision: z.number().int(),
  elapsedMs: z.number(),
  notices: z.array(noticeSchema).readonly(),
  /** One entry for each material × cloth × spread asked for, in the order of the cut list; best so far. */
  results: z.array(clothLaySchema).readonly(),
  /** To the question asked, as far as it is known. */
  answer: setsAnswerSchema.optional(),
  buy: buyAnswerSchema.optional(),
  error: z.string().optional(),
});

export type LayRequest = z.infer<typeof layRequestSchema>;
export type LayRequestInput = z.input<typeof layRequestSchema>;
export type Notice = z.infer<typeof noticeSchema>;
export type LayState = z.infer<typeof layStateSchema>;

/** A stored project as the API gives it: the document with its row's facts. */
export const storedProjectSchema = z.object({
  id: z.string(),
  /** Sent back with a write; a write with an old one is refused (409), so two tabs can't overwrite each other. */
  revision: z.number().int(),
  updatedAt: z.string(),
  project: projectSchema,
});
export const projectSummarySchema = storedProjectSchema.omit({ project: true }).extend({ name: z.string() });
export const projectWriteSchema = z.object({
  revision: z.number().int(),
  project: projectSchema,
});

export type StoredProject = z.infer<typeof storedProjectSchema>;
export type ProjectSummary = z.infer<typeof projectSummarySchema>;

/** RFC 9457 problem details. */
export const problemDetailsSchema = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  detail: z.string().optional(),
  /** Where in the body each fault lies, for 400: a path such as `project.pieces.3.outline` and a sentence. */
  faults: z.array(z.object({ path: z.string(), message: z.string() })).optional(),
});
export type ProblemDetails = z.infer<typeof problemDetailsSchema>;
