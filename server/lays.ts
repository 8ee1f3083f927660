import { randomUUID } from 'node:crypto';
import { performance } from 'node:perf_hooks';
import type { LayRequest, LayState, Notice } from '../pattern/exchange/lay.ts';
import type { Project } from '../pattern/exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../pattern/language.ts';
import type { LayProgress } from '../pattern/lay/runLay.ts';
import { layWords } from '../pattern/lay/words/index.ts';
import { EndedLays, type EndedLimits } from './laying/endedLays.ts';
import type { Places } from './laying/places.ts';
import { wasStopped, whyFailed } from './laying/whyFailed.ts';
import { nextInTurn } from './turns.ts';

/**
 * Works a lay out, here or elsewhere; reports each better state, and resolves with the last one. When `signal` aborts it
 * ends soon, with what it has.
 */
export type RunLay = (
  request: LayRequest,
  report: (progress: LayProgress) => void,
  signal: AbortSignal,
) => Promise<LayProgress>;

/** What keeps the server's memory and time bounded, whatever is asked of it. */
export interface LayLimits extends EndedLimits {
  /** Lays worked on at once; they share the worker threads. */
  readonly running: number;
  /** Of these, so many of one client, so that whoever comes next finds a place. */
  readonly runningOfClient: number;
  /** Lays waiting for their turn, and the bytes of their requests together. */
  readonly waiting: number;
  /** Of these, so many of one client. */
  readonly waitingOfClient: number;
  readonly waitingBytes: number;
  /** Longest time for one lay; it then ends with the best it has. */
  readonly runMs: number;
}

export const LAY_LIMITS: LayLimits = {
  running: 8,
  runningOfClient: 4,
  waiting: 40,
  waitingOfClient: 10,
  waitingBytes: 64 * 1024 * 1024,
  runMs: 30 * 60_000,
  keptMs: 60 * 60_000,
  kept: 200,
  keptBytes: 128 * 1024 * 1024,
};

export interface LaysParts {
  readonly runLay: RunLay;
  readonly limits?: Partial<LayLimits>;
  /** Where lays are worked out elsewhere: they say how many are under way at once, instead of the limits. */
  readonly places?: Places;
  /** Milliseconds, monotonic. */
  readonly clock?: () => number;
  /** Told of a lay that failed by a fault of ours. */
  readonly onFault?: (error: unknown) => void;
}

/** A lay and all that is known of it. `project` is the one it was asked for with. */
export interface LayView {
  readonly state: LayState;
  readonly project: Project;
}

export type AddResult =
  | { readonly kind: 'accepted'; readonly id: string }
  | { readonly kind: 'full' }
  /** This client has as many waiting as it may. */
  | { readonly kind: 'yoursFull' }
  /** The way to those who work on lays is closed. */
  | { readonly kind: 'unreachable' }
  | { readonly kind: 'closed' };

interface Job {
  readonly id: string;
  readonly request: LayRequest;
  /** Who asked. */
  readonly client: string;
  readonly bytes: number;
  readonly abort: AbortController;
  readonly listeners: Set<() => void>;
  phase: LayState['state'];
  revision: number;
  startedAt: number | undefined;
  results: LayState['results'];
  notices: LayState['notices'];
  answers: Pick<LayProgress, 'answer' | 'buy'>;
  error: string | undefined;
}

function outOfTime(language: Language = USUAL_LANGUAGE): Notice {
  return { level: 'warning', code: 'outOfTime', text: layWords(language).outOfTime };
}

const NO_WORKER: Notice = {
  level: 'warning',
  code: 'noWorker',
  text: 'No machine is there to work on lays. This one begins as soon as there is: "clothlay worker" starts one.',
};

const UNREACHABLE: Notice = {
  level: 'warning',
  code: 'queueUnreachable',
  text: 'The queue that hands lays to other machines (Redis) can’t be reached. This lay goes on when it is back.',
};

/** To whatever was asked, as far as it is known. */
function answersOf({ answer, buy }: LayProgress): Job['answers'] {
  return { ...(answer ? { answer } : {}), ...(buy ? { buy } : {}) };
}

