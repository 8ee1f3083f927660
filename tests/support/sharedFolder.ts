import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The repository's root, with a trailing slash. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/**
 * Path of the folder of open check data that may lie beside the repository, or null where it doesn't. Tests that
 * need it skip with the reason in their name.
 */
export function sharedFolder(): string | null {
  const folder = fileURLToPath(new URL('../../../shared/', import.meta.url));
  return existsSync(`${folder}benchmarks`) ? folder : null;
}
