import { constants } from 'node:buffer';
import { type ApiDocument, validatorOf } from '../apiDocument.ts';
import type { FuzzRequest } from './requests.ts';

/** Longest wait for an answer, ms; anything slower holds up whoever asked next. */
const PATIENCE_MS = 60_000;

/**
 * Sends requests and says what is wrong with an answer by the API's document: a status, a media type, a header or a
 * body that it does not promise, or a fault of the program's own.
 */
export class Fuzzer {
  readonly #url: string;
  readonly #document: ApiDocument;
  readonly #validate: ReturnType<typeof validatorOf>;
  readonly #compiled = new Map<string, ReturnType<ReturnType<typeof validatorOf>>>();
  /** How often each operation was answered with each status. */
  readonly seen = new Map<string, number>();

  constructor(url: string, document: ApiDocument) {
    this.#url = url;
    this.#document = document;
    this.#validate = validatorOf(document);
  }

  /** Null where the answer is as it should be. */
  async faultOf(path: string, { method, address, type, body }: FuzzRequest): Promise<string | null> {
    const answer = await fetch(this.#url + address, {
      method,
      headers: type === undefined ? {} : { 'content-type': type },
      ...(body === undefined ? {} : { body: body as BodyInit }),
      signal: AbortSignal.timeout(PATIENCE_MS),
      redirect: 'manual',
    });
    const bytes = Buffer.from(await answer.arrayBuffer());
    const { status } = answer;
    // Dots in an address are taken away before it is sent: then it is another one.
    const isOther = !matches(path, new URL(this.#url + address).pathname);
    if (!isOther) this.#count(`${method} ${path} ${status}`);
    if (status === 500) return `500: ${bytes.toString().slice(0, 300)}`;
    if (isOther) return null;
    const described = this.#document.paths[path]![method.toLowerCase()]!.responses[status];
    if (described === undefined)
      return `the status ${status} is not in the document: ${bytes.toString().slice(0, 300)}`;
    for (const name of Object.keys(described.headers ?? {})) {
      if (answer.headers.get(name) === null) return `${status} without its header ${name}`;
    }
    const mediaType = answer.headers.get('content-type')?.split(';')[0];
    const [expected] = Object.keys(described.content ?? {});
    if (mediaType !== expected) return `${status} comes as ${mediaType}, not as ${expected}`;
    if (mediaType === undefined || !/json$/.test(mediaType)) return null;
    return this.#shapeFault(described.content![mediaType]!.schema, bytes);
  }

  #shapeFault(schema: object, bytes: Buffer): string | null {
    if (bytes.length > constants.MAX_STRING_LENGTH) return 'a body larger than a text can be';
    const key = JSON.stringify(schema);
    const isValid = this.#compiled.get(key) ?? this.#validate(schema);
    this.#compiled.set(key, isValid);
    const body: unknown = JSON.parse(bytes.toString());
    if (isValid(body)) return null;
    const faults = (isValid.errors ?? [])
      .slice(0, 3)
      .map((error) => `${error.instancePath} ${error.message}`);
    return `a body of another shape: ${faults.join('; ')}`;
  }

  #count(where: string): void {
    this.seen.set(where, (this.seen.get(where) ?? 0) + 1);
  }
}

function matches(path: string, pathname: string): boolean {
  const expression = path.replaceAll('.', '\\.').replaceAll(/\{\w+\}/g, '[^/]+');
  return new RegExp(`^${expression}$`).test(pathname);
}
