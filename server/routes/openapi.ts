import { type Operation, operation } from '../http/operation.ts';
import { openApiDocument } from '../openapi.ts';

/** The API's description of itself; `all` are the other operations. */
export function openApiOperations(all: readonly Operation[], version: string): Operation[] {
  const self: Operation = operation(
    {
      method: 'get',
      path: '/api/openapi.json',
      id: 'readApiDocument',
      summary: 'This document (OpenAPI 3.1)',
      answers: { 200: { description: 'The document', mediaType: 'application/json' } },
    },
    (_checked, response) => {
      response.json(document);
    },
  );
  const document = openApiDocument([...all, self], version);
  return [self];
}
