import { readdirSync, readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { dirname, join, normalize } from 'node:path/posix';
import { ROOT } from '../support/sharedFolder.ts';

/** What the house tests know of the repository's files. Paths are relative to the root, with forward slashes. */

const NOT_OURS = new Set(['node_modules', 'dist', 'data', '.git', 'coverage']);

/** All files but installed, built and stored ones. */
export function allFiles(folder = ''): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    // `.git` is a file where several branches are checked out side by side.
    if (NOT_OURS.has(entry.name)) return [];
    if (entry.isDirectory()) return allFiles(path);
    return entry.isFile() ? [path] : [];
  });
}

export function sourceFiles(): string[] {
  return allFiles().filter((path) => /\.(ts|tsx|mts|mjs|js)$/.test(path));
}

export function read(path: string): string {
  return readFileSync(join(ROOT, path), 'utf8');
}

/** Source text with its comments blanked; strings and line breaks stay where they are. */
export function withoutComments(source: string): string {
  const token = /'(?:\\.|[^'\\\n])*'|"(?:\\.|[^"\\\n])*"|`(?:\\.|[^`\\])*`|\/\*[\s\S]*?\*\/|\/\/[^\n]*/g;
  return source.replace(token, (found) =>
    found.startsWith('/*') || found.startsWith('//') ? found.replace(/[^\n]/g, ' ') : found,
  );
}

/** One reference from a file to another file or package. */
export interface Reference {
  /** A path within the repository, a package or a Node builtin (`node:…`). */
  readonly to: string;
  readonly kind: 'file' | 'package' | 'node';
  /** `import type` or `export type`: gone when the program runs, but a dependence all the same. */
  readonly typeOnly: boolean;
}

/** All imports, re-exports, dynamic imports with a literal, and `new URL('…', import.meta.url)` of one source. */
export function referencesOf(path: string, source: string): Reference[] {
  const code = withoutComments(source);
  const found: Reference[] = [];
  const add = (specifier: string, typeOnly: boolean) => found.push({ ...resolve(path, specifier), typeOnly });
  for (const [, typeOnly, specifier] of code.matchAll(
    /\b(?:import|export)\s+(type\s)?(?:[\w*{}\s,$]+?\sfrom\s*)?['"]([^'"]+)['"]/g,
  ))
    add(specifier!, Boolean(typeOnly));
  for (const [, specifier] of code.matchAll(/\b(?:import|require|resolve)\(\s*['"`]([^'"`]+)['"`]/g))
    add(specifier!, false);
  for (const [, argument] of code.matchAll(/\bnew\s+URL\(([^;]*?),\s*import\.meta\.url\s*,?\s*\)/g)) {
    // Folders and data (a built page, a licence) are places, not code: only source files make a dependence.
    for (const [, literal] of argument!.matchAll(/['"`](\.{1,2}\/[^'"`]*\.[cm]?[jt]sx?)['"`]/g))
      add(literal!, false);
  }
  return found;
}

const BUILTINS = new Set(builtinModules);

function resolve(from: string, specifier: string): Pick<Reference, 'to' | 'kind'> {
  if (specifier.startsWith('.')) return { to: normalize(join(dirname(from), specifier)), kind: 'file' };
  if (specifier.startsWith('node:') || BUILTINS.has(specifier)) return { to: specifier, kind: 'node' };
  const parts = specifier.split('/');
  return { to: parts.slice(0, specifier.startsWith('@') ? 2 : 1).join('/'), kind: 'package' };
}
