import { describe, expect, it } from 'vitest';
import { de } from '../../client/strings/de.ts';
import { en } from '../../client/strings/en.ts';
import { cutListWords } from '../../pattern/cutList/words/index.ts';
import { exchangeWords } from '../../pattern/exchange/words/index.ts';
import { LANGUAGES } from '../../pattern/language.ts';
import { layWords } from '../../pattern/lay/words/index.ts';
import { measureWords } from '../../pattern/measurements/says/index.ts';
import { cuttingWords } from '../../pattern/output/cutting/words/index.ts';
import { outputWords } from '../../pattern/output/words/index.ts';
import { pagesWords } from '../../pattern/pages/words/index.ts';
import { partsWords } from '../../pattern/parts/words/index.ts';
import { photoWords } from '../../pattern/photo/words/index.ts';
import { pieceWords } from '../../pattern/pieces/words/index.ts';
import { planWords } from '../../pattern/plan/words/index.ts';
import { sizeWords } from '../../pattern/proposals/words/index.ts';
import { unitWords } from '../../pattern/units/words/index.ts';
import { stepWords } from '../../pattern/variants/words/index.ts';
import { read, sourceFiles } from './sources.ts';
import { pairsOf, saidByBoth, type WordPair } from './wordPairs.ts';

/** Every collection of words that someone reads, in both languages. */
const COLLECTIONS = {
  page: [en, de],
  plan: [planWords('en'), planWords('de')],
  output: [outputWords('en'), outputWords('de')],
  cutting: [cuttingWords('en'), cuttingWords('de')],
  size: [sizeWords('en'), sizeWords('de')],
  lay: [layWords('en'), layWords('de')],
  pieces: [pieceWords('en'), pieceWords('de')],
  cutList: [cutListWords('en'), cutListWords('de')],
  parts: [partsWords('en'), partsWords('de')],
  steps: [stepWords('en'), stepWords('de')],
  units: [unitWords('en'), unitWords('de')],
  measurements: [measureWords('en'), measureWords('de')],
  photo: [photoWords('en'), photoWords('de')],
  pages: [pagesWords('en'), pagesWords('de')],
  exchange: [exchangeWords('en'), exchangeWords('de')],
} as const;

/** What is rightly the same in both languages: names, signs of units, formats of paper and files, words of both. */
const SAME: ReadonlySet<string> = new Set([
  'page.app.name',
  'page.header.unitNames.cm',
  'page.header.unitNames.mm',
  'page.common.name',
  'page.shelf.name',
  'page.measure.material',
  'page.take.dxf',
  'page.take.fullPapers.a0',
  'page.take.fullPapers.a1',
  'page.take.fullPapers.a3',
  'page.take.fullPapers.a4',
  'page.take.fullPapers.letter',
  'page.take.fullPapers.tabloid',
  'page.take.papers.a4',
  'page.take.papers.letter',
  'exchange.entries.materials',
  'exchange.entries.plans',
  'output.full.papers.a0',
  'output.full.papers.a1',
  'output.full.papers.a3',
  'output.full.papers.a4',
  'output.full.papers.letter',
  'output.full.papers.tabloid',
  'output.table.open',
  'output.table.verdicts.not allowed',
]);

/** Functions of things that no invented text or number stands for: a command, a lay, a cloth. */
const OF_THINGS: ReadonlySet<string> = new Set([
  'page.session.undid',
  'page.session.redid',
  'plan.hand',
  'plan.spread',
  'plan.captions',
  'plan.stretch',
  'cutting.off',
]);

const ENGLISH =
  /\b(?:the|and|of|to|is|are|with|for|it|its|this|that|from|on|not|no|all|by|be|can|your|you|what|which|cut|piece|pieces|cloth|cloths|save|left|right|fold|grain|lay|length)\b/iu;
/** Makers are not addressed; „Sie“ after a full stop or colon is "they". */
const ADDRESSED = /\b(?:du|dich|dir|deine?[nmrs]?|Ihre?[nmrs]?|Ihnen)\b|(?<=[a-zäöüß,] )Sie\b/u;
/** Quotation marks other than „…“. */
const FOREIGN_QUOTES = /”|"|(?<!„[^“]*)“/u;

describe('words in every language', () => {
  it('are compared here for all languages there are', () => {
    expect(LANGUAGES).toEqual(['en', 'de']);
    expect([en.lang, de.lang]).toEqual(LANGUAGES);
  });

  describe.each(Object.keys(COLLECTIONS) as (keyof typeof COLLECTIONS)[])('%s', (name) => {
    const [english, german] = COLLECTIONS[name];
    const pairs = pairsOf(english, german, name).filter(({ path }) => path !== 'page.lang');
    const partOf = (path: string): string => path.split('.').slice(0, 2).join('.');

    it.each([...new Set(pairs.map(({ path }) => partOf(path)))])(
      '%s: German in German, with the same things in the same places',
      (part) => {
        for (const pair of pairs.filter(({ path }) => partOf(path) === part)) compare(pair);
      },
    );

    it('is listed as the same or as of things only where it is there', () => {
      const paths = new Set(pairs.map(({ path }) => path));
      const own = [...SAME, ...OF_THINGS].filter((path) => path.startsWith(`${name}.`));
      expect(own.filter((path) => ![...paths].some((known) => known.startsWith(path)))).toEqual([]);
    });
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
  if (!OF_THINGS.has(path)) expect(both.length, path).toBeGreaterThan(0);
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
