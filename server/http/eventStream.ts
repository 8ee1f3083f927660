import { performance } from 'node:perf_hooks';
import type { Response } from 'express';

/** Sent so often when nothing else is, so that proxies keep the connection and a dead one is noticed. */
const HEARTBEAT_MS = 15_000;
/** At most so many messages a second to one listener … */
const LEAST_INTERVAL_MS = 100;
/** … and at most so much, in bytes a millisecond (2 MB/s): big layouts come less often. */
const BYTES_PER_MS = 2_000;

export interface EventMessage {
  readonly id: number;
  readonly data: string;
}

export interface EventStreamParts {
  /** The message to send now; asked for late, so that a slow listener gets the newest and no backlog. */
  readonly message: () => EventMessage;
  /** The stream ended, by `finish` or because the listener went away. */
  readonly onClose: (wasFinished: boolean) => void;
  readonly heartbeatMs?: number;
}

/**
 * Server-sent events (HTML standard §9.2) of one changing thing: whole states, newest only, never faster than
 * the listener reads or the limits above allow.
 */
export class EventStream {
  readonly #response: Response;
  readonly #parts: EventStreamParts;
  readonly #heartbeat: NodeJS.Timeout;
  #timer: NodeJS.Timeout | undefined;
  #nextAt = 0;
  #isDue = false;
  #isBlocked = false;
  #isFinished = false;
  #isClosed = false;

  constructor(response: Response, parts: EventStreamParts) {
    this.#response = response;
    this.#parts = parts;
    response.status(200);
    response.setHeader('Content-Type', 'text/event-stream; charset=utf-8');
    response.setHeader('Cache-Control', 'no-store');
    response.setHeader('X-Accel-Buffering', 'no');
    response.flushHeaders();
    response.write('retry: 1000\n\n');
    this.#heartbeat = setInterval(() => this.#beat(), parts.heartbeatMs ?? HEARTBEAT_MS);
    response.on('drain', () => {
      this.#isBlocked = false;
      this.#sendIfDue();
    });
    response.once('close', () => this.#close());
  }

  /** The thing has changed: a message goes out now or as soon as it may. */
  changed(): void {
    this.#isDue = true;
    this.#sendIfDue();
  }

  /** The thing changes no more: sends the last state at once and ends the stream. */
  finish(): void {
    if (this.#isClosed || this.#isFinished) return;
    this.#isFinished = true;
    clearTimeout(this.#timer);
    this.#send();
    this.#response.end();
  }

  #sendIfDue(): void {
    if (!this.#isDue || this.#isBlocked || this.#isFinished || this.#isClosed) return;
    const wait = this.#nextAt - performance.now();
    if (wait <= 0) {
      this.#send();
      return;
    }
    this.#timer ??= setTimeout(() => {
      this.#timer = undefined;
      this.#sendIfDue();
    }, wait);
  }

  #send(): void {
    const { id, data } = this.#parts.message();
    this.#isDue = false;
    this.#nextAt = performance.now() + Math.max(LEAST_INTERVAL_MS, data.length / BYTES_PER_MS);
    // JSON holds no line breaks, so one data line is enough.
    this.#isBlocked = !this.#response.write(`id: ${id}\ndata: ${data}\n\n`);
  }

  #beat(): void {
    if (!this.#isBlocked && !this.#isFinished) this.#response.write(': still here\n\n');
  }

  #close(): void {
    if (this.#isClosed) return;
    this.#isClosed = true;
    clearInterval(this.#heartbeat);
    clearTimeout(this.#timer);
    this.#parts.onClose(this.#isFinished);
  }
}
