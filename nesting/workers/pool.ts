import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import type { Layout, Problem, SearchResult, Solve, StopSignal } from '../packing/types.ts';
import { nothingFound } from '../solveInThisThread.ts';
import { newBoard } from './board.ts';
import { compareLayouts } from './compareLayouts.ts';
import { PoolError } from './errors.ts';
import { mergeResults } from './mergeResults.ts';
import { CONTROL, type Control, type Reply, type SearchTask } from './messages.ts';
import { newThread, type ThreadLimits, threadEntry } from './newThread.ts';
import { seedOfThread } from './seeds.ts';
import { nextTurns } from './turns.ts';

/** How long a solve keeps its turn while others wait, in ms: short enough to look alive, long against a switch. */
const TURN_MS = 100;
/** Begun and unfinished tasks, running or paused. Each holds a thread and its tables: tens of megabytes. */
const MAX_OPEN_TASKS = 16;
/** Threads that are kept for later work, for each one that may run. */
const IDLE_PER_THREAD = 4;
/** A thread that has not answered so long after it was told to stop is ended, in ms. */
const STOP_GRACE_MS = 1_000;

export interface PoolOptions extends ThreadLimits {
  /** How many threads search at the same time; as many as the machine has processors unless said otherwise. */
  readonly threads?: number;
  /** What the threads run; tests hand in their own. */
  readonly entry?: URL;
}

/** One thread's share of a solve. */
interface Task {
  readonly id: number;
  readonly solve: ActiveSolve;
  readonly thread: number;
  readonly control: Int32Array<SharedArrayBuffer>;
  state: 'waiting' | 'paused' | 'running' | 'ended';
  worker: Worker | null;
  /** Since when it has been running, unless it is paused. */
  since: number;
  result: SearchResult | null;
  reported: Layout | null;
  /** A thread was lost over it, and it was begun again. */
  again: boolean;
}

interface ActiveSolve {
  readonly id: number;
  readonly problem: Problem;
  readonly options: Parameters<Solve>[1];
  readonly tasks: Task[];
  /** Where its threads leave layouts for each other; none where steps are counted, so that each goes its own way. */
  readonly board: SharedArrayBuffer | null;
  /** Running time of all its tasks; a newcomer starts level with whoever has used least. */
  usedMs: number;
  best: Layout | null;
  stopping: boolean;
  settle(result: SearchResult | PoolError): void;
}

/**
 * Searches in worker threads. A solve that has the pool to itself uses all threads, with unrelated seeds, and gives
 * the best of their layouts (ties go to the lower thread number). When more solves than threads are under way they
 * take turns, one thread each: the ones without a turn are paused and their time doesn't count. A solve lasts as long
 * as its first thread, except when steps are counted: then every thread goes to its own end, so that the result
 * is the same each time. Every layout has passed `verify` in its thread before it is handed out.
 *
 * A solve whose signal aborts resolves soon with the best so far (all copies unplaced if there was none yet). A search
 * whose thread ends by itself, by a crash or for want of memory, is begun again in a new one; the solve rejects with a
 * `PoolError` if that is lost too, or if the engine fails.
 */
export class Pool {
  readonly #threads: number;
  readonly #entry: URL;
  readonly #limits: ThreadLimits;
  readonly #solves = new Set<ActiveSolve>();
  readonly #idle: Worker[] = [];
  readonly #taskOf = new Map<Worker, Task>();
  #lastId = 0;
  #timer: NodeJS.Timeout | null = null;
  #scheduled = false;
  #closing: Promise<void> | null = null;

  constructor({
    threads = availableParallelism(),
    entry = threadEntry(import.meta.url, 'thread'),
    ...limits
  }: PoolOptions = {}) {
    if (!Number.isInteger(threads) || threads < 1)
      throw new RangeError(`threads must be a whole number of at least 1, not ${threads}`);
    this.#threads = threads;
    this.#entry = entry;
    this.#limits = limits;
  }

