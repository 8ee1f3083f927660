/** Test squares and scale bars: what they say about the size, and the arithmetic of prints. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  findTestSquare,
  findTestSquares,
  fitFactor,
  judgeSize,
  PAPER_SIZES,
  readPdf,
  readSvg,
  recogniseFit,
  scaleReading,
} from '../../pattern/reading/index.ts';
import {
  isLengthAlone,
  saysChecking,
  statedLengths,
  unitAlone,
} from '../../pattern/reading/statedLengths.ts';
import { sharedFolder } from '../support/sharedFolder.ts';
import { drawn, read } from './readings.ts';

const text = (x: number, y: number, words: string, size = 4): string =>
  `<text x="${x}" y="${y}" font-size="${size}">${words}</text>`;
const rect = (id: string, x: number, y: number, width: number, height: number, more = ''): string =>
  `<rect id="${id}" x="${x}" y="${y}" width="${width}" height="${height}" fill="none" stroke="black" stroke-width="0.01" ${more}/>`;

describe('lengths in words', () => {
  test.each<[string, number[]]>([
    ['Test square 1 in', [25.4]],
    ['4" x 4" test square', [101.6]],
    ['2 inch', [50.8]],
    ['5 cm', [50]],
    ['10x10 cm', [100]],
    ['10 cm × 10 cm', [100]],
    ['Kontrollquadrat 5 × 5 cm', [50]],
    ['1 Zoll', [25.4]],
    ['2,5 cm', [25]],
    ['1½ in', [38.1]],
    ['1 1/2 inch', [38.1]],
    ['50mm', [50]],
    ['4 in / 10 cm', [101.6, 100]],
    ['20 x 30 cm', []],
    ['cut 2 lining', []],
    ['size 40', []],
    ['10', []],
  ])('%s', (words, expected) => {
    expect(statedLengths(words).map(({ mm }) => mm)).toEqual(expected.map((mm) => expect.closeTo(mm, 6)));
  });

  test('words that mean a check, in English and German', () => {
    for (const words of [
      'TEST SQUARE',
      'Scale check',
      'this square is 4 in',
      'Testquadrat',
      'Kontrollkästchen',
      'Maßstab',
      'should measure 5 cm',
    ])
      expect(saysChecking(words), words).toBe(true);
    for (const words of ['Side panel', 'square pocket 10 cm', 'Tasche', 'bar tack'])
      expect(saysChecking(words), words).toBe(false);
    expect(isLengthAlone('10 cm × 10 cm')).toBe(true);
    expect(isLengthAlone('pocket 10 cm')).toBe(false);
  });
});

describe('finding', () => {
  test('a square whose words stand in it, on a page with pieces', () => {
    const square = findTestSquare(
      read(
        `${rect('side', 5, 5, 120, 90)} ${rect('check', 140, 20, 50, 50)} ${text(145, 40, 'Test square')} ${text(145, 50, '5 cm')} ${text(20, 40, 'Side panel, allowance 1 cm')}`,
      ),
    );
    expect(square).toMatchObject({ kind: 'square', id: 'check', statedMm: 50, sure: true, edge: 'middle' });
    expect(square!.verdict).toMatchObject({
      trueToSize: true,
      factorX: expect.closeTo(1, 6),
      longestMm: expect.closeTo(120, 6),
    });
    expect(square!.verdict.text).toMatch(/^True to size/);
  });

  test('words beside it; German; inches', () => {
    const square = findTestSquare(
      read(`${rect('check', 10, 10, 25.4, 25.4)} ${text(40, 22, 'Kontrollquadrat 1 Zoll')}`),
    );
    expect(square).toMatchObject({ id: 'check', statedMm: 25.4, verdict: { trueToSize: true } });
  });

  test('the outer edge of a thick line, and the inner one', () => {
    const outer = read(
      `${rect('check', 10, 10, 48, 48).replace('0.01', '2')} ${text(20, 30, 'test square 5 cm')}`,
    );
    expect(findTestSquare(outer)).toMatchObject({
      edge: 'outer',
      measuredXMm: 50,
      widthMm: 48,
      verdict: { trueToSize: true },
    });
    const inner = read(
      `${rect('check', 10, 10, 52, 52).replace('0.01', '2')} ${text(20, 30, 'test square 5 cm')}`,
    );
    expect(findTestSquare(inner)).toMatchObject({
      edge: 'inner',
      measuredXMm: 50,
      verdict: { trueToSize: true },
    });
  });

  test('a bar along the page, as a line and as a thin rectangle', () => {
    const line = findTestSquare(
      read(`<path id="bar" d="M20 20h100" fill="none" stroke="black"/> ${text(20, 30, 'Scale: 10 cm')}`),
    );
    expect(line).toMatchObject({
      kind: 'bar',
      id: 'bar',
      measuredXMm: 100,
      measuredYMm: null,
      verdict: { trueToSize: true },
    });
    const thin = findTestSquare(read(`${rect('bar', 20, 20, 3, 60)} ${text(30, 30, 'Maßstab 5 cm')}`));
    expect(thin).toMatchObject({
      kind: 'bar',
      id: 'bar',
      measuredYMm: 60,
      verdict: { trueToSize: false, factor: expect.closeTo(5 / 6, 9) },
    });
  });

  test('a drawing taken at the wrong dots per inch is put right by its square', () => {
    const drawing = read(
      `${rect('check', 10, 10, 46.875, 46.875)} ${text(20, 30, 'test square 5 cm')} ${rect('side', 70, 10, 100, 40)}`,
    );
    const { verdict } = findTestSquare(drawing)!;
    expect(verdict.trueToSize).toBe(false);
    expect(verdict.factor).toBeCloseTo(96 / 90, 9);
    expect(verdict.longestOffMm).toBeCloseTo(100 * (96 / 90 - 1), 6);
    expect(verdict.text).toMatch(/too short.*seam allowances/);
    const corrected = drawn(scaleReading(drawing, verdict.factor!));
    expect(findTestSquare(corrected)!.verdict.trueToSize).toBe(true);
  });

  test('nothing where nothing says so', () => {
    expect(
      findTestSquare(read(`${rect('pocket', 10, 10, 50, 50)} ${text(20, 30, 'Pocket, cut 2, 5 cm deep')}`)),
    ).toBeNull();
    expect(findTestSquare(read(rect('a', 10, 10, 50, 50)))).toBeNull();
    // A piece of another size with a length written to it is no test square either.
    expect(findTestSquare(read(`${rect('a', 10, 10, 80, 80)} ${text(20, 30, '5 cm')}`))).toBeNull();
  });

  test('a square with its size alone in it is offered, but not as sure', () => {
    const square = findTestSquare(read(`${rect('a', 10, 10, 50, 50)} ${text(20, 30, '5 cm')}`));
    expect(square).toMatchObject({ id: 'a', sure: false });
    expect(square!.verdict.text).toContain('square marked "5 cm"');
  });
});

describe('the verdict', () => {
  test('within half a per cent is true, beyond it not', () => {
    expect(judgeSize({ statedMm: 100, measuredXMm: 99.5, measuredYMm: 100.5 }).trueToSize).toBe(true);
    expect(judgeSize({ statedMm: 100, measuredXMm: 99.4, measuredYMm: 99.4 }).trueToSize).toBe(false);
  });

  // The published 2 in line that printed 1⅞ in: 93.75 %, and 1/16 in on a 1 in square: 40 in become 37½ in.
  test('arithmetic of prints', () => {
    expect(
      judgeSize({ statedMm: 50.8, measuredXMm: 47.625, measuredYMm: 47.625 }).reprintPercent,
    ).toBeCloseTo(106.667, 3);
    const { longestOffMm } = judgeSize({
      statedMm: 25.4,
      measuredXMm: 25.4 * (15 / 16),
      measuredYMm: 25.4 * (15 / 16),
      longestMm: 37.5 * 25.4,
    });
    expect(longestOffMm).toBeCloseTo(2.5 * 25.4, 6);
  });

  test('a page made for A4 fitted to Letter, and the other way (ISO 216; Letter 8½ × 11 in)', () => {
    expect(fitFactor('A4', 'Letter') * 100).toBeCloseTo(94.07, 2);
    expect(fitFactor('Letter', 'A4') * 100).toBeCloseTo(97.27, 2);
    const a4 = judgeSize({ statedMm: 100, measuredXMm: 94.1, measuredYMm: 94.1 });
    expect(a4.fit).toMatchObject({ from: 'A4', to: 'Letter' });
    expect(a4.text).toMatch(/made for A4 to Letter: print at 100 %/);
    expect(judgeSize({ statedMm: 100, measuredXMm: 97.3, measuredYMm: 97.3 }).fit).toMatchObject({
      from: 'Letter',
      to: 'A4',
    });
    expect(recogniseFit(0.96)).toBeNull();
    // ISO 216: each size is the one before halved, rounded down to the millimetre, in the ratio 1 : √2.
    expect(PAPER_SIZES.A4).toEqual([Math.floor(PAPER_SIZES.A3![1] / 2), PAPER_SIZES.A3![0]]);
    expect(fitFactor('A3', 'A4')).toBeCloseTo(Math.SQRT1_2, 3);
    expect(() => fitFactor('A4', 'B9')).toThrow(RangeError);
  });

  test('stretched one way only: no single factor', () => {
    const verdict = judgeSize({ statedMm: 100, measuredXMm: 100, measuredYMm: 97, longestMm: 500 });
    expect(verdict).toMatchObject({ trueToSize: false, factor: null, reprintPercent: null, fit: null });
    expect(verdict.text).toMatch(/no single scale/);
  });

  test('nonsense is refused', () => {
    expect(() => judgeSize({ statedMm: 0, measuredXMm: 1, measuredYMm: 1 })).toThrow(RangeError);
    expect(() => judgeSize({ statedMm: 1, measuredXMm: null, measuredYMm: null })).toThrow(RangeError);
    expect(() => judgeSize({ statedMm: 1, measuredXMm: Number.NaN, measuredYMm: 1 })).toThrow(RangeError);
  });
});

const folder = sharedFolder();
const skipped = folder === null;

describe.skipIf(skipped)(
  `published patterns${skipped ? ' (skipped: no open check data at ../shared)' : ''}`,
  () => {
    const bytes = (name: string): Uint8Array => new Uint8Array(readFileSync(`${folder}inputs/${name}`));

    test('square-pack-pattern: 100.0 by the outer edge of its line', () => {
      const square = findTestSquare(drawn(readSvg(bytes('square-pack-pattern.svg'), 'a.svg')));
      expect(square).toMatchObject({
        kind: 'square',
        edge: 'outer',
        statedMm: 100,
        sure: true,
        verdict: { trueToSize: true },
      });
      expect(square!.measuredXMm).toBeCloseTo(100, 3);
      expect(square!.verdict.factor).toBeCloseTo(1, 4);
    });

    test('made-pdf-traps: its test square of 50 mm', async () => {
      const squares = findTestSquares(drawn(await readPdf(bytes('made-pdf-traps.pdf'), 'a.pdf')));
      expect(squares[0]).toMatchObject({
        pageNumber: 1,
        statedMm: 50,
        sure: true,
        verdict: { trueToSize: true },
      });
    });
  },
);

describe('scale bars in segments', () => {
  const bar = (id: string, y: number, width: number, count: number): string =>
    Array.from({ length: count }, (_, i) => rect(`${id}${i}`, 20 + i * width, y, width, 10)).join('');

  test('a row of equal parts beside a unit: each part is one', () => {
    const drawing = read(
      bar('inch', 20, 25.4, 6) + text(20, 18, 'Scale for inches') + bar('cm', 60, 10, 8) + text(20, 58, 'cm'),
    );
    const [inches, centimetres] = findTestSquares(drawing);
    expect(inches).toMatchObject({ kind: 'bar', id: 'inch0', sure: true, statedMm: 25.4 });
    expect(inches?.measuredXMm).toBeCloseTo(25.4, 6);
    expect(inches?.verdict.trueToSize).toBe(true);
    expect(centimetres).toMatchObject({ kind: 'bar', id: 'cm0', sure: false, statedMm: 10 });
  });

  test('drawn too small it says so; patches in a row without a unit are none', () => {
    const small = read(bar('inch', 20, 24, 6) + text(20, 18, 'Scale for inches'));
    expect(findTestSquare(small)?.verdict).toMatchObject({
      trueToSize: false,
      factor: expect.closeTo(25.4 / 24, 6),
    });
    expect(findTestSquares(read(bar('patch', 20, 25, 4) + text(20, 18, 'cut 4')))).toEqual([]);
  });

  test.each([
    ['Scale for inches', 25.4],
    ['Maßstab in cm', 10],
    ['mm', 1],
    ['dm', 100],
    ['Scale', null],
    ['5 cm', null],
    ['in the seam', null],
  ])('%s', (words, mm) => {
    expect(unitAlone(words)?.mm ?? null).toBe(mm);
  });
});
