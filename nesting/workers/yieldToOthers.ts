import { getPriority, setPriority } from 'node:os';
import { workerData } from 'node:worker_threads';
import type { ThreadData } from './newThread.ts';

/**
 * Makes the calling thread as much less urgent as whoever started it asked for, so that answers to people come before
 * searches on a busy machine. Linux alone keeps a niceness for each thread (setpriority(2), "C library/kernel
 * differences"); elsewhere it would slow the whole process down, so there it is left.
 */
export function yieldToOthers(): void {
  const { niceness = 0 } = (workerData ?? {}) as Partial<ThreadData>;
  if (niceness <= 0 || process.platform !== 'linux') return;
  try {
    setPriority(Math.min(19, getPriority() + niceness));
  } catch {
    // A system that forbids it runs as well without, only less smoothly.
  }
}