  readonly solve: Solve = (problem, options) =>
    new Promise((resolve, reject) => {
      if (this.#closing) throw new PoolError('closed');
      if (options.signal?.aborted) {
        resolve(nothingFound(problem));
        return;
      }
      const stopListening = onAbort(options.signal, () => this.#stop(solve));
      const solve: ActiveSolve = {
        id: ++this.#lastId,
        problem,
        options,
        tasks: [],
        board: this.#threads > 1 && options.maxSteps === undefined ? newBoard(problem) : null,
        usedMs: this.#leastUsed(),
        best: null,
        stopping: false,
        settle: (result) => {
          if (!this.#solves.delete(solve)) return;
          stopListening();
          if (result instanceof Error) reject(result);
          else resolve(result);
          this.#reschedule();
        },
      };
      for (let thread = 0; thread < this.#threads; thread++) solve.tasks.push(this.#newTask(solve, thread));
      this.#solves.add(solve);
      this.#reschedule();
    });

  /** Stops all solves (they resolve with what they have), takes no more, and ends the threads. */
  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async #close() {
    const ended = [...this.#solves].map(
      (solve) =>
        new Promise<void>((resolve) => {
          const { settle } = solve;
          solve.settle = (result) => {
            settle(result);
            resolve();
          };
          this.#stop(solve);
        }),
    );
    await Promise.all(ended);
    const workers = [...this.#idle.splice(0), ...this.#taskOf.keys()];
    this.#taskOf.clear();
    await Promise.all(workers.map((worker) => worker.terminate()));
  }

  #newTask(solve: ActiveSolve, thread: number): Task {
    return {
      id: ++this.#lastId,
      solve,
      thread,
      control: new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT)),
      state: 'waiting',
      worker: null,
      since: 0,
      result: null,
      reported: null,
      again: false,
    };
  }

  // Turns -------------------------------------------------------------------------------------------------------

  /** Once for all that changed in this turn of the event loop, so that solves asked for together start level. */
  #reschedule() {
    if (this.#scheduled) return;
    this.#scheduled = true;
    queueMicrotask(() => {
      this.#scheduled = false;
      this.#giveTurns();
    });
  }

  #giveTurns() {
    const now = performance.now();
    const live: (Task & { state: 'waiting' | 'paused' | 'running' })[] = [];
    for (const { tasks } of this.#solves) {
      for (const task of tasks) {
        if (task.state === 'running') this.#account(task, now);
        if (isLive(task)) live.push(task);
      }
    }
    const chosen = new Set<Task>(nextTurns(live, this.#threads, MAX_OPEN_TASKS));
    for (const task of live) {
      if (!chosen.has(task) && task.state === 'running') {
        task.state = 'paused';
        setControl(task, CONTROL.paused);
      }
    }
    for (const task of chosen) {
      if (task.state === 'running') continue;
      const begun = task.state === 'paused';
      task.state = 'running';
      task.since = now;
      setControl(task, CONTROL.running);
      if (!begun) this.#begin(task);
    }
    const crowded = live.length > this.#threads;
    if (crowded && !this.#timer) this.#timer = setInterval(() => this.#giveTurns(), TURN_MS);
    if (!crowded && this.#timer) {
      clearInterval(this.#timer);
      this.#timer = null;
    }
  }

  #leastUsed(): number {
    return this.#solves.size === 0 ? 0 : Math.min(...[...this.#solves].map(({ usedMs }) => usedMs));
  }

  #account(task: Task, now: number) {
    task.solve.usedMs += now - task.since;
    task.since = now;
  }

  // Tasks -------------------------------------------------------------------------------------------------------

  #begin(task: Task) {
    const { problem, options, board } = task.solve;
    const message: SearchTask = {
      task: task.id,
      problem,
      seed: seedOfThread(options.seed, task.thread),
      maxMs: options.maxMs,
      ...(options.maxSteps === undefined ? {} : { maxSteps: options.maxSteps }),
      ...(options.method === undefined ? {} : { method: options.method }),
      control: task.control.buffer,
      ...(board ? { board } : {}),
      thread: task.thread,
    };
    const worker = this.#idle.pop() ?? this.#newWorker();
    worker.ref();
    task.worker = worker;
    this.#taskOf.set(worker, task);
    try {
      worker.postMessage(message);
    } catch (error) {
      this.#release(task);
      this.#fail(task, new PoolError('failed', `the problem can't be sent to a thread (${error})`));
    }
  }

  #newWorker(): Worker {
    const worker = newThread(this.#entry, this.#limits);
    worker.on('message', (reply: Reply) => this.#receive(worker, reply));
    worker.on('error', (error) => this.#lost(worker, `${error}`));
    worker.on('exit', (code) => this.#lost(worker, `exit code ${code}`));
    return worker;
  }

  #receive(worker: Worker, reply: Reply) {
    const task = this.#taskOf.get(worker);
    if (!task || task.id !== reply.task) return; // a late reply of a task that was given up
    if (reply.status === 'better') this.#report(task, reply.layout);
    else {
      this.#release(task);
      if (reply.status === 'done') this.#finish(task, reply.result, reply.early);
      else {
        const code = reply.name === 'EngineFaultError' ? 'engine-fault' : 'failed';
        this.#fail(task, new PoolError(code, reply.message));
      }
    }
  }

  #report(task: Task, layout: Layout) {
    const { solve } = task;
    task.reported = layout;
    if (solve.best && compareLayouts(solve.problem, layout, solve.best) >= 0) return;
    solve.best = layout;
    if (solve.stopping) return;
    try {
      solve.options.onBetter?.(layout);
    } catch (error) {
      this.#fail(task, new PoolError('failed', `the listener for better layouts threw (${error})`));
    }
  }

  #finish(task: Task, result: SearchResult | null, early: boolean) {
    const { solve } = task;
    task.result = result;
    if (solve.tasks.every(({ state }) => state === 'ended'))
      solve.settle(mergeResults(solve.problem, solve.tasks));
    // A search that ends before its time has nothing left to look for.
    else if ((early || task.thread === 0) && solve.options.maxSteps === undefined) this.#stop(solve);
    this.#reschedule();
  }

  /** One thread failed: the solve is given up, its other threads are told to stop. */
  #fail(task: Task, error: PoolError) {
    task.solve.settle(error);
    this.#stop(task.solve);
  }

