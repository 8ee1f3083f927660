import { extname, join } from 'node:path';
import express, { Router } from 'express';
import { packedFiles } from '../http/packed.ts';
import { notFound } from '../http/problem.ts';

/** Built files carry a hash of their content in their name, so a browser may keep them for good. */
const HASHED = '/assets/';
const YEAR_SECONDS = 31_536_000;

/** The built page: its files, and its index for any address of the page's own. */
export function pageRouter(clientDir: string | undefined): Router {
  const router = Router();
  if (clientDir !== undefined) {
    router.use(
      HASHED,
      packedFiles(join(clientDir, HASHED)),
      express.static(join(clientDir, HASHED), {
        immutable: true,
        maxAge: YEAR_SECONDS * 1000,
        index: false,
        redirect: false,
      }),
    );
    router.use(express.static(clientDir, { cacheControl: false, redirect: false, setHeaders: askAgain }));
  }
  router.use((request, response, next) => {
    const isPage = (request.method === 'GET' || request.method === 'HEAD') && extname(request.path) === '';
    if (!isPage) throw notFound('There is nothing at this address.');
    if (clientDir === undefined) throw notFound('The page is not built: run "npm run build".');
    askAgain(response);
    response.locals.route = '(page)';
    response.sendFile('index.html', { root: clientDir, cacheControl: false }, (error) => {
      if (error !== undefined && error !== null) next(error);
    });
  });
  return router;
}

/** After an update the browser must not go on with the old index. */
function askAgain(response: { setHeader(name: string, value: string): unknown }): void {
  response.setHeader('Cache-Control', 'no-cache');
}
