import type { CutEntry } from './entry.ts';
import { COUNT_AFTER, PAIR_WORDS, sideWord, unitName } from './words.ts';

/** So many copies from one material. */
export interface Share {
  readonly count: number;
  readonly material: string;
}

/** Counts up to this stand before a material; larger numbers are sizes. */
const MOST = 99;
const SHARE =
  /^(?<count>\d{1,2})\s*(?:[x×]\s*)?(?:(?:in|from|of|out of|aus)\s+)?(?<material>\p{L}[\p{L}\s-]{1,40})$/iu;

/**
 * What stands at the end of a line after commas and gives each material its count: `Body 42 x 28 cm, 1 canvas, 2 lining`.
 * @returns the line without it, and the shares in order; null where it ends otherwise
 */
export function takeShares(
  line: string,
): { readonly text: string; readonly shares: readonly Share[] } | null {
  const parts = line.split(/[,;]\s+|\s+\+\s+/u);
  const shares: Share[] = [];
  while (parts.length > 1) {
    const share = shareOf(parts.at(-1) ?? '');
    if (!share) break;
    shares.unshift(share);
    parts.pop();
  }
  return shares.length === 0 ? null : { text: parts.join(', '), shares };
}

function shareOf(part: string): Share | null {
  const found = SHARE.exec(part.trim().replace(/\.$/u, ''))?.groups;
  const count = Number(found?.count ?? 0);
  const material = (found?.material ?? '').trim().replace(/\s+/gu, ' ');
  if (count < 1 || count > MOST || material === '') return null;
  const isOther = material
    .toLowerCase()
    .split(' ')
    .some(
      (word) =>
        COUNT_AFTER.has(word) ||
        PAIR_WORDS.has(word) ||
        sideWord(word) !== undefined ||
        unitName(word) !== undefined,
    );
  return isOther ? null : { count, material };
}

/** Whether an entry still takes counts: one copy was assumed, and its own line names no material. */
export function isUncounted({ count, countSaid, material }: CutEntry, heading: string | undefined): boolean {
  return count === 1 && countSaid === 'assumed' && material === heading;
}

/**
 * The entry with the counts of the shares, the first as its own.
 * @param marks what the line says of folds and hands, for all shares
 * @param materials names of known materials, taken as they are spelled there
 */
export function withShares(
  entry: CutEntry,
  shares: readonly Share[],
  marks: { readonly onFold: boolean; readonly mirrored: boolean },
  materials: readonly string[],
): CutEntry {
  const [first, ...more] = shares.map(({ count, material }) => {
    const known = materials.find((name) => name.trim().toLowerCase() === material.toLowerCase());
    return { count, material: known?.trim() ?? material };
  });
  return {
    ...entry,
    ...first,
    ...(more.length > 0 ? { more } : {}),
    pair: entry.pair || marks.mirrored,
    onFold: entry.onFold || marks.onFold,
    countSaid: 'said',
  };
}
