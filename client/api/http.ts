import type { z } from 'zod';
import { type ProblemDetails, problemDetailsSchema } from '../../pattern/exchange/lay.ts';
import { USUAL_LANGUAGE } from '../../pattern/language.ts';
import { language, t } from '../strings/index.ts';

/** The server answered with an error of its own. */
export class HttpProblem extends Error {
  readonly status: number;
  readonly problem: ProblemDetails | null;

  constructor(status: number, problem: ProblemDetails | null) {
    super(problem?.detail ?? problem?.title ?? `HTTP ${status}`);
    this.name = 'HttpProblem';
    this.status = status;
    this.problem = problem;
  }
}

/** No answer at all: the server is down or the network is. */
export class Unreachable extends Error {
  constructor(cause: unknown) {
    super('the server cannot be reached', { cause });
    this.name = 'Unreachable';
  }
}

/**
 * One call to the server, its answer checked against `schema`.
 * @throws HttpProblem for an error answer, Unreachable when there is none
 */
export async function call<T>(
  method: 'GET' | 'POST' | 'PUT' | 'DELETE',
  path: string,
  schema: z.ZodType<T>,
  body?: unknown,
): Promise<T> {
  const response = await request(method, path, body);
  return schema.parse(await response.json());
}

/** A call whose answer has no body, or none that matters. */
export async function callWithoutAnswer(method: 'POST' | 'DELETE', path: string): Promise<void> {
  await request(method, path);
}

let askToSignIn: () => void = () => {};

/** Says what is to be done when the server asks for its password. */
export function onSignInNeeded(ask: () => void): void {
  askToSignIn = ask;
}

/** The server asks for its password before anything else. */
export function isSignInNeeded(error: unknown): boolean {
  return error instanceof HttpProblem && error.problem?.type === 'urn:clothlay:problem:sign-in';
}

/** A call whose answer is not JSON, or not looked into here. @throws HttpProblem, Unreachable */
export function request(
  method: string,
  path: string,
  body?: unknown,
  cache: RequestCache = 'default',
): Promise<Response> {
  const content = body === undefined ? undefined : JSON.stringify(body);
  return send(method, path, content === undefined ? undefined : { type: 'application/json', content }, cache);
}

/** Sends a file. @throws HttpProblem, Unreachable */
export function requestWithFile(path: string, file: Blob, type: string): Promise<Response> {
  return send('POST', path, { type, content: file });
}

async function send(
  method: string,
  path: string,
  body?: { readonly type: string; readonly content: string | Blob },
  cache: RequestCache = 'default',
): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(path, {
      method,
      cache,
      // No page elsewhere can add this header unasked: the server takes writes of a session only with it.
      headers: {
        accept: 'application/json',
        'accept-language': language,
        'x-clothlay': '1',
        ...(body === undefined ? {} : { 'content-type': body.type }),
      },
      ...(body === undefined ? {} : { body: body.content }),
    });
  } catch (error) {
    throw new Unreachable(error);
  }
  if (response.ok) return response;
  // A gateway in front of a stopped server answers for it; to the maker that is the same as no answer.
  if (response.status === 502 || response.status === 504) throw new Unreachable(response.status);
  const problem = new HttpProblem(response.status, await readProblem(response));
  if (isSignInNeeded(problem)) askToSignIn();
  throw problem;
}

async function readProblem(response: Response): Promise<ProblemDetails | null> {
  try {
    return problemDetailsSchema.parse(await response.json());
  } catch {
    return null;
  }
}

const PROBLEM_TYPE = 'urn:clothlay:problem:';

/**
 * What the server says of a problem. Its own words are English, and tell more than those of the page; made where it
 * speaks the language asked for (files, lays), they are taken as they are.
 */
function problemText({ status, problem, message }: HttpProblem): string {
  if (language === USUAL_LANGUAGE) return message;
  const kind = problem?.type.startsWith(PROBLEM_TYPE) ? problem.type.slice(PROBLEM_TYPE.length) : '';
  const usual = status >= 500 ? t.serverProblems.internal : status === 404 ? t.serverProblems.unknown : null;
  return t.serverProblems[kind] ?? (kind === '' ? usual : null) ?? message;
}

/** A fault in words: the server's own with the first places it names, or the bare message. */
export function faultText(error: unknown): string {
  if (error instanceof HttpProblem) {
    const faults = error.problem?.faults ?? [];
    const where = faults.slice(0, 3).map((fault) => `${fault.path}: ${fault.message}`);
    return [problemText(error), ...where].join('; ');
  }
  return error instanceof Error ? error.message : String(error);
}
