import { createServer, type Server, STATUS_CODES } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import type { AddressInfo, Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import type { Express } from 'express';

export interface ListenParts {
  readonly app: Express;
  readonly port: number;
  readonly host: string;
  /** Longest time for a request to arrive whole. */
  readonly requestMs?: number;
  /** Certificate and key in PEM: then it speaks https. */
  readonly tls?: { readonly cert: string; readonly key: string } | undefined;
}

export interface Listening {
  readonly url: string;
  readonly server: Server;
  /** Takes no more connections and resolves when the open ones have ended, which `graceMs` gives them time for. */
  readonly stop: (graceMs: number) => Promise<void>;
}

/** 8 MB on a poor line. */
const REQUEST_MS = 60_000;
const HEADERS_MS = 15_000;
/**
 * A connection without requests is kept so long. Well beyond any stall of a busy machine: a thread that wakes late would
 * else close connections on which a request has just arrived, which the other side sees as broken.
 */
const IDLE_MS = 75_000;

/** Starts listening. Rejects with the system's error, such as EADDRINUSE. */
export function listen({ app, port, host, requestMs = REQUEST_MS, tls }: ListenParts): Promise<Listening> {
  const times = {
    requestTimeout: requestMs,
    headersTimeout: Math.min(HEADERS_MS, requestMs),
    keepAliveTimeout: IDLE_MS,
    connectionsCheckingInterval: Math.min(5_000, requestMs),
  };
  const server = tls === undefined ? createServer(times, app) : createSecureServer({ ...times, ...tls }, app);
  server.on('clientError', answerBrokenRequest);
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      const address = server.address() as AddressInfo;
      resolve({
        url: urlOf(address, tls === undefined ? 'http' : 'https'),
        server,
        stop: (graceMs) => stop(server, graceMs),
      });
    });
  });
}

/** An address that can be opened: a server listening everywhere is reached by this machine's own name. */
function urlOf({ address, port, family }: AddressInfo, scheme: string): string {
  if (address === '0.0.0.0' || address === '::') return `${scheme}://localhost:${port}`;
  return `${scheme}://${family === 'IPv6' ? `[${address}]` : address}:${port}`;
}

/** Requests that never become one for the application: half sent, malformed or with headers too large. */
function answerBrokenRequest(error: NodeJS.ErrnoException, socket: Duplex): void {
  if (!socket.writable || (socket as Socket).bytesWritten > 0) {
    socket.destroy();
    return;
  }
  const status = brokenStatus(error.code);
  const title = STATUS_CODES[status]!;
  const body = JSON.stringify({ type: 'about:blank', title, status });
  socket.end(
    `HTTP/1.1 ${status} ${title}\r\n` +
      'Content-Type: application/problem+json; charset=utf-8\r\n' +
      `Content-Length: ${body.length}\r\n` +
      `Connection: close\r\n\r\n${body}`,
  );
}

function brokenStatus(code: string | undefined): number {
  if (code === 'ERR_HTTP_REQUEST_TIMEOUT') return 408;
  if (code === 'HPE_HEADER_OVERFLOW') return 431;
  return 400;
}

async function stop(server: Server, graceMs: number): Promise<void> {
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  server.closeIdleConnections();
  const timer = setTimeout(() => server.closeAllConnections(), graceMs);
  await closed;
  clearTimeout(timer);
}