  #stop(solve: ActiveSolve) {
    solve.stopping = true;
    for (const task of solve.tasks) {
      if (task.state === 'waiting') {
        task.state = 'ended';
      } else if (task.state !== 'ended') {
        setControl(task, CONTROL.stopped);
        setTimeout(() => this.#abandon(task), STOP_GRACE_MS).unref();
      }
    }
    if (solve.tasks.every(({ state }) => state === 'ended'))
      solve.settle(mergeResults(solve.problem, solve.tasks));
  }

  /** The thread of a task that does not answer is ended; what it reported still counts. */
  #abandon(task: Task) {
    const { worker } = task;
    if (task.state === 'ended' || !worker) return;
    this.#taskOf.delete(worker);
    worker.terminate().catch(() => {}); // it is gone either way
    this.#end(task);
    this.#finish(task, null, false);
  }

  /** A thread ended by itself, by a crash or for want of memory. */
  #lost(worker: Worker, why: string) {
    const place = this.#idle.indexOf(worker);
    if (place >= 0) this.#idle.splice(place, 1);
    const task = this.#taskOf.get(worker);
    if (!task) return;
    this.#taskOf.delete(worker);
    this.#end(task);
    if (task.solve.stopping) this.#finish(task, null, false);
    else if (task.again) this.#fail(task, new PoolError('crashed', why));
    else {
      task.again = true;
      task.state = 'waiting';
      this.#reschedule();
    }
  }

  #end(task: Task) {
    if (task.state === 'running') this.#account(task, performance.now());
    task.state = 'ended';
    task.worker = null;
  }

  /** A thread that answered is free for the next task, unless there are enough. */
  #release(task: Task) {
    const { worker } = task;
    this.#end(task);
    if (!worker) return;
    this.#taskOf.delete(worker);
    worker.unref();
    if (this.#idle.length < IDLE_PER_THREAD * this.#threads || this.#closing) this.#idle.push(worker);
    else worker.terminate().catch(() => {});
  }
}

function isLive(task: Task): task is Task & { state: 'waiting' | 'paused' | 'running' } {
  return task.state !== 'ended' && !task.solve.stopping;
}

function setControl({ control }: Task, value: Control) {
  Atomics.store(control, 0, value);
  Atomics.notify(control, 0);
}

function onAbort(signal: StopSignal | undefined, listener: () => void): () => void {
  signal?.addEventListener('abort', listener);
  return () => signal?.removeEventListener('abort', listener);
}
