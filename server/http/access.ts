import type { Request, RequestHandler, Response } from 'express';
import { Problem } from './problem.ts';
import { isSame, type Sessions } from './sessions.ts';

/** What it takes to use the server; undefined parts of the app mean an open door, for the loopback address alone. */
export interface Access {
  /** The password, or the key printed at the start. */
  readonly secret: string;
  readonly sessions: Sessions;
}

/** A browser takes a name with this prefix over https only, for the whole host and from no other host (RFC 6265bis). */
const SECURE_COOKIE = '__Host-clothlay';
const PLAIN_COOKIE = 'clothlay';
const COOKIE_SECONDS = 30 * 86_400;

/** Writes of a signed-in browser carry it: a page elsewhere can't add a header without being asked first. */
const WRITE_HEADER = 'x-clothlay';

const READING = new Set(['GET', 'HEAD', 'OPTIONS']);

function cookieName(request: Request): string {
  return request.secure ? SECURE_COOKIE : PLAIN_COOKIE;
}

/** The session token a request carries in its cookie. */
export function cookieToken(request: Request): string | undefined {
  const name = cookieName(request);
  for (const part of (request.headers.cookie ?? '').split(';')) {
    const [key, ...value] = part.trim().split('=');
    if (key === name) return value.join('=');
  }
  return undefined;
}

/** Gives the browser its session, or takes it away with `undefined`. */
export function setSessionCookie(request: Request, response: Response, token: string | undefined): void {
  response.cookie(cookieName(request), token ?? '', {
    httpOnly: true,
    sameSite: 'strict',
    secure: request.secure,
    path: '/',
    maxAge: token === undefined ? 0 : COOKIE_SECONDS * 1000,
  });
}

/** Whether the request is signed in, by cookie or, for programs, by `Authorization: Bearer` with the secret itself. */
export function identityOf(request: Request, { secret, sessions }: Access): string | undefined {
  const bearer = /^Bearer (.+)$/i.exec(request.headers.authorization ?? '')?.[1];
  if (bearer !== undefined) return isSame(bearer, secret) ? `bearer ${request.ip}` : undefined;
  return sessions.use(cookieToken(request));
}

/** Finds out who asks: a name in `response.locals.client`, by which the queue and the limits count. */
export function identify(access: Access | undefined): RequestHandler {
  return (request, response, next) => {
    const identity = access === undefined ? undefined : identityOf(request, access);
    response.locals.client = identity ?? request.ip ?? '';
    response.locals.isLetIn = access === undefined || identity !== undefined;
    if (access !== undefined && identity !== undefined && isForgeable(request)) next(headerMissing());
    else next();
  };
}

/** Stands before every operation that is not for everybody. */
export const requireAccess: RequestHandler = (_request, response, next) => {
  next(response.locals.isLetIn === true ? undefined : signInFirst());
};

/** A write that came with nothing but a cookie, which a browser adds by itself. */
function isForgeable(request: Request): boolean {
  return (
    !READING.has(request.method) &&
    request.headers.authorization === undefined &&
    request.headers[WRITE_HEADER] === undefined
  );
}

function signInFirst(): Problem {
  return new Problem({
    status: 401,
    kind: 'sign-in',
    title: 'Sign in first',
    detail: 'This server asks for its password. Programs send it as "Authorization: Bearer …".',
    headers: { 'WWW-Authenticate': 'Bearer realm="clothlay"' },
  });
}

function headerMissing(): Problem {
  return new Problem({
    status: 403,
    kind: 'write-header',
    detail: `Writes with a session cookie carry the header ${WRITE_HEADER}.`,
  });
}
