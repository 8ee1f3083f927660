import { isIP } from 'node:net';
import type { Request, RequestHandler } from 'express';
import { Problem } from './problem.ts';

/** No inline script or style, nothing from elsewhere, nobody may frame the page. */
const PAGE_POLICY = [
  "default-src 'self'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self' blob:",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join('; ');

/** For a drawing opened on its own: nothing beside it, and no script whatever it holds. */
export const DRAWING_POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox";

const HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': PAGE_POLICY,
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), geolocation=(), microphone=(), payment=(), usb=()',
  'X-DNS-Prefetch-Control': 'off',
};

/**
 * For a year: a browser that was here over https does not come back without it. Names below ours are none of our
 * business.
 */
const ONLY_HTTPS = 'max-age=31536000';

/**
 * Not said for `localhost`: browsers remember it for all ports of a name, and other programs of this machine are served
 * there over http. For addresses without a name they take no notice of it (RFC 6797, 8.1.1).
 */
function isForHttpsOnly({ secure, headers }: Request): boolean {
  return secure && !/(^|\.)localhost$/.test(hostName(headers.host ?? '') ?? '');
}

/** Sets on every answer the headers that keep a browser from doing more with it than it must. */
export const securityHeaders: RequestHandler = (request, response, next) => {
  for (const [name, value] of Object.entries(HEADERS)) response.setHeader(name, value);
  if (isForHttpsOnly(request)) response.setHeader('Strict-Transport-Security', ONLY_HTTPS);
  next();
};

export interface HostRule {
  /** The server is reachable from this machine alone. */
  readonly loopbackOnly: boolean;
  /** Further names it is reached by (a proxy's, the machine's), without port, in lower case. */
  readonly names: readonly string[];
}

/** Host name of a `Host` header, in lower case and without port or brackets; undefined if it is no host. */
function hostName(header: string): string | undefined {
  const match = /^(?:\[([0-9a-f:.]+)\]|([a-z0-9._-]+))(?::\d{1,5})?$/.exec(header.toLowerCase());
  return match?.[1] ?? match?.[2];
}

/**
 * Whether a request for this host may be answered. A page elsewhere can point its own name at 127.0.0.1 (DNS
 * rebinding) and so pass for the same origin; it can't make the browser send a name of ours or an address.
 */
export function isOwnHost(header: string | undefined, rule: HostRule): boolean {
  const host = hostName(header ?? '');
  if (host === undefined) return false;
  if (host === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'))) return true;
  if (rule.names.includes(host)) return true;
  return !rule.loopbackOnly && isIP(host) !== 0;
}

/** Refuses requests for hosts that are not ours, with 421; see `isOwnHost`. */
export function checkHost(rule: HostRule): RequestHandler {
  return (request, _response, next) => {
    if (isOwnHost(request.headers.host, rule)) next();
    else {
      next(
        new Problem({
          status: 421,
          kind: 'unknown-host',
          detail:
            'This server is not known by the host name in the request. ' +
            'If the name is right, list it in ALLOWED_HOSTS when starting the server.',
        }),
      );
    }
  };
}

const READING = new Set(['GET', 'HEAD', 'OPTIONS']);

/** Refuses writes that another site's page made a browser send (cross-site request forgery). */
export const checkOrigin: RequestHandler = (request, _response, next) => {
  if (READING.has(request.method) || isSameOrigin(request.headers)) next();
  else {
    next(
      new Problem({
        status: 403,
        kind: 'cross-origin-write',
        detail: 'Writes are taken from the page of this server itself, not from another site.',
      }),
    );
  }
};

/**
 * A browser says by `Sec-Fetch-Site` whose page made it send a request, and no page can change that; older ones
 * only say by `Origin` where it came from. Programs outside a browser send neither.
 */
function isSameOrigin(headers: {
  readonly host?: string | undefined;
  readonly origin?: string | undefined;
  readonly 'sec-fetch-site'?: string | string[] | undefined;
}): boolean {
  const site = headers['sec-fetch-site'];
  if (site !== undefined) return site === 'same-origin' || site === 'none';
  const { origin } = headers;
  if (origin === undefined) return true;
  if (!URL.canParse(origin)) return false;
  // The scheme is left out of the comparison: a proxy in front may speak https.
  return new URL(origin).host === headers.host?.toLowerCase().replace(/:(80|443)$/, '');
}
