import { describe, expect, it } from 'vitest';
import { de } from '../../client/strings/de.ts';
import { en } from '../../client/strings/en.ts';
import { read, sourceFiles } from './sources.ts';
import { pairsOf, saidByBoth, type WordPair } from './wordPairs.ts';

/** What is rightly the same in both languages: names, signs of units, formats of paper and files, words of both. */
const SAME: ReadonlySet<string> = new Set([
  'app.name',
  'header.unitNames.cm',
  'header.unitNames.mm',
  'common.name',
  'shelf.name',
  'measure.material',
  'take.dxf',
  'take.fullPapers.a0',
  'take.fullPapers.a1',
  'take.fullPapers.a3',
  'take.fullPapers.a4',
  'take.fullPapers.letter',
  'take.fullPapers.tabloid',
  'take.papers.a4',
  'take.papers.letter',
]);

/** Two name another command, which no invented argument does. */
const NEED_A_COMMAND: ReadonlySet<string> = new Set(['session.undid', 'session.redid']);

const ENGLISH =
  /\b(?:the|and|of|to|is|are|with|for|it|its|this|that|from|on|not|no|all|by|be|can|your|you|what|which|cut|piece|pieces|cloth|cloths|save|left|right|fold|grain|lay|length)\b/iu;
/** Makers are not addressed; „Sie“ after a full stop or colon is "they". */
const ADDRESSED = /\b(?:du|dich|dir|deine?[nmrs]?|Ihre?[nmrs]?|Ihnen)\b|(?<=[a-zäöüß,] )Sie\b/u;
/** Quotation marks other than „…“. */
const FOREIGN_QUOTES = /”|"|(?<!„[^“]*)“/u;

describe('the words of the page', () => {
  const { lang: _en, ...english } = en;
  const { lang: _de, ...german } = de;
  const pairs = pairsOf(english, german);
  const parts = [...new Set(pairs.map(({ path }) => path.split('.')[0] ?? ''))];

  it.each(parts)('%s: German in German, with the same things in the same places', (part) => {
    for (const pair of pairs.filter(({ path }) => path.split('.')[0] === part)) compare(pair);
  });

  it('list as the same only what there is', () => {
    const paths = new Set(pairs.map(({ path }) => path));
    expect([...SAME, ...NEED_A_COMMAND].filter((path) => !paths.has(path))).toEqual([]);
  });
});

function compare({ path, one, other }: WordPair): void {
  expect(typeof other, path).toBe(typeof one);
  if (typeof one !== 'function') {
    expect(other === one && one !== '', `${path} is the same: "${one}"`).toBe(SAME.has(path));
    checkGerman(path, String(other));
    return;
  }
  const both = saidByBoth(one, other);
  if (!NEED_A_COMMAND.has(path)) expect(both.length, path).toBeGreaterThan(0);
  for (const [english, german] of both) {
    expect(german.mentions, `${path}: "${english.text}", "${german.text}"`).toEqual(english.mentions);
    checkGerman(path, german.text);
  }
}

function checkGerman(path: string, text: string): void {
  for (const wrong of [ENGLISH, ADDRESSED, FOREIGN_QUOTES]) {
    expect(wrong.exec(text)?.[0], `${path}: "${text}"`).toBeUndefined();
  }
}

describe('lengths on the page', () => {
  it('are written in its language: views take the formatters of client/strings', () => {
    const own = sourceFiles().filter(
      (path) => path.startsWith('client/') && path !== 'client/strings/lengths.ts',
    );
    const direct = own.filter((path) =>
      /import \{[^}]*\bformat[A-Z]\w*[^}]*\} from '[^']*pattern\/units\//.test(read(path)),
    );
    expect(direct).toEqual([]);
  });
});
