import type { RequestHandler } from 'express';

/** From chatty to grave. */
export const LOG_LEVELS = ['info', 'warn', 'error'] as const;
export type LogLevel = (typeof LOG_LEVELS)[number];

/** Writes one event. Facts must not hold what a user typed: no names, no documents, no addresses with ids. */
export type Log = (level: LogLevel, event: string, facts?: Readonly<Record<string, unknown>>) => void;

/** A log that writes one JSON object a line, from `least` upwards. */
export function jsonLinesLog(write: (line: string) => void, now: () => Date, least: LogLevel = 'info'): Log {
  return (level, event, facts = {}) => {
    if (LOG_LEVELS.indexOf(level) < LOG_LEVELS.indexOf(least)) return;
    write(`${JSON.stringify({ time: now().toISOString(), level, event, ...facts })}\n`);
  };
}

/** One line for each answer: method, route pattern (not the address itself), status, duration, whether it was cut off. */
export function logRequests(log: Log, clock: () => number): RequestHandler {
  return (request, response, next) => {
    const start = clock();
    response.once('close', () => {
      log('info', 'request', {
        method: request.method,
        route: typeof response.locals.route === 'string' ? response.locals.route : null,
        status: response.headersSent ? response.statusCode : null,
        ms: Math.round(clock() - start),
        complete: response.writableFinished,
      });
    });
    next();
  };
}
