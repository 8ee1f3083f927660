import fc from 'fast-check';

/** What of JSON Schema (2020-12) the API's document uses. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly allOf?: readonly Schema[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | Schema;
  readonly propertyNames?: Schema;
  readonly items?: boolean | Schema;
  readonly prefixItems?: readonly Schema[];
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly pattern?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly exclusiveMaximum?: number;
}

/** Longer lists than this say nothing new, and most of their parts would be faulty in some way. */
const MOST_ITEMS = 4;
const MOST_LETTERS = 12;
/** Beyond so many levels only what must be there is made. */
const DEEPEST = 9;

/** Values that a schema allows, small ones first; `named` gives the schemas it refers to. */
export function fromSchema(
  schema: Schema,
  named: (reference: string) => Schema,
  depth = 0,
): fc.Arbitrary<unknown> {
  const of = (part: Schema): fc.Arbitrary<unknown> => fromSchema(part, named, depth + 1);
  if (schema.$ref !== undefined) return of(named(schema.$ref));
  if ('const' in schema) return fc.constant(schema.const);
  if (schema.enum !== undefined) return fc.constantFrom(...schema.enum);
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined) return fc.oneof(...choices.map(of));
  if (schema.allOf !== undefined) {
    return fc.tuple(...schema.allOf.map(of)).map((parts) => Object.assign({}, ...(parts as object[])));
  }
  if (typeof schema.type === 'object') return fc.oneof(...schema.type.map((type) => of({ ...schema, type })));
  switch (schema.type) {
    case 'object':
      return objects(schema, of, depth);
    case 'array':
      return arrays(schema, of, depth);
    case 'string':
      return strings(schema);
    case 'number':
      return numbers(schema);
    case 'integer':
      return wholeNumbers(schema);
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    default:
      return fc.jsonValue({ maxDepth: 1 });
  }
}

function objects(
  schema: Schema,
  of: (part: Schema) => fc.Arbitrary<unknown>,
  depth: number,
): fc.Arbitrary<unknown> {
  const { properties = {}, required = [], additionalProperties, propertyNames } = schema;
  const wanted = Object.entries(properties).filter(([name]) => depth < DEEPEST || required.includes(name));
  const known = fc.record(Object.fromEntries(wanted.map(([name, part]) => [name, of(part)])), {
    requiredKeys: wanted.map(([name]) => name).filter((name) => required.includes(name)),
    noNullPrototype: true,
  });
  if (typeof additionalProperties !== 'object' || depth >= DEEPEST) return known;
  const names = propertyNames === undefined ? strings({}) : (of(propertyNames) as fc.Arbitrary<string>);
  const others = fc.dictionary(names as fc.Arbitrary<string>, of(additionalProperties), {
    maxKeys: 2,
    noNullPrototype: true,
  });
  return fc.tuple(others, known).map(([more, some]) => ({ ...more, ...some }));
}

function arrays(
  schema: Schema,
  of: (part: Schema) => fc.Arbitrary<unknown>,
  depth: number,
): fc.Arbitrary<unknown> {
  const { prefixItems = [], items, minItems = 0, maxItems = Number.POSITIVE_INFINITY } = schema;
  const first = fc.tuple(...prefixItems.map(of));
  if (items === false || (items === undefined && prefixItems.length > 0)) return first;
  const least = Math.max(0, minItems - prefixItems.length);
  const most = Math.min(maxItems, Math.max(least, depth >= DEEPEST ? 0 : MOST_ITEMS));
  const rest = fc.array(of(typeof items === 'object' ? items : {}), { minLength: least, maxLength: most });
  return fc.tuple(first, rest).map(([some, more]) => [...some, ...more]);
}

function strings({
  minLength = 0,
  maxLength = Number.POSITIVE_INFINITY,
  pattern,
}: Schema): fc.Arbitrary<string> {
  if (pattern !== undefined) {
    return fc
      .stringMatching(new RegExp(pattern, 'u'))
      .filter(({ length }) => length >= minLength && length <= maxLength);
  }
  const most = Math.max(minLength, Math.min(maxLength, MOST_LETTERS));
  // Few names, so that parts happen to refer to each other; else any letters at all, of any script.
  const names = fc
    .constantFrom('a', 'b', 'main')
    .filter(({ length }) => length >= minLength && length <= maxLength);
  const any = fc
    .string({ unit: 'binary', minLength, maxLength: most })
    .filter(({ length }) => length >= minLength && length <= maxLength);
  return fc.oneof({ weight: minLength > 4 ? 0 : 3, arbitrary: names }, { weight: 1, arbitrary: any });
}

function numbers(schema: Schema): fc.Arbitrary<number> {
  const [min, max] = bounds(schema);
  const usual = fc.double({
    min: Math.max(min, -1_000),
    max: Math.max(min, Math.min(max, 1_000)),
    noNaN: true,
    noDefaultInfinity: true,
    minExcluded: min === schema.exclusiveMinimum,
    maxExcluded: max === schema.exclusiveMaximum && max <= 1_000,
  });
  const whole = wholeNumbers(schema);
  const any = fc.double({
    min,
    max,
    noNaN: true,
    noDefaultInfinity: true,
    minExcluded: min === schema.exclusiveMinimum,
    maxExcluded: max === schema.exclusiveMaximum,
  });
  return fc.oneof(
    { weight: 3, arbitrary: whole },
    { weight: 3, arbitrary: usual },
    { weight: 1, arbitrary: any },
  );
}

function wholeNumbers(schema: Schema): fc.Arbitrary<number> {
  const [min, max] = bounds(schema);
  const least = Math.ceil(min === schema.exclusiveMinimum ? min + Number.EPSILON : min);
  const most = Math.max(least, Math.floor(max));
  const clamp = (value: number): number => Math.min(most, Math.max(least, value));
  return fc.oneof(
    { weight: 4, arbitrary: fc.integer({ min: clamp(-5), max: clamp(500) }) },
    { weight: 1, arbitrary: fc.constantFrom(least, most) },
  );
}

function bounds(schema: Schema): [number, number] {
  const { minimum, maximum, exclusiveMinimum, exclusiveMaximum } = schema;
  return [
    Math.max(minimum ?? -1e15, exclusiveMinimum ?? -1e15),
    Math.min(maximum ?? 1e15, exclusiveMaximum ?? 1e15),
  ];
}
