import { performance } from 'node:perf_hooks';
import express, { type Express } from 'express';
import type { MakeFile } from './files/makers.ts';
import { type Access, identify } from './http/access.ts';
import { errorHandler } from './http/errors.ts';
import { limitFailures, limitRequests, RATE_LIMITS, type RateLimits } from './http/limits.ts';
import { type Log, logRequests } from './http/log.ts';
import { mount } from './http/operation.ts';
import { notFound } from './http/problem.ts';
import { checkHost, checkOrigin, type HostRule, securityHeaders } from './http/security.ts';
import type { Lays } from './lays.ts';
import { backupOperations } from './routes/backup.ts';
import { binOperations } from './routes/bin.ts';
import { healthOperations } from './routes/health.ts';
import { layFileOperations, storedLayFileOperations } from './routes/layFiles.ts';
import { layOperations } from './routes/lays.ts';
import { openApiOperations } from './routes/openapi.ts';
import { pageRouter } from './routes/page.ts';
import { projectFileOperations } from './routes/projectFiles.ts';
import { projectOperations } from './routes/projects.ts';
import { sessionOperations } from './routes/session.ts';
import { shelfOperations } from './routes/shelf.ts';
import { tableOperations } from './routes/tables.ts';
import type { ProjectStore } from './storage/projectStore.ts';

export interface AppParts {
  readonly store: ProjectStore;
  readonly lays: Lays;
  readonly makeFile: MakeFile;
  /** Folder with the built page; without it only the API is served. */
  readonly clientDir?: string;
  readonly log?: Log;
  readonly version?: string;
  /** By which names the server may be addressed; by default only those of this machine itself. */
  readonly hosts?: HostRule;
  /** What it takes to be let in; left out, everyone who reaches the server is. */
  readonly access?: Access;
  readonly rates?: Partial<RateLimits>;
  /** A proxy in front says by `X-Forwarded-…` who asked, and whether over https. */
  readonly behindProxy?: boolean;
}

/** The whole application, not listening yet. It owns neither the store nor the lays: who made them closes them. */
export function createApp(parts: AppParts): Express {
  const { store, lays, makeFile, clientDir } = parts;
  const log = parts.log ?? (() => {});
  const version = parts.version ?? '0.0.0';
  const rates = { ...RATE_LIMITS, ...parts.rates };
  const hosts = parts.hosts ?? { loopbackOnly: true, names: [] };

  const app = express();
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  // States change with every read and are never asked for by tag; hashing them would cost more than it saves.
  app.set('etag', false);
  // One hop: the proxy's own word is taken, whatever a client wrote before it is not.
  app.set('trust proxy', parts.behindProxy ? 1 : false);

  app.use(logRequests(log, () => performance.now()));
  app.use(securityHeaders);
  app.use(checkHost(hosts));
  app.use(checkOrigin);
  if (parts.access !== undefined) app.use('/api', limitFailures(rates));
  app.use(identify(parts.access));
  if (parts.access !== undefined) app.use('/api', limitRequests(rates));

  const operations = [
    ...sessionOperations(parts.access),
    ...projectOperations(store),
    ...binOperations(store),
    ...backupOperations(store.backup),
    ...shelfOperations(store.shelf),
    ...layOperations(lays, makeFile),
    ...projectFileOperations(store, makeFile),
    ...tableOperations(makeFile),
    ...storedLayFileOperations(store, makeFile),
    ...layFileOperations(lays, makeFile),
    ...healthOperations(store, lays, version),
  ];
  mount(app, [...operations, ...openApiOperations(operations, version)]);
  app.use('/api', () => {
    throw notFound('The API has nothing at this address; see /api/openapi.json.');
  });
  app.use(pageRouter(clientDir));
  app.use(errorHandler(log));
  return app;
}
