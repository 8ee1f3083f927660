import type { Worker } from 'node:worker_threads';
import { newThread, type ThreadLimits } from '../../nesting/workers/newThread.ts';
import { nextInTurn } from '../turns.ts';
import { CrewError, ErrandError } from './crewError.ts';
import type { Order, Report } from './messages.ts';

/** A thread that has not answered so long after its errand was stopped is ended, ms. */
const STOP_GRACE_MS = 1_000;

export interface CrewParts extends ThreadLimits {
  /** What the threads run; it calls `serveErrands`. */
  readonly entry: URL;
  /** Errands at the same time, each in a thread of its own. */
  readonly threads: number;
  /** Errands waiting for a thread, of all clients and of one. */
  readonly waiting: number;
  readonly waitingOfClient: number;
}

export interface Errand {
  /** Plain data; it is copied. */
  readonly input: unknown;
  /** Who asked. */
  readonly client?: string;
  /** Longest time in a thread, ms; waiting does not count. */
  readonly maxMs: number;
  /** Told to end soon; what comes then is as good an answer as any. */
  readonly signal?: AbortSignal | undefined;
  /** What the thread says on the way; `tell` answers it. */
  readonly onSaid?: (message: unknown, tell: (message: unknown) => void) => void;
}

interface Job {
  readonly id: number;
  readonly client: string;
  readonly errand: Errand;
  readonly settle: (result: { readonly output: unknown } | { readonly error: Error }) => void;
  worker: Worker | null;
  timer: NodeJS.Timeout | undefined;
  /** A thread was lost over it, and it was begun again. */
  again: boolean;
}

/**
 * Threads that do errands for the main thread, which then has time to answer. Bounded in number, time and memory, and
 * clients take turns. An errand whose thread ends by itself is begun again once, unless memory was what it lacked;
 * whatever becomes of a thread, the crew goes on with a new one.
 */
export class Crew {
  readonly #parts: CrewParts;
  readonly #waiting: Job[] = [];
  readonly #running = new Map<Worker, Job>();
  readonly #idle: Worker[] = [];
  /** When each client's last errand was begun, counted in begins. */
  readonly #served = new Map<string, number>();
  #begins = 0;
  #lastId = 0;
  #isClosed = false;

  constructor(parts: CrewParts) {
    this.#parts = parts;
  }

  /** What the thread gives for the errand. Rejects with a `CrewError`, or an `ErrandError` where the thread threw. */
  run(errand: Errand): Promise<unknown> {
    const { client = '', signal } = errand;
    const refused = this.#whyNot(client, signal);
    if (refused !== null) return Promise.reject(refused);
    return new Promise((resolve, reject) => {
      const stop = (): void => this.#stop(job);
      const job: Job = {
        id: ++this.#lastId,
        client,
        errand,
        settle: (result) => {
          signal?.removeEventListener('abort', stop);
          clearTimeout(job.timer);
          if ('error' in result) reject(result.error);
          else resolve(result.output);
        },
        worker: null,
        timer: undefined,
        again: false,
      };
      signal?.addEventListener('abort', stop);
      this.#waiting.push(job);
      this.#beginWaiting();
    });
  }

