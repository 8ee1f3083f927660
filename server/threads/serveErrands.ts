import { setMaxListeners } from 'node:events';
import { parentPort, type Transferable } from 'node:worker_threads';
import { yieldToOthers } from '../../nesting/workers/yieldToOthers.ts';
import type { Order, Report } from './messages.ts';

/** How an errand under way talks with whoever asked for it. */
export interface Talk {
  readonly say: (message: unknown) => void;
  readonly onTold: (listener: (message: unknown) => void) => void;
  /** Aborts when the errand is to end soon with what it has. */
  readonly signal: AbortSignal;
}

export interface Outcome {
  readonly output: unknown;
  /** Parts of the output that are handed over instead of copied. */
  readonly transfer?: readonly Transferable[];
}

/** An error that carries more than its words to the crew's side. */
export interface ErrorWithFacts extends Error {
  readonly facts?: unknown;
}

interface Current {
  readonly abort: AbortController;
  listener: (message: unknown) => void;
}

/** Does the errands a crew sends to this thread, for as long as the thread lives. */
export function serveErrands(run: (input: unknown, talk: Talk) => Promise<Outcome>): void {
  const port = parentPort;
  if (port === null) throw new Error('errands are served in a worker thread only');
  yieldToOthers();
  const current = new Map<number, Current>();
  const send = (report: Report, transfer?: readonly Transferable[]): void =>
    port.postMessage(report, transfer);

  const begin = async (errand: number, input: unknown): Promise<void> => {
    const state: Current = { abort: new AbortController(), listener: () => {} };
    // An errand may wait for many things at once, each of which is told when it is to end.
    setMaxListeners(0, state.abort.signal);
    current.set(errand, state);
    try {
      const { output, transfer } = await run(input, {
        say: (message) => send({ errand, kind: 'said', message }),
        onTold: (listener) => {
          state.listener = listener;
        },
        signal: state.abort.signal,
      });
      send({ errand, kind: 'done', output }, transfer);
    } catch (error) {
      const {
        name,
        message,
        stack = '',
        facts,
      } = error instanceof Error ? (error as ErrorWithFacts) : strange(error);
      send({ errand, kind: 'failed', name, message, stack, facts });
    } finally {
      current.delete(errand);
    }
  };

  port.on('message', (order: Order) => {
    if (order.kind === 'begin') void begin(order.errand, order.input);
    else if (order.kind === 'told') current.get(order.errand)?.listener(order.message);
    else current.get(order.errand)?.abort.abort();
  });
}

function strange(thrown: unknown): ErrorWithFacts {
  return new Error(`something that is no error was thrown: ${typeof thrown}`);
}
