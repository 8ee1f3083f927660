import type { RequestHandler } from 'express';
import { ipKeyGenerator, rateLimit } from 'express-rate-limit';
import { Problem } from './problem.ts';

/** How often something may be asked for. */
export interface RateLimits {
  /** Wrong passwords from one address in a quarter of an hour. */
  readonly failedSignIns: number;
  /** Requests of one client in a minute, once the server asks for a password. */
  readonly requests: number;
}

export const RATE_LIMITS: RateLimits = { failedSignIns: 10, requests: 1_200 };

const QUARTER_MS = 15 * 60_000;
const MINUTE_MS = 60_000;

function tooMany(detail: string, seconds: number): Problem {
  return new Problem({
    status: 429,
    kind: 'too-many-requests',
    title: 'Too many requests',
    detail,
    headers: { 'Retry-After': String(seconds) },
  });
}

/** Counts requests by client, as `identify` tells them apart. */
export function limitRequests({ requests }: RateLimits): RequestHandler {
  return rateLimit({
    windowMs: MINUTE_MS,
    limit: requests,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    keyGenerator: (_request, response) => keyOf(String(response.locals.client)),
    handler: (_request, _response, next) =>
      next(tooMany('So many requests came from you within a minute that the next ones wait.', 60)),
  });
}

/**
 * Counts wrong passwords by address, at the sign-in and in `Authorization`: they can't be tried out one after another.
 * Mounted at `/api`.
 */
export function limitFailures({ failedSignIns }: RateLimits): RequestHandler {
  return rateLimit({
    windowMs: QUARTER_MS,
    limit: failedSignIns,
    standardHeaders: false,
    legacyHeaders: false,
    skip: ({ method, path, headers }) =>
      headers.authorization === undefined && !(method === 'POST' && path.startsWith('/session')),
    requestWasSuccessful: (_request, response) => response.statusCode !== 401,
    skipSuccessfulRequests: true,
    keyGenerator: (request) => ipKeyGenerator(request.ip ?? ''),
    handler: (_request, _response, next) =>
      next(tooMany('Too many wrong passwords came from here. Wait a quarter of an hour.', 900)),
  });
}

/** Addresses of version 6 count by network, as one household has many; sessions count by themselves. */
function keyOf(client: string): string {
  return client.includes(':') && !client.includes(' ') ? ipKeyGenerator(client) : client;
}
