/** Walks two trees of words side by side: texts, functions that make texts, lists, objects. */

export interface WordPair {
  readonly path: string;
  readonly one: unknown;
  readonly other: unknown;
}

/** Every leaf that either tree has, with what stands in its place in the other (`undefined`: nothing). */
export function pairsOf(one: unknown, other: unknown, path = ''): WordPair[] {
  if (!isBranch(one) || !isBranch(other)) return [{ path, one, other }];
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...keys].flatMap((key) => pairsOf(one[key], other[key], path === '' ? key : `${path}.${key}`));
}

function isBranch(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

export interface Said {
  readonly text: string;
  /** Which of the arguments stand in the text, by their number. */
  readonly mentions: readonly number[];
}

type Kind = 'text' | 'number' | 'list';
const KINDS: readonly Kind[] = ['text', 'number', 'list'];

const argument = (kind: Kind, index: number): unknown => {
  if (kind === 'number') return 7001 + 11 * index;
  return kind === 'text' ? `⟦${index}⟧` : [`⟦${index}⟧`, `⟦${index}+⟧`];
};

const isMentioned = (text: string, kind: Kind, index: number): boolean =>
  text.includes(kind === 'number' ? String(7001 + 11 * index) : `⟦${index}⟧`);

/** What a function of words says to arguments of one choice of kinds, or null where it can't take them. */
function say(words: unknown, kinds: readonly Kind[]): Said | null {
  try {
    const text: unknown = (words as (...args: unknown[]) => unknown)(...kinds.map(argument));
    const flat = Array.isArray(text) ? text.join(' ') : text;
    if (typeof flat !== 'string' || /undefined|NaN|\[object/.test(flat)) return null;
    return { text: flat, mentions: kinds.flatMap((kind, i) => (isMentioned(flat, kind, i) ? [i] : [])) };
  } catch {
    return null;
  }
}

/** What both functions say to every choice of kinds of arguments that both can take. */
export function saidByBoth(one: unknown, other: unknown): readonly (readonly [Said, Said])[] {
  const arity = Math.max((one as { length: number }).length, (other as { length: number }).length);
  let choices: Kind[][] = [[]];
  for (let i = 0; i < arity; i++) choices = choices.flatMap((kinds) => KINDS.map((kind) => [...kinds, kind]));
  return choices.flatMap((kinds) => {
    const [a, b] = [say(one, kinds), say(other, kinds)];
    return a && b ? [[a, b] as const] : [];
  });
}
