import type { Layout, Problem, SearchMethod, SearchResult } from '../packing/types.ts';

/** What travels between the pool and its threads. Every message carries the number of the task it belongs to. */

/** Pool → thread: search until the budget is used up or `control` says stop. */
export interface SearchTask {
  readonly task: number;
  readonly problem: Problem;
  readonly seed: number;
  /** Budget in milliseconds of running time: time spent paused doesn't count. */
  readonly maxMs: number;
  readonly maxSteps?: number;
  readonly method?: SearchMethod;
  /** One Int32, a `Control`: the only thing a busy thread can be told, because a search never yields. */
  readonly control: SharedArrayBuffer;
  /** Where the threads of one solve leave their best layouts for each other, and this thread's number; see `Board`. */
  readonly board?: SharedArrayBuffer;
  readonly thread: number;
}

/** Thread → pool. `better` any number of times, then exactly one of the others. */
export type Reply =
  | { readonly status: 'better'; readonly task: number; readonly layout: Layout }
  | {
      readonly status: 'done';
      readonly task: number;
      readonly result: SearchResult;
      /** It ended by itself with time left: there is nothing more to find. */
      readonly early: boolean;
    }
  | { readonly status: 'failed'; readonly task: number; readonly name: string; readonly message: string };

/** Values of the control word. A thread waits while it is `paused`, and ends its search when it is `stopped`. */
export const CONTROL = { paused: 0, running: 1, stopped: 2 } as const;
export type Control = (typeof CONTROL)[keyof typeof CONTROL];
