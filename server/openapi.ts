import { STATUS_CODES } from 'node:http';
import { z } from 'zod';
import { restoreReportSchema } from '../pattern/exchange/backup.ts';
import { designerTableSchema, tableSheetsSchema } from '../pattern/exchange/designerTable.ts';
import {
  layRequestSchema,
  layStateSchema,
  noticeSchema,
  problemDetailsSchema,
  projectSummarySchema,
  projectWriteSchema,
  storedProjectSchema,
} from '../pattern/exchange/lay.ts';
import {
  clothLaySchema,
  clothSchema,
  cutRowSchema,
  layChoiceSchema,
  materialSchema,
  pieceSchema,
  planSchema,
  projectSchema,
} from '../pattern/exchange/project.ts';
import {
  shelfChangedSchema,
  shelfChangeSchema,
  shelfEntrySchema,
  shelfItemSchema,
  shelfSchema,
} from '../pattern/exchange/shelf.ts';
import { sessionStateSchema, signInSchema } from '../pattern/exchange/signIn.ts';
import {
  binnedProjectSchema,
  binSchema,
  layAcceptedSchema,
  projectCreateSchema,
  projectListSchema,
  staleWriteProblemSchema,
} from '../pattern/exchange/storedProject.ts';
import type { Answer, Operation } from './http/operation.ts';
import { healthSchema } from './routes/health.ts';

/** Every shape that has a name in the document; one that an operation uses must be among them. */
const NAMED: Readonly<Record<string, z.ZodType>> = {
  Project: projectSchema,
  Piece: pieceSchema,
  Material: materialSchema,
  CutRow: cutRowSchema,
  Cloth: clothSchema,
  LayChoice: layChoiceSchema,
  ClothLay: clothLaySchema,
  Plan: planSchema,
  ProjectCreate: projectCreateSchema,
  ProjectWrite: projectWriteSchema,
  StoredProject: storedProjectSchema,
  ProjectSummary: projectSummarySchema,
  ProjectList: projectListSchema,
  BinnedProject: binnedProjectSchema,
  Bin: binSchema,
  ShelfItem: shelfItemSchema,
  ShelfEntry: shelfEntrySchema,
  ShelfChange: shelfChangeSchema,
  Shelf: shelfSchema,
  ShelfChanged: shelfChangedSchema,
  TableSheets: tableSheetsSchema,
  DesignerTable: designerTableSchema,
  LayRequest: layRequestSchema,
  LayAccepted: layAcceptedSchema,
  LayState: layStateSchema,
  Notice: noticeSchema,
  Health: healthSchema,
  SignIn: signInSchema,
  SessionState: sessionStateSchema,
  RestoreReport: restoreReportSchema,
  Problem: problemDetailsSchema,
  StaleWriteProblem: staleWriteProblemSchema,
};

/** What is sent may leave out what has a default; what comes back has it all. So each shape may exist twice. */
type Direction = 'input' | 'output';

const nameIn = (name: string, direction: Direction): string => (direction === 'input' ? `${name}Sent` : name);

const reference = (name: string, direction: Direction): string =>
  `#/components/schemas/${nameIn(name, direction)}`;

/** Problems any operation may answer with; 401 and 429 where the server asks for a password. */
const ALWAYS = [401, 421, 429, 500];
/** Further ones of a write, and of a write with a body. */
const OF_WRITES = [403];
const OF_BODIES = [400, 413, 415];

type Json = Record<string, unknown>;

/** The whole API as an OpenAPI 3.1 document, made from the same schemas that check requests. */
export function openApiDocument(operations: readonly Operation[], version: string): Json {
  const paths: Record<string, Json> = {};
  for (const entry of operations) {
    paths[entry.path] = { ...paths[entry.path], [entry.method]: describe(entry) };
  }
  return {
    openapi: '3.1.1',
    info: {
      title: 'clothlay',
      version,
      description:
        'Pieces and cloths in, lay plans out. Lengths are millimetres, angles degrees counter-clockwise, ' +
        'money whole cents. Errors are problem details (RFC 9457).',
      license: { name: 'MIT', identifier: 'MIT' },
    },
    servers: [{ url: '/' }],
    paths,
    components: {
      schemas: usedSchemas(paths),
      securitySchemes: {
        session: { type: 'apiKey', in: 'cookie', name: 'clothlay' },
        bearer: { type: 'http', scheme: 'bearer' },
      },
    },
    // Any of them: the loopback address asks for nothing.
    security: [{}, { session: [] }, { bearer: [] }],
  };
}

