import type { Token } from './tokens.ts';
import { MATERIAL_BEFORE, MATERIAL_WORD, SQUARE_WORDS } from './words.ts';

/** The words of a line that are neither sides nor counts. */
export interface WordsAround {
  /** Empty if there are none. */
  readonly name: string;
  readonly material?: string;
}

interface Fragment {
  readonly text: string;
  readonly bracketed: boolean;
  /** After a comma, a dash or a colon. */
  readonly apart: boolean;
  readonly afterSides: boolean;
  /** Right after the word "in" that was read as inches. */
  readonly afterIn: boolean;
}

interface Range {
  readonly from: number;
  readonly to: number;
}

/**
 * Name and material out of what is left of a line. Words before the sides are the name. After them: a material if they
 * are bracketed, follow "in", "from", "aus" or "material:", are the name of a known one, or stand apart when there
 * is a name already; else the name, or more of it.
 */
export function leftOver(
  text: string,
  tokens: readonly Token[],
  used: readonly Range[],
  sides: Range & { readonly square: boolean },
  knownMaterials: readonly string[],
): WordsAround {
  const known = new Map(knownMaterials.map((name) => [name.trim().toLowerCase(), name.trim()]));
  const names: string[] = [];
  let material: string | undefined;
  let announced = false;
  for (const fragment of fragmentsOf(text, tokens, used, sides)) {
    const knownName = known.get(fragment.text.toLowerCase());
    const prefix = fragment.afterSides ? MATERIAL_BEFORE.exec(fragment.text)?.[0] : undefined;
    if (fragment.afterSides && MATERIAL_WORD.test(fragment.text)) {
      announced = true;
      continue;
    }
    const isMaterial = announced
      ? true
      : knownName !== undefined
        ? fragment.afterSides || fragment.bracketed || fragment.apart
        : fragment.afterSides &&
          (fragment.bracketed ||
            prefix !== undefined ||
            (names.length > 0 && (fragment.apart || fragment.afterIn)));
    announced = false;
    const bare = fragment.text.slice(prefix?.length ?? 0).trim();
    if (isMaterial && material === undefined && bare !== '') {
      material = knownName ?? known.get(bare.toLowerCase()) ?? bare;
    } else names.push(fragment.bracketed ? `(${fragment.text})` : fragment.text);
  }
  return { name: names.join(' '), ...(material === undefined ? {} : { material }) };
}

function fragmentsOf(
  text: string,
  tokens: readonly Token[],
  used: readonly Range[],
  sides: Range & { readonly square: boolean },
): Fragment[] {
  const isUsed = (index: number): boolean => used.some(({ from, to }) => from <= index && index < to);
  const fragments: Fragment[] = [];
  let open: { start: number; end: number } | null = null;
  let bracketed = false;
  let apart = false;
  let afterSides = false;
  let afterIn = false;
  const close = (): void => {
    if (open) {
      const words = tidy(text.slice(open.start, open.end));
      if (words !== '') fragments.push({ text: words, bracketed, apart, afterSides, afterIn });
      apart = false;
      afterIn = false;
    }
    open = null;
  };
  tokens.forEach((token, index) => {
    if (index === sides.to) {
      close();
      afterSides = true;
      const last = tokens[index - 1];
      afterIn = last?.kind === 'number' && /[\s\d]in$/iu.test(text.slice(last.start, last.end));
    }
    const sign = token.kind === 'sign' ? token.sign : '';
    if (isUsed(index) || (token.kind === 'word' && SQUARE_WORDS.has(token.word) && sides.square)) close();
    else if ('([{'.includes(sign) && sign !== '') {
      close();
      bracketed = true;
    } else if (')]}'.includes(sign) && sign !== '') {
      close();
      bracketed = false;
    } else if (isBreak(text, token, sign)) {
      close();
      apart = true;
    } else if (open) open.end = token.end;
    else open = { start: token.start, end: token.end };
  });
  close();
  return fragments;
}

/** Commas and colons divide; a dash only with blanks about it. */
function isBreak(text: string, token: Token, sign: string): boolean {
  if ([',', ';', ':', '|', '=', '@'].includes(sign)) return true;
  return ['-', '–', '—'].includes(sign) && /\s/u.test(text.charAt(token.end) || ' ');
}

/** Without quotes, dashes and stops at the ends; blanks single. */
function tidy(words: string): string {
  return words
    .replace(/\s+/gu, ' ')
    .replace(/^[\s"'“”„‚‘’«».\-–—/&+#]+|[\s"'“”„‚‘’«».\-–—/&+#]+$/gu, '')
    .replace(/^(?:of|each|ea|je|à)(?:\s+|$)/iu, '')
    .trim();
}
