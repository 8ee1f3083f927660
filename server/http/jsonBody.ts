import express, { type RequestHandler } from 'express';
import { Problem } from './problem.ts';

/** A project of two thousand detailed pieces is about 4 MB; twice that is room enough. */
export const BODY_LIMIT_BYTES = 8 * 1024 * 1024;

/**
 * Refuses what is not declared as JSON. Besides clarity it keeps other sites out: a browser sends a form or
 * plain text across origins without asking, but not this type.
 */
const requireJson: RequestHandler = (request, _response, next) => {
  const type = (request.headers['content-type'] ?? '').split(';')[0]!.trim().toLowerCase();
  if (type === 'application/json' || /^application\/[\w.-]+\+json$/.test(type)) next();
  else {
    next(
      new Problem({
        status: 415,
        kind: 'unsupported-media-type',
        detail: 'This address takes application/json.',
        headers: { 'Accept-Post': 'application/json' },
      }),
    );
  }
};

const requireBody: RequestHandler = (request, _response, next) => {
  const isEmpty =
    request.headers['transfer-encoding'] === undefined &&
    Number(request.headers['content-length'] ?? 0) === 0;
  if (isEmpty) {
    next(
      new Problem({ status: 400, kind: 'malformed-json', detail: 'The body is empty; JSON was expected.' }),
    );
  } else next();
};

/**
 * Reads the body as JSON. Compressed bodies are refused: nothing that uses this server sends them, and they
 * would let a small request grow to the limit many times over.
 */
export const jsonBody: readonly RequestHandler[] = [
  requireJson,
  requireBody,
  express.json({ limit: BODY_LIMIT_BYTES, inflate: false, type: () => true }),
];
