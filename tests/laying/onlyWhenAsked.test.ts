import { expect, it } from 'vitest';
import { read, referencesOf } from '../house/sources.ts';

/** Packages that are loaded with this file, through whatever it imports; what is imported while running is left out. */
function loadedWith(start: string): Set<string> {
  const packages = new Set<string>();
  const seen = new Set<string>();
  const visit = (path: string): void => {
    if (seen.has(path)) return;
    seen.add(path);
    const source = read(path).replace(/\bimport\([^)]*\)/g, 'undefined');
    for (const { to, kind, typeOnly } of referencesOf(path, source)) {
      if (typeOnly) continue;
      if (kind === 'package') packages.add(to);
      else if (kind === 'file' && to.endsWith('.ts')) visit(to);
    }
  };
  visit(start);
  return packages;
}

it('the queue in Redis and its packages are loaded only where they are asked for', () => {
  for (const start of ['server/index.ts', 'server/cli/index.ts']) {
    const packages = loadedWith(start);
    expect(packages).toContain('zod');
    expect(packages).not.toContain('bullmq');
    expect(packages).not.toContain('ioredis');
  }
  expect(loadedWith('server/laying/shared/sharedLays.ts')).toContain('bullmq');
  expect(loadedWith('server/cli/work.ts')).toContain('bullmq');
});
