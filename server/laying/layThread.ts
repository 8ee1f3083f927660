import type { SearchResult, Solve } from '../../nesting/index.ts';
import type { LayRequest } from '../../pattern/exchange/lay.ts';
import { answerRequest } from '../../pattern/lay/answerRequest.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';
import { type ErrorWithFacts, serveErrands, type Talk } from '../threads/serveErrands.ts';
import type { LaySaid, LayTold } from './messages.ts';
import { newestOnly } from './newestOnly.ts';

/** Progress is told at most so often; nobody sees more, and each time it is copied whole. */
const LEAST_INTERVAL_MS = 100;

/** What a lay's thread runs: rules, poses and lengths are worked out here, searches are left to the pool. */
serveErrands(async (input, talk) => {
  const say = (said: LaySaid): void => talk.say(said);
  const report = newestOnly<LayProgress>(LEAST_INTERVAL_MS, (progress) =>
    say({ kind: 'progress', progress }),
  );
  try {
    const output = await answerRequest(
      input as LayRequest,
      solveElsewhere(talk, say),
      report.take,
      talk.signal,
    );
    return { output };
  } finally {
    report.stop();
  }
});

/** A `Solve` that asks for every search by message. */
function solveElsewhere({ onTold }: Talk, say: (said: LaySaid) => void): Solve {
  interface Asked {
    readonly onBetter: Parameters<Solve>[1]['onBetter'];
    readonly resolve: (result: SearchResult) => void;
    readonly reject: (error: Error) => void;
  }
  const asked = new Map<number, Asked>();
  let last = 0;
  onTold((message) => {
    const told = message as LayTold;
    const entry = asked.get(told.solve);
    if (entry === undefined) return;
    if (told.kind === 'better') {
      entry.onBetter?.(told.layout);
      return;
    }
    asked.delete(told.solve);
    if (told.kind === 'solved') entry.resolve(told.result);
    else entry.reject(carried(told));
  });
  return (problem, { signal, onBetter, ...options }) =>
    new Promise((resolve, reject) => {
      const solve = ++last;
      const end = (): void => say({ kind: 'endSolve', solve });
      const settled = (): void => signal?.removeEventListener('abort', end);
      asked.set(solve, {
        onBetter,
        resolve: (result) => {
          settled();
          resolve(result);
        },
        reject: (error) => {
          settled();
          reject(error);
        },
      });
      say({ kind: 'solve', solve, problem, options });
      if (signal?.aborted) end();
      else signal?.addEventListener('abort', end);
    });
}

function carried({ name, message, code }: Extract<LayTold, { kind: 'unsolved' }>): ErrorWithFacts {
  return Object.assign(new Error(message), { name, facts: { code } });
}
