import type { z } from 'zod';
import type { Fault } from './problem.ts';

/** More than this many faults help nobody. */
const SHOWN = 50;

/** The faults of a failed check, with the path to each value written with dots. */
export function faultsOf(error: z.ZodError): Fault[] {
  return error.issues.slice(0, SHOWN).map((issue) => ({
    path: issue.path.map(String).join('.'),
    message: issue.message,
  }));
}
