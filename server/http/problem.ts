import { STATUS_CODES } from 'node:http';
import type { Response } from 'express';
import type { ProblemDetails } from '../../pattern/exchange/lay.ts';

export type Fault = NonNullable<ProblemDetails['faults']>[number];

/** Plain data, so that a problem can cross threads. */
export interface ProblemParts {
  readonly status: number;
  /** Last part of the problem's type; left out, the type is `about:blank` and the status says it all. */
  readonly kind?: string;
  readonly title?: string;
  readonly detail?: string;
  readonly faults?: readonly Fault[];
  readonly headers?: Readonly<Record<string, string>>;
  /** Extension members (RFC 9457 §3.2). */
  readonly extra?: Readonly<Record<string, unknown>>;
}

/**
 * An error that is meant for whoever sent the request. Thrown anywhere below a route, it becomes an
 * `application/problem+json` answer; whatever is not a Problem becomes a plain 500 without its message.
 */
export class Problem extends Error {
  readonly parts: ProblemParts;
  readonly status: number;
  readonly body: ProblemDetails & Record<string, unknown>;
  readonly headers: Readonly<Record<string, string>>;

  constructor(parts: ProblemParts) {
    const title = parts.title ?? STATUS_CODES[parts.status] ?? 'Problem';
    super(parts.detail ?? title);
    this.name = 'Problem';
    this.parts = parts;
    this.status = parts.status;
    this.headers = parts.headers ?? {};
    this.body = {
      type: parts.kind === undefined ? 'about:blank' : `urn:clothlay:problem:${parts.kind}`,
      title,
      status: parts.status,
      ...(parts.detail === undefined ? {} : { detail: parts.detail }),
      ...(parts.faults === undefined ? {} : { faults: [...parts.faults] }),
      ...parts.extra,
    };
  }
}

/** Writes the problem as the whole answer; the caller has made sure that no header has been sent. */
export function sendProblem(response: Response, problem: Problem): void {
  response.status(problem.status);
  for (const [name, value] of Object.entries(problem.headers)) response.setHeader(name, value);
  response.setHeader('Content-Type', 'application/problem+json; charset=utf-8');
  response.setHeader('Cache-Control', 'no-store');
  response.end(JSON.stringify(problem.body));
}

/** What is asked for is not there. */
export function notFound(detail: string): Problem {
  return new Problem({ status: 404, detail });
}

/** The request is understood, and what it asks for can't be made. */
export function cannotBeMade(detail: string): Problem {
  return new Problem({ status: 422, kind: 'cannot-be-made', title: 'Cannot be made', detail });
}
