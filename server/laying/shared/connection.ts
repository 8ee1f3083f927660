import { Redis } from 'ioredis';

/** Between two tries to reach a Redis that is gone, at most, ms. */
const LONGEST_PAUSE_MS = 2_000;

/**
 * A connection that comes back by itself; what is asked meanwhile waits. Faults go to `onError`, which is told of each
 * try: without a listener they would end the process.
 */
export function connect(url: string, onError: (error: Error) => void): Redis {
  const redis = new Redis(url, {
    maxRetriesPerRequest: null,
    retryStrategy: (tries) => Math.min(LONGEST_PAUSE_MS, 100 * tries),
    // A write that was cut off is sent again after coming back.
    autoResendUnfulfilledCommands: true,
  });
  redis.on('error', onError);
  return redis;
}

/** The address without its password, to be shown. */
export function withoutPassword(url: string): string {
  const { protocol, host, pathname } = new URL(url);
  return `${protocol}//${host}${pathname === '/' ? '' : pathname}`;
}

/** What `asked` gives, or undefined where it takes longer than `ms`: a connection may hang without being closed. */
export function within<Value>(ms: number, asked: Promise<Value>): Promise<Value | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), ms);
  });
  asked.catch(() => {}); // what fails after the time has nobody left to tell
  return Promise.race([asked, late]).finally(() => clearTimeout(timer));
}
