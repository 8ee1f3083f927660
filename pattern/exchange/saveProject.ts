import type { Project } from './project.ts';

/** These come first in any object, in this order; the rest follows by the alphabet. */
const FIRST = ['format', 'version', 'kind', 'id', 'name'];

/**
 * The project as the text of a file: JSON, keys always in the same order, points on one line, a newline at the end.
 * The same project gives the same bytes, and a changed number a changed line. Does not judge the project.
 */
export function saveProject(project: Project): string {
  return `${write(project, '')}\n`;
}

/** A name for that file, such as `saddle-roll.clothlay.json`. */
export function projectFileName(project: Pick<Project, 'name'>): string {
  const stem = project.name
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${stem === '' ? 'project' : stem}.clothlay.json`;
}

function write(value: unknown, indent: string): string {
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  const deeper = `${indent} `;
  if (Array.isArray(value)) {
    if (value.length === 0) return '[]';
    if (value.every(isFlat)) return `[${value.map((entry) => write(entry, '')).join(', ')}]`;
    return `[\n${value.map((entry) => deeper + write(entry, deeper)).join(',\n')}\n${indent}]`;
  }
  const lines = Object.entries(value)
    .filter(([, entry]) => entry !== undefined)
    .sort(([a], [b]) => compareKeys(a, b))
    .map(([key, entry]) => `${deeper}${JSON.stringify(key)}: ${write(entry, deeper)}`);
  return lines.length === 0 ? '{}' : `{\n${lines.join(',\n')}\n${indent}}`;
}

/** A number, a word, or a list of numbers such as a point. */
function isFlat(value: unknown): boolean {
  if (Array.isArray(value)) return value.every((entry) => typeof entry === 'number');
  return value === null || typeof value !== 'object';
}

function compareKeys(a: string, b: string): number {
  const rank = (key: string): number => (FIRST.indexOf(key) + FIRST.length + 1) % (FIRST.length + 1);
  const order = rank(a) - rank(b);
  if (order !== 0) return order;
  return a < b ? -1 : 1;
}
