import type { Request, Response, Router } from 'express';
import type { z } from 'zod';
import { readableFaults } from '../../pattern/exchange/readableFaults.ts';
import type { Language } from '../../pattern/language.ts';
import { requireAccess } from './access.ts';
import { invalid } from './faults.ts';
import { jsonBody } from './jsonBody.ts';
import { languageOf } from './language.ts';
import { Problem } from './problem.ts';
import { type Upload, uploadBody } from './upload.ts';

export type Method = 'get' | 'post' | 'put' | 'delete';

/** One answer an operation gives when all is well; problems are listed by their status alone. */
export interface Answer {
  readonly description: string;
  /** Shape of the JSON body; none for an empty body or another media type. */
  readonly schema?: z.ZodType;
  /** Media type, if it is not JSON. */
  readonly mediaType?: string;
  /** Headers that are part of the contract, with what they say. */
  readonly headers?: Readonly<Record<string, string>>;
}

/** What is said about an operation, to people and in the API document. */
export interface OperationFacts {
  readonly method: Method;
  /** With parameters in braces, as in `/api/lays/{id}`. */
  readonly path: string;
  readonly id: string;
  readonly summary: string;
  readonly parameters?: Readonly<Record<string, string>>;
  readonly answers: Readonly<Record<number, Answer>>;
  /** For everybody, also without having signed in. */
  readonly isOpen?: true;
  /** Takes a file as its body instead of JSON. */
  readonly upload?: Upload;
  /** Statuses of its own problems; those that any request may meet are added where they apply. */
  readonly problems?: readonly number[];
}

/** An operation as the router and the API document see it. */
export interface Operation extends OperationFacts {
  readonly query?: z.ZodObject;
  readonly body?: z.ZodType;
  readonly handle: (request: Request, response: Response) => void | Promise<void>;
}

/** A request after the door: everything in it has been checked. */
export interface Checked<Query, Body> {
  readonly params: Readonly<Record<string, string>>;
  readonly query: Query;
  readonly body: Body;
  /** The file sent; empty for operations that take none. */
  readonly upload: Buffer;
  readonly request: Request;
  /** In which the answer speaks. */
  readonly language: Language;
}

/**
 * Ties an operation's description to its handler: the schemas that the API document shows are the ones the
 * request is checked by, so that they can't drift apart.
 */
export function operation<
  Query extends z.ZodObject = z.ZodObject<Record<never, never>>,
  Body extends z.ZodType = z.ZodUndefined,
>(
  facts: OperationFacts & { readonly query?: Query; readonly body?: Body },
  handle: (checked: Checked<z.output<Query>, z.output<Body>>, response: Response) => void | Promise<void>,
): Operation {
  const { query: querySchema, body: bodySchema } = facts;
  return {
    ...facts,
    handle: (request, response) => {
      const language = languageOf(request);
      const query = querySchema === undefined ? {} : check(querySchema, request.query, 'address', language);
      const body = bodySchema === undefined ? undefined : check(bodySchema, request.body, 'body', language);
      const params = request.params as Record<string, string>;
      const upload = Buffer.isBuffer(request.body) ? request.body : Buffer.alloc(0);
      return handle(
        { params, query: query as z.output<Query>, body: body as z.output<Body>, upload, request, language },
        response,
      );
    },
  };
}

function check<Schema extends z.ZodType>(
  schema: Schema,
  value: unknown,
  where: 'body' | 'address',
  language: Language,
): z.output<Schema> {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  throw invalid(where, readableFaults(result.error, value, language));
}

/** Puts the operations on the router; a method that a path does not have is answered 405 with what it has. */
export function mount(router: Router, operations: readonly Operation[]): void {
  for (const path of new Set(operations.map((entry) => entry.path))) {
    const entries = operations.filter((entry) => entry.path === path);
    const route = router.route(path.replaceAll(/\{(\w+)\}/g, ':$1'));
    route.all((_request, response, next) => {
      response.locals.route = path;
      response.setHeader('Cache-Control', 'no-store');
      next();
    });
    if (!entries.every(({ isOpen }) => isOpen)) route.all(requireAccess);
    for (const entry of entries) {
      const { body, upload } = entry;
      const readers = upload !== undefined ? uploadBody(upload) : body === undefined ? [] : jsonBody;
      route[entry.method](...readers, (request, response) => entry.handle(request, response));
    }
    const methods = entries.map((entry) => entry.method.toUpperCase());
    if (methods.includes('GET')) methods.push('HEAD');
    const allow = [...methods, 'OPTIONS'].sort().join(', ');
    route.all((request, response) => {
      response.setHeader('Allow', allow);
      if (request.method !== 'OPTIONS') throw new Problem({ status: 405, detail: `Allowed here: ${allow}.` });
      response.status(204).end();
    });
  }
}
