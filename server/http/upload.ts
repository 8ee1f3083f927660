import express, { type RequestHandler } from 'express';
import { Problem } from './problem.ts';

/** A file as the body of a request. */
export interface Upload {
  readonly mediaType: string;
  readonly limitBytes: number;
}

/**
 * Reads the body as a file of this type, and refuses any other: a browser sends none of ours across origins without
 * asking first.
 */
export function uploadBody({ mediaType, limitBytes }: Upload): readonly RequestHandler[] {
  const requireType: RequestHandler = (request, _response, next) => {
    const type = (request.headers['content-type'] ?? '').split(';')[0]!.trim().toLowerCase();
    if (type === mediaType) next();
    else
      next(
        new Problem({
          status: 415,
          kind: 'unsupported-media-type',
          detail: `This address takes a file of type ${mediaType}.`,
          headers: { 'Accept-Post': mediaType },
        }),
      );
  };
  const read = express.raw({ limit: limitBytes, inflate: false, type: () => true });
  // The limit is that of JSON elsewhere: the answer names this one.
  const readWithin: RequestHandler = (request, response, next) =>
    read(request, response, (error?: unknown) => {
      const isTooLarge = (error as { type?: unknown } | undefined)?.type === 'entity.too.large';
      next(
        isTooLarge
          ? new Problem({
              status: 413,
              kind: 'body-too-large',
              title: 'Body too large',
              detail: `This file may hold at most ${limitBytes / 1024 / 1024} MB.`,
            })
          : error,
      );
    });
  return [requireType, readWithin];
}
