import { readFileSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Whether this is the built program, whose files lie in `dist/server`, and not the sources. */
export function isBuilt(): boolean {
  return basename(dirname(dirname(fileURLToPath(import.meta.url)))) === 'dist';
}

/** The version in package.json. */
export function programVersion(): string {
  const file = new URL(isBuilt() ? '../../package.json' : '../package.json', import.meta.url);
  const { version } = JSON.parse(readFileSync(file, 'utf8')) as { version: string };
  return version;
}
