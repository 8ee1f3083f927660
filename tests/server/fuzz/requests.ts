import fc from 'fast-check';
import type { ApiDocument, DocumentedOperation } from '../apiDocument.ts';
import { damaged } from './damage.ts';
import { fromSchema, type Schema } from './fromSchema.ts';

/** One request as it goes out. */
export interface FuzzRequest {
  readonly method: string;
  readonly address: string;
  readonly type: string | undefined;
  readonly body: string | Uint8Array | undefined;
}

/** Ids that lead somewhere, by the name of the parameter in path or query (`lay` for the id of a lay), and bytes that a binary body may begin with. */
export interface Known {
  readonly ids: Readonly<Record<string, readonly string[]>>;
  readonly bytes: Uint8Array;
}

const STRANGE_PARTS = [
  'nowhere',
  '..',
  '%2e%2e%2f',
  '%00',
  '%',
  'x'.repeat(3_000),
  '%F0%9F%A7%B5',
  '-1',
  '1e9',
  ' ',
  '__proto__',
];

/** Requests for one operation: right ones, slightly wrong ones, nonsense. */
export function requestsFor(
  document: ApiDocument,
  path: string,
  method: string,
  known: Known,
): fc.Arbitrary<FuzzRequest> {
  const described = document.paths[path]![method]!;
  return fc
    .tuple(addresses(document, path, described, known), bodies(document, described, known))
    .map(([address, { type, body }]) => ({ method: method.toUpperCase(), address, type, body }));
}

function named(document: ApiDocument): (reference: string) => Schema {
  return (reference) => document.components.schemas[reference.split('/').at(-1)!] as Schema;
}

function addresses(
  document: ApiDocument,
  path: string,
  { parameters = [] }: DocumentedOperation,
  known: Known,
): fc.Arbitrary<string> {
  const inPath = parameters.filter((parameter) => parameter.in === 'path');
  const inQuery = parameters.filter((parameter) => parameter.in === 'query');
  const part = (name: string): fc.Arbitrary<string> => {
    const strange = fc.oneof(
      fc.constantFrom(...STRANGE_PARTS),
      // Half a letter can't be written in an address at all.
      fc.string({ unit: 'grapheme', minLength: 1, maxLength: 20 }).map(encodeURIComponent),
    );
    const right = known.ids[name === 'id' && path.startsWith('/api/lays') ? 'lay' : name] ?? [];
    return right.length === 0
      ? strange
      : fc.oneof({ weight: 5, arbitrary: fc.constantFrom(...right) }, strange);
  };
  const value = (name: string, schema: object): fc.Arbitrary<string> => {
    const made = fromSchema(schema as Schema, named(document)).map((some) => encode(String(some)));
    const led = known.ids[name];
    const right = led ? fc.oneof({ weight: 3, arbitrary: fc.constantFrom(...led) }, made) : made;
    return fc.oneof(
      { weight: 4, arbitrary: right },
      { weight: 1, arbitrary: fc.constantFrom(...STRANGE_PARTS, '') },
    );
  };
  const query = fc.record(
    Object.fromEntries(inQuery.map(({ name, schema }) => [name, value(name, schema)])),
    {
      requiredKeys: [],
      noNullPrototype: true,
    },
  );
  return fc
    .tuple(fc.record(Object.fromEntries(inPath.map(({ name }) => [name, part(name)]))), query, fc.nat(20))
    .map(([parts, asked, luck]) => {
      const place = path.replaceAll(/\{(\w+)\}/g, (_, name) => (parts as Record<string, string>)[name]!);
      const said = Object.entries(asked).map(([name, text]) => `${name}=${text}`);
      if (luck === 0) said.push('unheard=of', ...said);
      return said.length === 0 ? place : `${place}?${said.join('&')}`;
    });
}

/** As `encodeURIComponent`, which throws for half a letter: that becomes the sign for what can't be read. */
function encode(text: string): string {
  return encodeURIComponent(Buffer.from(text).toString());
}

function bodies(
  document: ApiDocument,
  { requestBody }: DocumentedOperation,
  known: Known,
): fc.Arbitrary<Pick<FuzzRequest, 'type' | 'body'>> {
  if (requestBody === undefined) return fc.constant({ type: undefined, body: undefined });
  const [[type, { schema }]] = Object.entries(requestBody.content) as [[string, { schema: Schema }]];
  if (!type.endsWith('json')) {
    const cut = fc.nat(known.bytes.length).map((length) => known.bytes.subarray(0, length));
    const any = fc.uint8Array({ maxLength: 60 });
    return fc.oneof(fc.constant(known.bytes), cut, any).map((body) => ({ type, body }));
  }
  const right = fromSchema(schema, named(document));
  const wrong = right.chain(damaged);
  const nonsense = fc.oneof(
    fc.string({ maxLength: 40 }),
    fc.constantFrom('', '{', 'null', '[]', '1e999', '{"a":1,"a":2}'),
  );
  return fc.oneof(
    { weight: 4, arbitrary: right.map((value) => ({ type, body: JSON.stringify(value) })) },
    { weight: 4, arbitrary: wrong.map((value) => ({ type, body: JSON.stringify(value) ?? '' })) },
    { weight: 1, arbitrary: nonsense.map((body) => ({ type, body })) },
    {
      weight: 1,
      arbitrary: fc.constantFrom('text/plain', 'application/json; charset=utf-7', 'x').map((other) => ({
        type: other,
        body: '{}',
      })),
    },
  );
}
