import { randomUUID } from 'node:crypto';
import { type Job, Queue, QueueEvents } from 'bullmq';
import type { Redis } from 'ioredis';
import type { LayRequest, Notice } from '../../../pattern/exchange/lay.ts';
import type { LayProgress } from '../../../pattern/lay/runLay.ts';
import type { RunLay } from '../../lays.ts';
import { CrewError } from '../../threads/crewError.ts';
import type { Places } from '../places.ts';
import { connect, within } from './connection.ts';
import { KEPT_SECONDS, type SharedJob, type SharedNames, type SharedResult, sharedNames } from './names.ts';

/** How often Redis is looked after: whether it is there, which machines work, what became of the lays, ms. */
const LOOK_MS = 1_000;
/** An answer that takes longer counts as none, ms. */
const PATIENCE_MS = 2_000;
/** A machine that was told to end a lay has so long to send its last state, ms. */
const STOP_GRACE_MS = 5_000;
/** Events kept by Redis for those who read late; each is a few bytes. */
const MOST_EVENTS = 1_000;

export interface SharedLaysParts {
  readonly url: string;
  /** Of this program; only machines with the same one work for it. */
  readonly version: string;
  /** Told when the number of places, or whether Redis is there, has changed. */
  readonly onChange: () => void;
  readonly onFault: (error: Error) => void;
}

interface Lay {
  readonly request: LayRequest;
  readonly report: (progress: LayProgress) => void;
  readonly settle: (result: LayProgress | Error) => void;
  /** Job in the queue; another one after Redis lost it. */
  job: string;
  isAdded: boolean;
  /** A machine has begun it. */
  isBegun: boolean;
  isBegunAgain: boolean;
  isAsked: boolean;
}

const BEGUN_AGAIN: Notice = {
  level: 'info',
  code: 'begunAgain',
  text: 'The machine that worked on this lay has gone; another one has begun it again.',
};

/**
 * Lays worked out by other machines (`LayWorker`), which take them from a queue in Redis. The request stays here too, so
 * that a lay that Redis lost is handed in again; which lay comes next is decided by `Lays`, as without Redis.
 */
export class SharedLays implements Places {
  readonly #parts: SharedLaysParts;
  readonly #names: SharedNames;
  readonly #redis: Redis;
  readonly #queue: Queue<SharedJob>;
  readonly #events: QueueEvents;
  /** By job. */
  readonly #lays = new Map<string, Lay>();
  readonly #timer: NodeJS.Timeout;
  #count = 0;
  #isReachable = false;
  #isLooking = false;
  #isClosed = false;