  counts(): { running: number; waiting: number; threads: number } {
    const running = this.#running.size;
    return { running, waiting: this.#waiting.length, threads: running + this.#idle.length };
  }

  /** Takes no more, lets go of what waits and what runs (both reject as `closed`), and ends the threads. */
  async close(): Promise<void> {
    this.#isClosed = true;
    for (const job of this.#waiting.splice(0)) job.settle({ error: new CrewError('closed') });
    for (const job of this.#running.values()) job.settle({ error: new CrewError('closed') });
    const workers = [...this.#running.keys(), ...this.#idle.splice(0)];
    this.#running.clear();
    await Promise.all(workers.map((worker) => worker.terminate()));
  }

  #whyNot(client: string, signal: AbortSignal | undefined): CrewError | null {
    const { threads, waiting, waitingOfClient } = this.#parts;
    if (this.#isClosed) return new CrewError('closed');
    if (signal?.aborted) return new CrewError('stopped');
    if (this.#running.size < threads) return null;
    if (this.#waiting.length >= waiting) return new CrewError('full');
    const own = this.#waiting.filter((job) => job.client === client).length;
    return own >= waitingOfClient ? new CrewError('yoursFull') : null;
  }

  #beginWaiting(): void {
    while (!this.#isClosed && this.#running.size < this.#parts.threads) {
      const clients = [...this.#running.values()].map(({ client }) => client);
      const job = nextInTurn(this.#waiting, clients, this.#served);
      if (job === undefined) break;
      this.#waiting.splice(this.#waiting.indexOf(job), 1);
      this.#served.set(job.client, ++this.#begins);
      this.#begin(job);
    }
    if (this.#running.size === 0) this.#served.clear();
  }

  #begin(job: Job): void {
    const worker = this.#idle.pop() ?? this.#newWorker();
    worker.ref();
    job.worker = worker;
    this.#running.set(worker, job);
    job.timer = setTimeout(() => this.#giveUp(job, new CrewError('outOfTime')), job.errand.maxMs);
    try {
      this.#order(worker, { errand: job.id, kind: 'begin', input: job.errand.input });
    } catch (error) {
      // Something in it can't be copied: a fault of ours, and the thread has seen nothing of it.
      this.#release(worker);
      job.settle({ error: error as Error });
    }
  }

  #newWorker(): Worker {
    const worker = newThread(this.#parts.entry, this.#parts);
    worker.on('message', (report: Report) => this.#receive(worker, report));
    worker.on('error', (error: NodeJS.ErrnoException) =>
      this.#lost(worker, `${error}`, error.code === 'ERR_WORKER_OUT_OF_MEMORY'),
    );
    worker.on('exit', (code) => this.#lost(worker, `exit code ${code}`, false));
    return worker;
  }

  #order(worker: Worker, order: Order): void {
    worker.postMessage(order);
  }

  #receive(worker: Worker, report: Report): void {
    const job = this.#running.get(worker);
    if (job === undefined || job.id !== report.errand) return;
    if (report.kind === 'said') {
      const tell = (message: unknown): void => {
        if (job.worker === worker) this.#order(worker, { errand: job.id, kind: 'told', message });
      };
      job.errand.onSaid?.(report.message, tell);
      return;
    }
    this.#release(worker);
    if (report.kind === 'done') job.settle({ output: report.output });
    else {
      const { name, message, stack, facts } = report;
      job.settle({ error: new ErrandError(name, message, stack, facts) });
    }
    this.#beginWaiting();
  }

  /** The thread is free for the next errand. */
  #release(worker: Worker): void {
    const job = this.#running.get(worker);
    if (job !== undefined) {
      job.worker = null;
      clearTimeout(job.timer);
    }
    this.#running.delete(worker);
    worker.unref();
    this.#idle.push(worker);
  }

  #lost(worker: Worker, why: string, forWantOfMemory: boolean): void {
    const place = this.#idle.indexOf(worker);
    if (place >= 0) this.#idle.splice(place, 1);
    const job = this.#running.get(worker);
    if (job === undefined) return;
    this.#running.delete(worker);
    job.worker = null;
    clearTimeout(job.timer);
    if (forWantOfMemory) job.settle({ error: new CrewError('outOfMemory') });
    else if (job.errand.signal?.aborted) job.settle({ error: new CrewError('stopped') });
    else if (job.again) job.settle({ error: new CrewError('died', why) });
    else {
      job.again = true;
      this.#waiting.unshift(job);
    }
    this.#beginWaiting();
  }

  #stop(job: Job): void {
    const place = this.#waiting.indexOf(job);
    if (place >= 0) {
      this.#waiting.splice(place, 1);
      job.settle({ error: new CrewError('stopped') });
      return;
    }
    if (job.worker === null) return;
    this.#order(job.worker, { errand: job.id, kind: 'stop' });
    clearTimeout(job.timer);
    job.timer = setTimeout(() => this.#giveUp(job, new CrewError('stopped')), STOP_GRACE_MS);
  }

  /** Ends the thread of an errand that does not end by itself. */
  #giveUp(job: Job, error: CrewError): void {
    const { worker } = job;
    if (worker === null) return;
    job.worker = null;
    this.#running.delete(worker);
    worker.terminate().catch(() => {}); // it is gone either way
    job.settle({ error });
    this.#beginWaiting();
  }
}