function describe(entry: Operation): Json {
  const parameters = [
    ...Object.entries(entry.parameters ?? {}).map(([name, description]) => ({
      name,
      in: 'path',
      required: true,
      description,
      schema: { type: 'string' },
    })),
    ...queryParameters(entry.query),
  ];
  return {
    operationId: entry.id,
    summary: entry.summary,
    ...(parameters.length > 0 ? { parameters } : {}),
    ...(entry.body === undefined ? {} : { requestBody: requestBody(entry.body) }),
    ...(entry.upload === undefined
      ? {}
      : { requestBody: { required: true, content: { [entry.upload.mediaType]: {} } } }),
    responses: responses(entry),
  };
}

function queryParameters(query: z.ZodObject | undefined): Json[] {
  if (query === undefined) return [];
  return Object.entries(query.shape).map(([name, schema]) => {
    const { $schema: _dialect, description, ...rest } = z.toJSONSchema(schema as z.ZodType, { io: 'input' });
    return { name, in: 'query', required: false, description, schema: rest };
  });
}

function requestBody(body: z.ZodType): Json {
  const schema = { $ref: reference(nameOf(body), 'input') };
  return { required: true, content: { 'application/json': { schema } } };
}

function responses(entry: Operation): Json {
  const all: Json = {};
  for (const [status, answer] of Object.entries(entry.answers)) all[status] = answerOf(answer);
  const statuses = new Set([
    ...ALWAYS,
    ...(entry.problems ?? []),
    ...(entry.method === 'get' ? [] : OF_WRITES),
    ...(entry.body === undefined && entry.upload === undefined ? [] : OF_BODIES),
    // A part of the address that can't be decoded is none at all.
    ...(entry.query === undefined && !entry.path.includes('{') ? [] : [400]),
  ]);
  for (const status of [...statuses].sort()) {
    const schema = { $ref: reference(status === 409 ? 'StaleWriteProblem' : 'Problem', 'output') };
    all[status] = {
      description: STATUS_CODES[status],
      content: { 'application/problem+json': { schema } },
    };
  }
  return all;
}

function answerOf(answer: Answer): Json {
  const headers = Object.entries(answer.headers ?? {}).map(([name, description]) => [
    name,
    { description, required: true, schema: { type: 'string' } },
  ]);
  return {
    description: answer.description,
    ...(headers.length > 0 ? { headers: Object.fromEntries(headers) } : {}),
    ...contentOf(answer),
  };
}

function contentOf({ schema, mediaType }: Answer): Json {
  if (schema !== undefined) {
    return { content: { 'application/json': { schema: { $ref: reference(nameOf(schema), 'output') } } } };
  }
  if (mediaType === undefined) return {};
  const isJson = mediaType === 'application/json';
  return { content: { [mediaType]: { schema: { type: isJson ? 'object' : 'string' } } } };
}

function nameOf(schema: z.ZodType): string {
  const name = Object.keys(NAMED).find((key) => NAMED[key] === schema);
  if (name === undefined) throw new Error('a schema used by an operation has no name in the API document');
  return name;
}

/** The named shapes that the paths lead to, directly or through others. */
function usedSchemas(paths: Json): Json {
  const all = { ...schemasIn('input'), ...schemasIn('output') };
  const used: Json = {};
  const visit = (value: unknown): void => {
    for (const [, name] of JSON.stringify(value).matchAll(/"\$ref":"#\/components\/schemas\/(\w+)"/g)) {
      if (name === undefined || name in used) continue;
      used[name] = all[name];
      visit(all[name]);
    }
  };
  visit(paths);
  return Object.fromEntries(Object.entries(used).sort(([one], [other]) => one.localeCompare(other)));
}

function schemasIn(direction: Direction): Json {
  const registry = z.registry<{ id: string }>();
  for (const [name, schema] of Object.entries(NAMED)) registry.add(schema, { id: name });
  const { schemas } = z.toJSONSchema(registry, {
    io: direction,
    uri: (name) => reference(name, direction),
    override: ({ jsonSchema }) => {
      // Says "immutable in our code"; in an API document it would mean "never to be sent".
      delete jsonSchema.readOnly;
    },
  });
  return Object.fromEntries(
    Object.entries(schemas).map(([name, { $schema: _dialect, $id: _address, ...schema }]) => [
      nameIn(name, direction),
      schema,
    ]),
  );
}
