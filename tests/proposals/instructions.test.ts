/** What patterns write on their pieces, in our own words in the manner of the trade (common practice, no source). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readInstructions } from '../../pattern/proposals/instructions.ts';

const short = (...texts: string[]) =>
  readInstructions(texts).instructions.map(
    ({ role, plain, mirrored, onFold, question }) =>
      `${role ?? '-'} ${plain}/${mirrored}/${onFold}${question ? ` ${question}?` : ''}`,
  );

describe('instructions in English', () => {
  it.each([
    [['Cut 1'], ['- 1/0/0']],
    [['Cut 2 lining'], ['lining 2/0/0 hands?']],
    [['cut two main fabric'], ['main 2/0/0 hands?']],
    [['Cut 1 on fold'], ['- 0/0/1']],
    [['CUT 1 ON THE FOLD OUTER'], ['main 0/0/1']],
    [['Cut 2 mirrored pair, outer'], ['main 1/1/0']],
    [['cut 1 pair lining'], ['lining 1/1/0']],
    [['cut 2 pairs from lining'], ['lining 2/2/0']],
    [['Cut 2, 1 mirrored'], ['- 1/1/0']],
    [['Cut 1 mirrored foam'], ['foam 0/1/0']],
    [['Cut 1 outer, 1 lining, 1 interfacing'], ['main 1/0/0', 'lining 1/0/0', 'interfacing 1/0/0']],
    [['Cut 2 outer and lining'], ['main 2/0/0 hands?', 'lining 2/0/0 hands?']],
    [['Cut 1 outer and 2 lining'], ['main 1/0/0', 'lining 2/0/0 hands?']],
    [['2x webbing'], ['other 2/0/0 hands?']],
    [['Lining', 'cut 4'], ['lining 4/0/0 hands?']],
    [['Cut 1', 'double'], ['- 1/0/0 double?']],
    [['4 pcs'], ['- 4/0/0 hands?']],
  ])('%j', (texts, expected) => {
    expect(short(...texts)).toEqual(expected);
  });
});

describe('instructions in German', () => {
  it.each([
    [['2x Futter zuschneiden'], ['lining 2/0/0 hands?']],
    [['1x Oberstoff im Bruch'], ['main 0/0/1']],
    [['1 x im Stoffbruch, Futterstoff'], ['lining 0/0/1']],
    [['2x gegengleich Außenstoff'], ['main 1/1/0']],
    [['zweimal Einlage'], ['interfacing 2/0/0 hands?']],
    [
      ['1x Oberstoff', '1x Futter', '1x Vlieseinlage'],
      ['main 1/0/0', 'lining 1/0/0', 'interfacing 1/0/0'],
    ],
    [['2x Oberstoff und Futter'], ['main 2/0/0 hands?', 'lining 2/0/0 hands?']],
    [['1x spiegelverkehrt Leder'], ['contrast 0/1/0']],
    [['Schneide 1x doppelt'], ['- 1/0/0 double?']],
  ])('%j', (texts, expected) => {
    expect(short(...texts)).toEqual(expected);
  });
});

describe('what is no instruction', () => {
  it.each([
    ['Side pocket'],
    ['Body panel 3 of 12'],
    ['Piece 4'],
    ['Size 38'],
    ['10 x 10 cm'],
    ['Test square 5 cm'],
    ['Seam allowance 1 cm included'],
    ['Grain'],
    ['12'],
    ['Bottom 30 x 12'],
    ['Page 2'],
  ])('%s', (text) => {
    expect(readInstructions([text]).instructions).toEqual([]);
    expect(readInstructions([text]).rest).toContain(text);
  });

  it('keeps the name and the letters of joined edges apart', () => {
    const read = readInstructions(['Saddle flap', 'Cut 1 vinyl', 'A', 'B']);
    expect(read.rest).toEqual(['Saddle flap']);
    expect(read.letters).toEqual(['A', 'B']);
    expect(read.instructions).toMatchObject([{ role: 'contrast', plain: 1 }]);
  });

  it('never throws, and never reads more copies than could be meant', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ maxLength: 60 }), { maxLength: 6 }), (texts) => {
        for (const { plain, mirrored, onFold } of readInstructions(texts).instructions)
          expect(plain + mirrored + onFold).toBeLessThanOrEqual(120);
      }),
    );
  });
});