/** Whether a lay in this state changes no more. */
export function isEnded(state: LayState['state']): boolean {
  return state === 'done' || state === 'cancelled' || state === 'failed';
}

/** The lays asked for: a bounded queue in front of the engine, and the ended ones for a while. */
export class Lays {
  readonly #runLay: RunLay;
  readonly #limits: LayLimits;
  readonly #places: Places | undefined;
  readonly #clock: () => number;
  readonly #onFault: (error: unknown) => void;
  /** Waiting and under way, in the order in which they were asked for. */
  readonly #jobs = new Map<string, Job>();
  readonly #ended: EndedLays;
  /** Ends of runs under way, also of cancelled ones: they hold their place until the engine lets go. */
  readonly #runs = new Map<Promise<void>, string>();
  /** When each client's last lay was started, counted in starts. */
  readonly #served = new Map<string, number>();
  #starts = 0;
  #isClosed = false;

  constructor(parts: LaysParts) {
    this.#runLay = parts.runLay;
    this.#limits = { ...LAY_LIMITS, ...parts.limits };
    this.#places = parts.places;
    this.#clock = parts.clock ?? (() => performance.now());
    this.#onFault = parts.onFault ?? (() => {});
    this.#ended = new EndedLays(this.#limits, this.#clock);
  }

  get limits(): LayLimits {
    return this.#limits;
  }

