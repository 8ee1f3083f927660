import type { ErrorRequestHandler } from 'express';
import { StorageFault, type StorageFaultKind, storageFacts } from '../storage/storageFault.ts';
import { BODY_LIMIT_BYTES } from './jsonBody.ts';
import type { Log } from './log.ts';
import { Problem, sendProblem } from './problem.ts';

/** What body-parser and the router put on the errors they raise. */
interface HttpError {
  readonly status: number;
  readonly type?: string;
}

function isHttpError(error: unknown): error is Error & HttpError {
  return error instanceof Error && 'status' in error && typeof error.status === 'number';
}

const STORAGE_STATUS: Record<StorageFaultKind, number> = {
  full: 507,
  readOnly: 503,
  damaged: 503,
  busy: 503,
  newer: 503,
  foreign: 503,
  moved: 503,
  unavailable: 503,
  unreadable: 500,
};

/** Any error as a problem; those not meant for the outside lose their message. */
export function toProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  if (error instanceof StorageFault) {
    return new Problem({
      status: STORAGE_STATUS[error.kind],
      kind: `storage-${error.kind}`,
      title: 'The project store did not do it',
      detail: error.message,
      ...(error.kind === 'busy' ? { headers: { 'Retry-After': '1' } } : {}),
    });
  }
  if (isHttpError(error) && error.status >= 400 && error.status < 500) return clientProblem(error);
  return new Problem({
    status: 500,
    title: 'Internal error',
    detail: 'The server met a fault of its own; it is in its log. Nothing that was stored is changed.',
  });
}

function clientProblem(error: Error & HttpError): Problem {
  switch (error.type) {
    case 'entity.too.large':
      return new Problem({
        status: 413,
        kind: 'body-too-large',
        title: 'Body too large',
        detail: `A request may hold at most ${BODY_LIMIT_BYTES / 1024 / 1024} MB.`,
      });
    case 'entity.parse.failed':
      return new Problem({
        status: 400,
        kind: 'malformed-json',
        title: 'Malformed JSON',
        detail: `The body is not JSON: ${error.message}`,
      });
    case 'charset.unsupported':
    case 'encoding.unsupported':
      return new Problem({
        status: 415,
        kind: 'unsupported-media-type',
        detail: 'Send the body as plain UTF-8 JSON, not compressed.',
      });
    default:
      return new Problem({ status: error.status });
  }
}

/**
 * Last in the chain: every error becomes a problem answer. A fault of ours is logged with its stack (and
 * without its message, which may quote what the user typed); no stack is ever sent.
 */
export function errorHandler(log: Log): ErrorRequestHandler {
  return (error: unknown, _request, response, _next) => {
    const problem = toProblem(error);
    if (problem.status >= 500) {
      log('error', 'fault', {
        name: error instanceof Error ? error.name : typeof error,
        ...(error instanceof StorageFault ? storageFacts(error) : {}),
        stack: error instanceof Error ? stackFrames(error) : [],
      });
    }
    // Who broke the upload off is gone; and an answer half sent can't be mended, so the connection is cut, that
    // it isn't taken for whole.
    const isGone = isHttpError(error) && error.type === 'request.aborted';
    if (isGone || response.headersSent) response.destroy();
    else sendProblem(response, problem);
  };
}

/** The stack without its first line(s), which repeat the message. */
export function stackFrames(error: Error): string[] {
  return (error.stack ?? '')
    .split('\n')
    .filter((line) => /^\s+at /.test(line))
    .map((line) => line.trim());
}
