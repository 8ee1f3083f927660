import { randomUUID } from 'node:crypto';
import { type Job, WaitingError, Worker } from 'bullmq';
import type { Redis } from 'ioredis';
import { layRequestSchema } from '../../../pattern/exchange/lay.ts';
import type { LayProgress } from '../../../pattern/lay/runLay.ts';
import type { RunLay } from '../../lays.ts';
import { newestOnly } from '../newestOnly.ts';
import { codeOf } from '../whyFailed.ts';
import { connect, within } from './connection.ts';
import { KEPT_SECONDS, type SharedJob, type SharedNames, type SharedResult, sharedNames } from './names.ts';

/** Better states are sent at most so often, ms. */
const LEAST_INTERVAL_MS = 200;
/** A machine says that it is there so often, and is believed for three times as long, ms. */
const SAY_MS = 3_000;
/** A lay whose machine has said nothing for so long is given to another, ms. */
const LOCK_MS = 10_000;
const LOOK_FOR_LOST_MS = 5_000;
/** How often a lay may be lost by machines that end without a word before it is given up. */
const MOST_LOSSES = 2;
/** For handing back what is under way when the worker stops, ms. */
const CLOSE_MS = 5_000;

export interface LayWorkerParts {
  readonly url: string;
  readonly version: string;
  /** Lays at once. */
  readonly places: number;
  readonly runLay: RunLay;
  /** Told of each fault; of a Redis that is gone once for each time. */
  readonly onFault: (error: Error) => void;
  /** Told when Redis is there (again). */
  readonly onReady?: () => void;
}

/** Works on lays that others put into the queue in Redis, on this machine or another. */
export class LayWorker {
  readonly #parts: LayWorkerParts;
  readonly #names: SharedNames;
  readonly #id = randomUUID();
  readonly #redis: Redis;
  readonly #calls: Redis;
  readonly #worker: Worker<SharedJob>;
  readonly #running = new Map<string, AbortController>();
  readonly #timer: NodeJS.Timeout;
  #isClosing = false;

  constructor(parts: LayWorkerParts) {
    this.#parts = parts;
    this.#names = sharedNames(parts.version);
    let isTold = false;
    this.#redis = connect(parts.url, (error) => {
      if (!isTold) parts.onFault(error);
      isTold = true;
    });
    this.#redis.on('ready', () => {
      isTold = false;
      void this.#sayHere();
      parts.onReady?.();
    });
    this.#calls = connect(parts.url, () => {});
    this.#calls.on('message', (_channel, job: string) => this.#running.get(job)?.abort());
    this.#calls.subscribe(this.#names.stops).catch(() => {}); // closed before it was there
    this.#worker = new Worker<SharedJob>(this.#names.queue, (job, token) => this.#work(job, token), {
      connection: this.#redis,
      prefix: this.#names.prefix,
      concurrency: parts.places,
      lockDuration: LOCK_MS,
      stalledInterval: LOOK_FOR_LOST_MS,
      maxStalledCount: MOST_LOSSES,
      removeOnComplete: { age: KEPT_SECONDS },
      removeOnFail: { age: KEPT_SECONDS },
    });
    this.#worker.on('error', () => {}); // of the connection, which tells by itself
    this.#timer = setInterval(() => void this.#sayHere(), SAY_MS);
  }

  /** Hands back what is under way, so that others go on with it at once, and takes no more. */
  async close(): Promise<void> {
    this.#isClosing = true;
    clearInterval(this.#timer);
    await within(CLOSE_MS, this.#leave());
    await within(
      CLOSE_MS,
      this.#worker.close(true).catch(() => {}),
    );
    this.#redis.disconnect();
    this.#calls.disconnect();
  }

  async #leave(): Promise<void> {
    await this.#worker.pause(true);
    for (const abort of this.#running.values()) abort.abort();
    await this.#redis.srem(this.#names.workers, this.#id);
    await this.#redis.del(this.#names.worker(this.#id));
    while (this.#running.size > 0) await new Promise((resolve) => setTimeout(resolve, 20));
  }

  async #sayHere(): Promise<void> {
    if (this.#isClosing) return;
    const { workers, worker } = this.#names;
    await this.#redis
      .multi()
      .sadd(workers, this.#id)
      .set(worker(this.#id), String(this.#parts.places), 'PX', 3 * SAY_MS)
      .exec()
      .catch(() => {}); // said again soon
  }

  async #work(job: Job<SharedJob>, token: string | undefined): Promise<null> {
    const id = job.id!;
    // One that came in while the worker was being stopped, perhaps because it had just been handed back.
    if (this.#isClosing) return this.#handBack(job, token);
    const abort = new AbortController();
    this.#running.set(id, abort);
    try {
      if (await this.#isStopped(id)) abort.abort();
      const result = await this.#result(job, abort.signal);
      if (this.#isClosing && !(await this.#isStopped(id))) return await this.#handBack(job, token);
      await this.#redis.set(this.#names.result(id), JSON.stringify(result), 'EX', KEPT_SECONDS);
      return null;
    } finally {
      this.#running.delete(id);
    }
  }

  async #isStopped(id: string): Promise<boolean> {
    return (await this.#redis.exists(this.#names.stop(id))) > 0;
  }

  /** Back to the head of the queue, for any machine. */
  async #handBack(job: Job<SharedJob>, token: string | undefined): Promise<never> {
    await job.moveToWait(token);
    throw new WaitingError();
  }

  async #result(job: Job<SharedJob>, signal: AbortSignal): Promise<SharedResult<LayProgress>> {
    let told = 0;
    const report = newestOnly<LayProgress>(LEAST_INTERVAL_MS, (progress) => {
      void this.#send(job, progress, ++told);
    });
    try {
      const request = layRequestSchema.parse(JSON.parse(job.data.request));
      if (signal.aborted) return { done: { results: [], notices: [] } };
      return { done: await this.#parts.runLay(request, report.take, signal) };
    } catch (error) {
      const fault = error instanceof Error ? error : new Error('something that is no error was thrown');
      if (!signal.aborted) this.#parts.onFault(fault);
      const code = codeOf(fault);
      return {
        failed: {
          name: fault.name,
          message: fault.message,
          code: typeof code === 'string' ? code : undefined,
        },
      };
    } finally {
      report.stop();
    }
  }

  async #send(job: Job<SharedJob>, progress: LayProgress, number: number): Promise<void> {
    try {
      await this.#redis.set(this.#names.progress(job.id!), JSON.stringify(progress), 'EX', KEPT_SECONDS);
      await job.updateProgress(number);
    } catch {
      // The job was taken away meanwhile; the next state, or the end, tells the same.
    }
  }
}