  /** Puts a lay of `client` into the queue and starts it if there is room. */
  add(request: LayRequest, client = ''): AddResult {
    if (this.#isClosed) return { kind: 'closed' };
    if (this.#places?.isReachable() === false) return { kind: 'unreachable' };
    this.#ended.forget();
    const bytes = JSON.stringify(request).length;
    const waiting = this.#inPhase('queued');
    const mustWait = this.#runs.size >= this.#running() || !this.#mayRun(client);
    const waitingBytes = waiting.reduce((sum, job) => sum + job.bytes, bytes);
    if (mustWait && (waiting.length >= this.#limits.waiting || waitingBytes > this.#limits.waitingBytes)) {
      return { kind: 'full' };
    }
    if (mustWait && waiting.filter((job) => job.client === client).length >= this.#limits.waitingOfClient) {
      return { kind: 'yoursFull' };
    }
    const job: Job = {
      id: randomUUID(),
      request,
      client,
      bytes,
      abort: new AbortController(),
      listeners: new Set(),
      phase: 'queued',
      revision: 0,
      startedAt: undefined,
      results: [],
      notices: [],
      answers: {},
      error: undefined,
    };
    this.#jobs.set(job.id, job);
    this.#startWaiting();
    return { kind: 'accepted', id: job.id };
  }

  get(id: string): LayView | undefined {
    const job = this.#jobs.get(id);
    return job === undefined ? this.#ended.get(id) : this.#viewOf(job);
  }

  /** Calls `listener` after each change of the lay until the function returned is called. */
  listen(id: string, listener: () => void): () => void {
    const job = this.#jobs.get(id);
    job?.listeners.add(listener);
    return () => job?.listeners.delete(listener);
  }

  listenerCount(id: string): number {
    return this.#jobs.get(id)?.listeners.size ?? 0;
  }

  /** Ends a lay with what it has; nothing happens to one that has ended. Undefined if there is none. */
  cancel(id: string): LayView | undefined {
    const job = this.#jobs.get(id);
    if (job !== undefined) {
      this.#end(job, 'cancelled');
      job.abort.abort();
    }
    return this.get(id);
  }

  counts(): { running: number; waiting: number; kept: number } {
    const waiting = this.#inPhase('queued').length;
    const running = this.#inPhase('running').length;
    return { running, waiting, kept: this.#ended.size };
  }

  /** The places elsewhere have changed: whoever waits may begin, and everyone is told. */
  placesChanged(): void {
    for (const job of this.#jobs.values()) this.#changed(job);
    this.#startWaiting();
  }

  /** Whether lays can be worked out, or why not in words. */
  condition(): string {
    if (this.#places?.isReachable() === false) return UNREACHABLE.text;
    return this.#places?.count() === 0 ? NO_WORKER.text : 'ok';
  }

  /** Takes no more work, cancels what there is and resolves when the engine has let go of all of it. */
  async close(): Promise<void> {
    this.#isClosed = true;
    for (const id of [...this.#jobs.keys()]) this.cancel(id);
    await Promise.all(this.#runs.keys());
  }

  #startWaiting(): void {
    while (this.#runs.size < this.#running()) {
      const waiting = this.#inPhase('queued').filter(({ client }) => this.#mayRun(client));
      const job = nextInTurn(waiting, [...this.#runs.values()], this.#served);
      if (job === undefined) break;
      this.#starts += 1;
      this.#served.set(job.client, this.#starts);
      const run = this.#run(job).finally(() => {
        this.#runs.delete(run);
        this.#startWaiting();
      });
      this.#runs.set(run, job.client);
    }
    if (this.#jobs.size === 0) this.#served.clear();
  }

  /** How many lays may be under way at once. */
  #running(): number {
    return this.#places?.count() ?? this.#limits.running;
  }

  #mayRun(client: string): boolean {
    const running = [...this.#runs.values()].filter((other) => other === client).length;
    // Of places elsewhere one client gets at most half.
    const most =
      this.#places === undefined ? this.#limits.runningOfClient : Math.max(1, Math.ceil(this.#running() / 2));
    return running < most;
  }

  /** What stands in the way of a lay that has not ended. */
  #obstacles({ phase }: Job): Notice[] {
    if (this.#places === undefined || isEnded(phase)) return [];
    if (!this.#places.isReachable()) return [UNREACHABLE];
    return this.#places.count() === 0 ? [NO_WORKER] : [];
  }

  async #run(job: Job): Promise<void> {
    job.startedAt = this.#clock();
    job.phase = 'running';
    this.#changed(job);
    // Working out the rules may take a moment; the answer to the request goes out first.
    await new Promise((resolve) => setImmediate(resolve));
    if (isEnded(job.phase)) return;
    let isOutOfTime = false;
    const timer = setTimeout(() => {
      isOutOfTime = true;
      job.abort.abort();
    }, this.#limits.runMs);
    // An engine that reports after it was told to stop must not change a lay that has ended.
    const take = (progress: LayProgress): void => {
      if (isEnded(job.phase)) return;
      job.results = progress.results;
      job.answers = answersOf(progress);
      job.notices = isOutOfTime ? [...progress.notices, outOfTime(job.request.language)] : progress.notices;
      this.#changed(job);
    };
    try {
      const last = await this.#runLay(job.request, take, job.abort.signal);
      if (isEnded(job.phase)) return;
      take(last);
      this.#end(job, 'done');
    } catch (error) {
      if (isEnded(job.phase)) return;
      if (isOutOfTime && wasStopped(error)) {
        take({ results: job.results, notices: job.notices, ...job.answers });
        this.#end(job, 'done');
        return;
      }
      job.error = whyFailed(error, job.request.language);
      this.#end(job, 'failed');
      this.#onFault(error);
    } finally {
      clearTimeout(timer);
    }
  }

  /** From here on it is kept as a text alone; whoever follows it hears of it once more. */
  #end(job: Job, phase: 'done' | 'cancelled' | 'failed'): void {
    job.phase = phase;
    job.revision += 1;
    this.#jobs.delete(job.id);
    this.#ended.put(job.id, this.#viewOf(job));
    tellOf(job);
  }

  #changed(job: Job): void {
    job.revision += 1;
    tellOf(job);
  }

  #viewOf(job: Job): LayView {
    return { state: this.#stateOf(job), project: job.request.project };
  }

  #stateOf(job: Job): LayState {
    return {
      id: job.id,
      state: job.phase,
      revision: job.revision,
      elapsedMs: job.startedAt === undefined ? 0 : Math.round(this.#clock() - job.startedAt),
      notices: [...job.notices, ...this.#obstacles(job)],
      results: job.results,
      ...job.answers,
      ...(job.error === undefined ? {} : { error: job.error }),
    };
  }

  #inPhase(phase: LayState['state']): Job[] {
    return [...this.#jobs.values()].filter((job) => job.phase === phase);
  }
}

function tellOf({ listeners }: Job): void {
  for (const listener of [...listeners]) listener();
}
