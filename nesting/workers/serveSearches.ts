import type { MessagePort } from 'node:worker_threads';
import { guardedSearch, type Search } from '../guardedSearch.ts';
import { nothingFound } from '../solveInThisThread.ts';
import { Board } from './board.ts';
import { CONTROL, type Reply, type SearchTask } from './messages.ts';

/** Answers the pool's tasks on `port` with `search`, one after the other, for as long as the thread lives. */
export function serveSearches(port: MessagePort, search: Search): void {
  port.on('message', (task: SearchTask) => {
    port.postMessage(run(task, search, (reply) => port.postMessage(reply)));
  });
}

function run(message: SearchTask, search: Search, send: (reply: Reply) => void): Reply {
  const { task, problem, seed, maxMs, maxSteps, method, board, thread } = message;
  const control = new Int32Array(message.control);
  let pausedMs = 0;
  const clock = () => performance.now() - pausedMs;
  const waitWhilePaused = () => {
    const start = performance.now();
    while (Atomics.load(control, 0) === CONTROL.paused) Atomics.wait(control, 0, CONTROL.paused);
    pausedMs += performance.now() - start;
  };
  const shouldStop = () => {
    if (Atomics.load(control, 0) === CONTROL.paused) waitWhilePaused();
    return Atomics.load(control, 0) === CONTROL.stopped;
  };
  try {
    if (shouldStop()) return { status: 'done', task, result: nothingFound(problem), early: false };
    const start = clock();
    const result = guardedSearch(search, problem, {
      seed,
      maxMs,
      ...(maxSteps === undefined ? {} : { maxSteps }),
      ...(method === undefined ? {} : { method }),
      ...(board === undefined ? {} : { exchange: new Board(problem, board, thread) }),
      clock,
      shouldStop,
      onBetter: (layout) => send({ status: 'better', task, layout }),
    });
    const early = !shouldStop() && clock() - start < maxMs;
    return { status: 'done', task, result, early };
  } catch (error) {
    const { name, message } = error instanceof Error ? error : { name: 'Error', message: String(error) };
    return { status: 'failed', task, name, message };
  }
}
