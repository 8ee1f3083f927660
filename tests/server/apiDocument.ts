import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';

/** The API's document, as far as tests read it. */
export interface ApiDocument {
  readonly openapi: string;
  readonly paths: Record<string, Record<string, DocumentedOperation>>;
  readonly components: { readonly schemas: Record<string, object> };
}
export interface DocumentedOperation {
  readonly operationId: string;
  readonly parameters?: readonly {
    readonly name: string;
    readonly in: string;
    readonly required: boolean;
    readonly schema: object;
  }[];
  readonly requestBody?: { readonly content: Record<string, { readonly schema: object }> };
  readonly responses: Record<
    string,
    {
      readonly content?: Record<string, { readonly schema: object }>;
      readonly headers?: Record<string, object>;
    }
  >;
}

/** Checks values by the document's own schemas, read by a validator that knows nothing of where they came from. */
export function validatorOf(document: ApiDocument): (schema: object) => ValidateFunction {
  const ajv = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true });
  ajv.addVocabulary(['components']);
  ajv.addSchema({ $id: 'https://api.example/document', components: document.components });
  return (schema) => {
    const text = JSON.stringify(schema).replaceAll(
      '"#/components',
      '"https://api.example/document#/components',
    );
    return ajv.compile(JSON.parse(text));
  };
}