  constructor(parts: SharedLaysParts) {
    this.#parts = parts;
    this.#names = sharedNames(parts.version);
    const { prefix, queue } = this.#names;
    // One word for each try would fill the log: `isReachable` changes once.
    const redis = connect(parts.url, () => this.#tell(false, 0));
    this.#redis = redis;
    this.#queue = new Queue(queue, {
      connection: redis,
      prefix,
      streams: { events: { maxLen: MOST_EVENTS } },
    });
    this.#events = new QueueEvents(queue, { connection: redis, prefix });
    // Of the connection, which tells by itself.
    this.#queue.on('error', () => {});
    this.#events.on('error', () => {});
    this.#events.on('active', ({ jobId }) => this.#begun(jobId));
    this.#events.on('progress', ({ jobId }) => void this.#read(jobId));
    this.#events.on('completed', ({ jobId }) => void this.#check(jobId));
    this.#events.on('failed', ({ jobId }) => void this.#check(jobId));
    redis.on('close', () => this.#tell(false, 0));
    redis.on('ready', () => void this.#look());
    this.#timer = setInterval(() => void this.#look(), LOOK_MS);
  }

  readonly count = (): number => this.#count;
  readonly isReachable = (): boolean => this.#isReachable;

  readonly run: RunLay = (request, report, signal) =>
    new Promise((resolve, reject) => {
      const stop = (): void => void this.#stop(lay).catch(this.#parts.onFault);
      const lay: Lay = {
        request,
        report,
        settle: (result) => {
          if (!this.#lays.delete(lay.job)) return;
          signal.removeEventListener('abort', stop);
          if (result instanceof Error) reject(result);
          else resolve(result);
          void this.#tidy(lay.job);
        },
        job: randomUUID(),
        isAdded: false,
        isBegun: false,
        isBegunAgain: false,
        isAsked: false,
      };
      this.#lays.set(lay.job, lay);
      signal.addEventListener('abort', stop);
      void this.#add(lay);
    });

  async close(): Promise<void> {
    this.#isClosed = true;
    clearInterval(this.#timer);
    for (const lay of [...this.#lays.values()]) lay.settle(new CrewError('closed'));
    await within(PATIENCE_MS, Promise.all([this.#events.close(), this.#queue.close()]));
    this.#redis.disconnect();
  }

  async #add(lay: Lay): Promise<void> {
    const { job } = lay;
    const kept = { age: KEPT_SECONDS };
    const options = { jobId: job, removeOnComplete: kept, removeOnFail: kept };
    try {
      await this.#queue.add('lay', { request: JSON.stringify(lay.request) }, options);
      lay.isAdded = true;
    } catch (error) {
      if (!this.#isClosed) lay.settle(error as Error);
    }
  }

  #begun(job: string): void {
    const lay = this.#lays.get(job);
    if (lay === undefined) return;
    lay.isBegunAgain = lay.isBegun;
    lay.isBegun = true;
  }

  /** Reads the newest state; of several asked for at once only one is read. */
  async #read(job: string): Promise<void> {
    const lay = this.#lays.get(job);
    if (lay === undefined || lay.isAsked) return;
    lay.isAsked = true;
    const text = await this.#redis.get(this.#names.progress(job)).catch(() => null);
    lay.isAsked = false;
    if (text !== null && this.#lays.has(job))
      lay.report(this.#withNotice(lay, JSON.parse(text) as LayProgress));
  }

  /** Ends the lay if its machine has, or hands it in again if Redis knows nothing of it. */
  async #check(job: string): Promise<void> {
    const lay = this.#lays.get(job);
    if (lay === undefined || !lay.isAdded) return;
    try {
      const text = await this.#redis.get(this.#names.result(job));
      if (text !== null) {
        lay.settle(this.#ended(lay, JSON.parse(text) as SharedResult<LayProgress>));
        return;
      }
      const state = await this.#queue.getJobState(job);
      if (!this.#lays.has(job)) return;
      if (state === 'failed') lay.settle(new CrewError('died'));
      else if (state === 'unknown' || state === 'completed') this.#handInAgain(lay);
    } catch (error) {
      if (this.#isReachable) this.#parts.onFault(error as Error);
    }
  }

  #ended(lay: Lay, result: SharedResult<LayProgress>): LayProgress | Error {
    if ('done' in result) return this.#withNotice(lay, result.done);
    const { name, message, code } = result.failed;
    return Object.assign(new Error(message), { name, facts: { code } });
  }

  /** Redis was emptied, or what was kept of the end is gone: the request is still here. */
  #handInAgain(lay: Lay): void {
    this.#lays.delete(lay.job);
    lay.job = randomUUID();
    lay.isAdded = false;
    this.#lays.set(lay.job, lay);
    void this.#add(lay);
  }

  #withNotice(lay: Lay, progress: LayProgress): LayProgress {
    return lay.isBegunAgain ? { ...progress, notices: [...progress.notices, BEGUN_AGAIN] } : progress;
  }

  async #stop(lay: Lay): Promise<void> {
    const { job } = lay;
    setTimeout(() => lay.settle(new CrewError('stopped')), STOP_GRACE_MS).unref();
    await this.#redis.set(this.#names.stop(job), '1', 'EX', KEPT_SECONDS);
    await this.#redis.publish(this.#names.stops, job);
    const waiting = await this.#queue.getJob(job);
    if (waiting === undefined || !(await removed(waiting))) return;
    lay.settle({ results: [], notices: [] });
  }

  /** Takes a lay that has ended out of Redis. What can't be removed now goes by itself. */
  async #tidy(job: string): Promise<void> {
    const { progress, result } = this.#names;
    const work = async (): Promise<void> => {
      await this.#redis.del(progress(job), result(job));
      const ended = await this.#queue.getJob(job);
      if (ended !== undefined) await removed(ended);
    };
    if (this.#isReachable && !this.#isClosed)
      await within(
        PATIENCE_MS,
        work().catch(() => {}),
      );
  }

  async #look(): Promise<void> {
    if (this.#isLooking || this.#isClosed) return;
    this.#isLooking = true;
    const count = await within(
      PATIENCE_MS,
      this.#placesNow().catch(() => undefined),
    );
    this.#isLooking = false;
    if (this.#isClosed) return;
    this.#tell(count !== undefined, count ?? 0);
    if (count !== undefined) for (const job of [...this.#lays.keys()]) void this.#check(job);
  }

  /** Places of all machines that have said within the last seconds that they are there. */
  async #placesNow(): Promise<number> {
    const ids = await this.#redis.smembers(this.#names.workers);
    if (ids.length === 0) return 0;
    const places = await this.#redis.mget(ids.map(this.#names.worker));
    const gone = ids.filter((_id, place) => places[place] === null);
    if (gone.length > 0) await this.#redis.srem(this.#names.workers, ...gone);
    return places.reduce((sum, count) => sum + Number(count ?? 0), 0);
  }

  #tell(isReachable: boolean, count: number): void {
    if (this.#isClosed || (this.#isReachable === isReachable && this.#count === count)) return;
    this.#isReachable = isReachable;
    this.#count = count;
    this.#parts.onChange();
  }
}

/** Whether it could be removed: one that is being worked on can't. */
function removed(job: Job): Promise<boolean> {
  return job.remove().then(
    () => true,
    () => false,
  );
}
