import type { Layout, Problem, SearchMethod, SearchResult } from '../../nesting/index.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';

/** What a lay's thread says: how far it is, and which problems it wants searched by the pool that all lays share. */
export type LaySaid =
  | { readonly kind: 'progress'; readonly progress: LayProgress }
  | {
      readonly kind: 'solve';
      readonly solve: number;
      readonly problem: Problem;
      readonly options: {
        readonly seed: number;
        readonly maxMs: number;
        readonly maxSteps?: number;
        readonly method?: SearchMethod;
      };
    }
  | { readonly kind: 'endSolve'; readonly solve: number };

/** What it is told of its searches. */
export type LayTold =
  | { readonly kind: 'better'; readonly solve: number; readonly layout: Layout }
  | { readonly kind: 'solved'; readonly solve: number; readonly result: SearchResult }
  | {
      readonly kind: 'unsolved';
      readonly solve: number;
      readonly name: string;
      readonly message: string;
      /** The pool's own code for it, where it has one. */
      readonly code: string | undefined;
    };
