import { describe, expect, test } from 'vitest';
import { allFiles, read, withoutComments } from './sources.ts';

const TEXT = /\.(ts|tsx|mts|mjs|js|json|md|css|html|svg|txt|yml|yaml|sh)$|^\.ci\/|^\.[\w.]+$|^LICENSE$/;

describe('the repository', () => {
  test('the lock file names no download addresses', () => {
    const lines = read('package-lock.json').split('\n');
    expect(lines.filter((line) => /"resolved":\s*"http/.test(line))).toEqual([]);
  });

  test('every package has one exact version, and the lock file the hash of what it must be', () => {
    const manifest = JSON.parse(read('package.json')) as Record<string, Record<string, string>>;
    const wanted = { ...manifest.dependencies, ...manifest.devDependencies };
    expect(Object.entries(wanted).filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
    const { packages } = JSON.parse(read('package-lock.json')) as {
      packages: Record<string, { version?: string; integrity?: string; link?: boolean }>;
    };
    const locked = Object.entries(packages).filter(([path]) => path !== '');
    expect(locked.length).toBeGreaterThan(100);
    expect(
      locked.filter(([, { integrity }]) => !/^sha512-/.test(integrity ?? '')).map(([path]) => path),
    ).toEqual([]);
  });

  test('no path of a single machine stands in a file', () => {
    // A leading quote, blank or bracket marks a path of a file system; within an address the name is harmless.
    const machine = /(?:^|[\s'"`(=<>])(?:\/(?:home|root|Users|work|tmp)\/\w|[A-Z]:\\\\?Users)/m;
    const faults = allFiles()
      .filter((path) => TEXT.test(path))
      .filter((path) => machine.test(read(path)));
    expect(faults).toEqual([]);
  });

  test('every test file asserts something, and none is switched off or singled out', () => {
    const tests = allFiles().filter((path) => /^tests\/.*\.test\.tsx?$/.test(path));
    expect(tests.length).toBeGreaterThan(0);
    const code = tests.map((path) => ({ path, text: withoutComments(read(path)) }));
    expect(code.filter(({ text }) => !/\bexpect(?:\.\w+)?\(/.test(text)).map(({ path }) => path)).toEqual([]);
    const switched = /\b(?:test|it|describe)(?:\.\w+)*\.(?:only|todo|fails|skip)\(/;
    expect(code.filter(({ text }) => switched.test(text)).map(({ path }) => path)).toEqual([]);
  });

  test('every test that the security notes name is there', () => {
    const files = new Set(allFiles());
    const rows = read('server/SECURITY.md')
      .split('\n')
      .filter((line) => /^\| \d/.test(line));
    expect(rows.length).toBeGreaterThan(50);
    const named = rows.flatMap((row) =>
      [
        ...row
          .split('|')
          .at(-2)!
          .matchAll(/`([\w/]+)`/g),
      ].map(([, name]) => name!),
    );
    expect(named.length).toBeGreaterThan(60);
    const missing = named.filter(
      (name) => !files.has(`tests/server/${name}.test.ts`) && !files.has(`tests/${name}.test.ts`),
    );
    expect(missing).toEqual([]);
    // Whatever is neither tested nor said to be left out is a gap.
    expect(rows.filter((row) => !/`[\w/]+` *\|$|_Not_|_None_/.test(row))).toEqual([]);
  });

  test('what is skipped for want of check data says so in its name', () => {
    const faults = allFiles()
      .filter((path) => /^tests\/.*\.test\.tsx?$/.test(path))
      .flatMap((path) =>
        [...withoutComments(read(path)).matchAll(/\.skipIf\([\s\S]*?\)\(\s*([^,]*),/g)]
          .filter(
            ([, name]) =>
              !/shared|browser|Chromium|poppler|openssl|mounted|prlimit|data|folder|built/i.test(name!),
          )
          .map(([found]) => `${path}: ${found}`),
      );
    expect(faults).toEqual([]);
  });
});
