import { search } from '../../nesting/index.ts';
import { solveInThisThread } from '../../nesting/solveInThisThread.ts';
import type { PackOrder, PackReport } from './pack.ts';

/**
 * Packs one stretch of cloth away from the page, with the engine that the server uses: so a lay arranged by hand can be
 * packed on without the server. It blocks its thread; to stop it, the page ends the thread.
 */
self.addEventListener('message', (event: MessageEvent<PackOrder>) => {
  const { problem, maxMs, maxSteps, seed } = event.data;
  const post = (report: PackReport): void => self.postMessage(report);
  const solve = solveInThisThread(search, () => performance.now());
  const options = { seed, maxMs, ...(maxSteps === undefined ? {} : { maxSteps }) };
  solve(problem, { ...options, onBetter: (layout) => post({ kind: 'better', layout }) }).then(
    (result) => post({ kind: 'done', result }),
    (error: unknown) =>
      post({ kind: 'failed', reason: error instanceof Error ? error.message : String(error) }),
  );
});
