import { describe, expect, test } from 'vitest';
import { forbidden, roomOf } from './rooms.ts';
import { read, referencesOf, sourceFiles, withoutComments } from './sources.ts';

const files = sourceFiles().filter((path) => roomOf(path) && !/\.config\.\w+$/.test(path));

/** What a pure room must do without: clocks, chance, the process, timers, the network. */
const IMPURE =
  /\b(?:Date\.now|new Date\(\)|Math\.random|performance\b|process\b|crypto\.|setTimeout|setInterval|setImmediate|fetch\(|localStorage|document\.(?:create|query|get))/;

describe('the direction of imports', () => {
  test('every import points the way the rooms allow, type-only ones too', () => {
    const faults = files.flatMap((path) =>
      referencesOf(path, read(path))
        .filter(({ kind }) => kind === 'file')
        .map(({ to, typeOnly }) => ({ path, why: forbidden(roomOf(path)!, to, typeOnly) }))
        .filter(({ why }) => why !== null)
        .map(({ path, why }) => `${path}: ${why}`),
    );
    expect(faults).toEqual([]);
  });

  test('pure rooms know neither Node nor packages beyond their list', () => {
    const faults = files.flatMap((path) => {
      const { pure, packages } = roomOf(path)!;
      return referencesOf(path, read(path))
        .filter(
          ({ kind, to }) =>
            (pure && kind === 'node') ||
            (kind === 'package' && packages !== undefined && !packages.includes(to)),
        )
        .map(({ to }) => `${path}: ${to}`);
    });
    expect(faults).toEqual([]);
  });

  test('the page knows nothing of Node', () => {
    const faults = files
      .filter((path) => path.startsWith('client/'))
      .flatMap((path) =>
        referencesOf(path, read(path)).map(({ kind, to }) => ({ kind, text: `${path}: ${to}` })),
      )
      .filter(({ kind }) => kind === 'node');
    expect(faults).toEqual([]);
  });

  test('pure rooms have no clock, no chance, no process and no network of their own', () => {
    const faults = files
      .filter((path) => roomOf(path)!.pure)
      .flatMap((path) =>
        withoutComments(read(path))
          .split('\n')
          .flatMap((line, i) =>
            IMPURE.test(withoutStrings(line)) ? [`${path}:${i + 1}: ${line.trim()}`] : [],
          ),
      );
    expect(faults).toEqual([]);
  });

  test('a module chosen while running is a matter of the threads alone', () => {
    const faults = files
      .filter((path) => !path.startsWith('nesting/workers/'))
      .filter((path) => /\bimport\(\s*[^'"`\s)]/.test(withoutComments(read(path))));
    expect(faults).toEqual([]);
  });
});

describe('the reader of imports', () => {
  const kinds = (source: string) =>
    referencesOf('pattern/lay/runLay.ts', source).map(
      ({ to, typeOnly }) => `${typeOnly ? 'type ' : ''}${to}`,
    );

  test('sees every form', () => {
    expect(kinds("import { a } from '../units/index.ts';")).toEqual(['pattern/units/index.ts']);
    expect(kinds("import type {\n  A,\n  B,\n} from './a.ts';")).toEqual(['type pattern/lay/a.ts']);
    expect(kinds("import a, * as b from 'zod';\nimport './b.ts';")).toEqual(['zod', 'pattern/lay/b.ts']);
    expect(
      kinds("export type * from './a.ts'; export * from \"./b.ts\"; export { c } from './c.ts'"),
    ).toEqual(['type pattern/lay/a.ts', 'pattern/lay/b.ts', 'pattern/lay/c.ts']);
    expect(kinds("const a = await import('fs'); type B = import('../../server/app.ts').B;")).toEqual([
      'fs',
      'server/app.ts',
    ]);
    expect(kinds("new Worker(new URL('../../server/index.ts', import.meta.url));")).toEqual([
      'server/index.ts',
    ]);
    expect(kinds("new URL(meta.endsWith('.ts') ? './a.ts' : './a.js', import.meta.url)")).toEqual([
      'pattern/lay/a.ts',
      'pattern/lay/a.js',
    ]);
    expect(kinds("// import a from './a.ts';\n/* import './b.ts' */ const text = 'no import';")).toEqual([]);
  });

  test('tells the rooms and their rules', () => {
    const rule = (from: string, to: string, typeOnly = false) => forbidden(roomOf(from)!, to, typeOnly);
    expect(rule('nesting/nfp/noFit.ts', 'nesting/geometry/points.ts')).toBeNull();
    expect(rule('nesting/geometry/points.ts', 'nesting/nfp/noFit.ts', true)).not.toBeNull();
    expect(rule('nesting/verify/verify.ts', 'nesting/packing/types.ts', true)).toBeNull();
    expect(rule('nesting/verify/verify.ts', 'nesting/packing/types.ts', false)).not.toBeNull();
    expect(rule('nesting/verify/verify.ts', 'nesting/geometry/points.ts', true)).not.toBeNull();
    expect(rule('nesting/packing/search.ts', 'nesting/workers/pool.ts', true)).not.toBeNull();
    expect(rule('nesting/workers/pool.ts', 'nesting/guardedSearch.ts')).toBeNull();
    expect(rule('pattern/lay/runLay.ts', 'nesting/cloth/index.ts')).toBeNull();
    expect(rule('pattern/pieces/unfold.ts', 'nesting/cloth/index.ts')).not.toBeNull();
    expect(rule('client/main.tsx', 'nesting/workers/pool.ts', true)).not.toBeNull();
    expect(rule('client/main.tsx', 'server/app.ts', true)).not.toBeNull();
    expect(rule('server/app.ts', 'client/main.tsx')).not.toBeNull();
    expect(rule('server/app.ts', 'tests/support/layouts.ts')).not.toBeNull();
    expect(rule('pattern/demo/demoProject.ts', 'fixtures/projects/demo.json')).not.toBeNull();
  });
});

function withoutStrings(line: string): string {
  return line.replace(/'(?:\\.|[^'\\])*'|"(?:\\.|[^"\\])*"|`(?:\\.|[^`\\])*`/g, "''");
}
