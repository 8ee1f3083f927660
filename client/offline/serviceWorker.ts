import { Copies } from './copies.ts';
import { type Build, type NetWorld, Shell } from './shell.ts';

/**
 * Stands between the page and the server: keeps the page's files, and what the server last said, for when it is away.
 * Its types stand here because those of a page and of a service worker can't be loaded together.
 */
interface WorkerScope {
  addEventListener(type: 'install' | 'activate', listener: (event: Lasting) => void): void;
  addEventListener(type: 'fetch', listener: (event: Fetching) => void): void;
  addEventListener(type: 'message', listener: (event: MessageEvent<unknown>) => void): void;
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
  readonly location: Location;
}
interface Lasting {
  waitUntil(work: Promise<unknown>): void;
}
interface Fetching extends Lasting {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

/** Put in when the page is built. */
declare const BUILD: Build;

const worker = self as unknown as WorkerScope;
const world: NetWorld = {
  caches,
  fetch: (request, init) => fetch(request, init),
  wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
};
const shell = new Shell(BUILD, world);
const copies = new Copies(world);

worker.addEventListener('install', (event) => {
  // A new build need not wait until pages of the old one are closed: their files are kept as well.
  event.waitUntil(shell.install().then(() => worker.skipWaiting()));
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(shell.tidy().then(() => worker.clients.claim()));
});

worker.addEventListener('message', (event) => {
  // A page asks whether its own script belongs to the present build.
  event.ports[0]?.postMessage(typeof event.data === 'string' && BUILD.files.includes(event.data));
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (address.origin !== worker.location.origin) return;
  const { pathname } = address;
  if (pathname.startsWith('/api/')) {
    if (copies.handles(request.method, address)) event.respondWith(copies.answer(request));
  } else if (request.method !== 'GET') return;
  else if (request.mode === 'navigate') event.respondWith(shell.index(request));
  else if (shell.isFile(pathname)) event.respondWith(shell.file(request));
});
