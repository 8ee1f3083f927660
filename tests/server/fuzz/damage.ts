import fc from 'fast-check';

type Json = null | boolean | number | string | readonly Json[] | { readonly [name: string]: Json };

/** What nobody would send who means well. */
const STRANGE: readonly Json[] = [
  null,
  true,
  '',
  'x'.repeat(5_000),
  '\0',
  '\ud800',
  '../../etc/hosts',
  "'; DROP TABLE projects; --",
  '<script>',
  -1,
  -0,
  0.5,
  1e308,
  Number.MAX_SAFE_INTEGER + 2,
  [],
  {},
  [[[[[[[[[]]]]]]]]],
  { __proto__: null } as unknown as Json,
  Array.from({ length: 3_000 }, () => 0),
];

/** The value with one part replaced, left out, doubled or added; which one is chosen by `place`. */
export function damaged(value: unknown): fc.Arbitrary<unknown> {
  return fc
    .tuple(fc.nat(), fc.constantFrom(...STRANGE), fc.constantFrom('replace', 'drop', 'double', 'add'))
    .map(([place, strange, how]) => {
      const paths = pathsIn(value as Json);
      return changedAt(value as Json, paths[place % paths.length]!, strange, how);
    });
}

function pathsIn(value: Json): string[][] {
  const paths: string[][] = [[]];
  if (typeof value !== 'object' || value === null) return paths;
  for (const [name, part] of Object.entries(value)) {
    for (const path of pathsIn(part as Json)) paths.push([name, ...path]);
  }
  return paths;
}

function changedAt(value: Json, path: readonly string[], strange: Json, how: string): unknown {
  const [name, ...rest] = path;
  if (name === undefined || typeof value !== 'object' || value === null) return strange;
  const entries = Object.entries(value as Record<string, Json>).flatMap(
    ([key, part]): [string, unknown][] => {
      if (key !== name) return [[key, part]];
      if (rest.length > 0) return [[key, changedAt(part, rest, strange, how)]];
      if (how === 'drop') return [];
      if (how === 'double')
        return [
          [key, part],
          [`${key}2`, part],
        ];
      if (how === 'add')
        return [
          [key, part],
          ['constructor', strange],
        ];
      return [[key, strange]];
    },
  );
  return Array.isArray(value) ? entries.map(([, part]) => part) : Object.fromEntries(entries);
}
