import { describe, expect, it } from 'vitest';
import { box, INCH, layOf, rollOf, smallProject } from '../support/layOf.ts';

/**
 * Rectangles from published cutting tables: outside checks of the whole way from a cut list to a length. A
 * published table is a check, not an oracle; its known misprints are named where they stand.
 */

const roll = (widthIn: number, over: object = {}): object => rollOf(widthIn, { foldable: false, ...over });

/** Length in inches that `count` rectangles of width × height take on cloth of the given usable width. */
async function inches(
  widthIn: number,
  pieces: [count: number, acrossIn: number, alongIn: number][],
  cloth: object = {},
): Promise<number> {
  const project = smallProject({
    cloth: roll(widthIn, cloth),
    pieces: pieces.map(([count, across, along], i) => ({
      name: `p${i}`,
      outline: box(across * INCH, along * INCH),
      plain: count,
    })),
  });
  const { results } = await layOf(project);
  expect(results[0]!.verdict).toBe('fits');
  return results[0]!.usedMm / INCH;
}

// "Number of squares per yard of fabric", https://jajalger2018.org/how-many-5-inch-squares-in-a-yard-of-fabric/
// (numbers agree with floor(W/s)·floor(36/s) in every cell; sizes from 3 in up are used here to keep the run short).
const SQUARES_FROM_A_YARD: [sizeIn: number, at39: number, at40: number, at41: number, at42: number][] = [
  [3, 156, 156, 156, 168],
  [3.5, 110, 110, 110, 120],
  [4, 81, 90, 90, 90],
  [4.5, 64, 64, 72, 72],
  [5, 49, 56, 56, 56],
  [5.5, 42, 42, 42, 42],
  [6, 36, 36, 36, 42],
  [6.5, 30, 30, 30, 30],
  [7, 25, 25, 25, 30],
  [7.5, 20, 20, 20, 20],
  [8, 16, 20, 20, 20],
  [8.5, 16, 16, 16, 16],
  [9, 16, 16, 16, 16],
  [9.5, 12, 12, 12, 12],
];

describe('squares from one yard', () => {
  for (const [size, ...counts] of SQUARES_FROM_A_YARD) {
    it(`${size} in: the published count fits, one more does not`, async () => {
      for (const [i, count] of counts.entries()) {
        const width = 39 + i;
        expect(await inches(width, [[count, size, size]])).toBeLessThanOrEqual(36.0005);
        expect(await inches(width, [[count + 1, size, size]])).toBeGreaterThan(36.0005);
      }
    });
  }
});

describe('straightening loss', () => {
  // Sylvia's Quilt Depot, https://www.sylviasquiltdepot.com/yardage---for-cutting-squares.htm: the rows from 2 in up
  // are those of 43 in usable width with half an inch lost in squaring the cut end.
  const squared = { squaringMm: 0.5 * INCH };
  const ONE_YARD: [sizeIn: number, count: number][] = [
    [3, 154],
    [3.5, 120],
    [4, 80],
    [4.5, 63],
    [5, 56],
    [5.5, 42],
    [6, 35],
    [6.5, 30],
  ];
  it('one yard yields the published counts and not one more', async () => {
    for (const [size, count] of ONE_YARD) {
      expect(await inches(43, [[count, size, size]], squared), `${size} in`).toBeLessThanOrEqual(36.0005);
      expect(await inches(43, [[count + 1, size, size]], squared), `${size} in`).toBeGreaterThan(36.0005);
    }
  });

  it('4 in squares: 80 from a yard with the loss, 90 without', async () => {
    expect(await inches(43, [[90, 4, 4]])).toBeCloseTo(36, 3);
    expect(await inches(43, [[90, 4, 4]], squared)).toBeCloseTo(36.5, 3);
  });

  it('halving the yard’s figure is wrong: half a yard of 44 in gives 24 five-inch squares, not 28', async () => {
    // The list at https://docsbay.net/number-of-squares-from-a-fat-quarter halves 56 to 28.
    expect(await inches(44, [[24, 5, 5]])).toBeLessThanOrEqual(18.0005);
    expect(await inches(44, [[28, 5, 5]])).toBeGreaterThan(18.0005);
  });
});

describe('strips of equal pieces', () => {
  // Patchwork Times, https://patchworktimes.com/2011/11/12/calculating-yardage, 40 in usable.
  it('12 squares of 4½ in take two strips: 9 in', async () => {
    expect(await inches(40, [[12, 4.5, 4.5]])).toBeCloseTo(9, 3);
  });

  it('48 rectangles 2½ × 4½ in: 15 in one way, 13½ in the other, and the direction is kept', async () => {
    // Eight to a strip of 2½ in, or sixteen to a strip of 4½ in.
    expect(await inches(40, [[48, 4.5, 2.5]])).toBeCloseTo(15, 3);
    expect(await inches(40, [[48, 2.5, 4.5]])).toBeCloseTo(13.5, 3);
  });

  it('with quarter turns allowed 48 of them take no more than the better direction', async () => {
    expect(await inches(40, [[48, 4.5, 2.5]], { turn: 'quarter' })).toBeLessThanOrEqual(13.501);
  });

  it('63 squares of 9½ in on 42 in take 152 in', async () => {
    // https://www.quiltingboard.com/6228687-post7.html
    expect(await inches(42, [[63, 9.5, 9.5]])).toBeCloseTo(152, 3);
  });

  it('70 squares of 2½ in on 44 in take five strips, not four', async () => {
    // Dividing 70 by 17.6 without rounding down gives four strips: the trap in
    // http://www.instructables.com/id/Photographic-Quilt/step3/Preparing-to-buy-fabric/
    expect(await inches(44, [[63, 2.5, 2.5]])).toBeCloseTo(10, 3);
    expect(await inches(44, [[70, 2.5, 2.5]])).toBeCloseTo(12.5, 3);
  });

  it('three panels 40 × 30 in: 90 in of 45 in cloth, 60 in of 90 in cloth, not half', async () => {
    // https://info.fabrics.net/i-need-less-fabric/
    expect(await inches(45, [[3, 40, 30]])).toBeCloseTo(90, 3);
    expect(await inches(90, [[3, 40, 30]])).toBeCloseTo(60, 3);
  });

  it('52 squares of 4 in and 20 of 3 in from 44 in: no more than the 26 in of strips', async () => {
    // https://www.quiltingboard.com/main-f1/i-m-sorry-i-have-another-question-t131707.html
    const length = await inches(44, [
      [52, 4, 4],
      [20, 3, 3],
    ]);
    expect(length).toBeLessThanOrEqual(26.001);
    expect(length).toBeGreaterThanOrEqual((52 * 16 + 20 * 9) / 44);
  });
});

describe('fat quarters', () => {
  // Quilter's Cache, http://www.quilterscache.com/M/MathChartsPage.html: 18 × 22 in, all sizes agree with floor.
  const FAT_QUARTER: [sizeIn: number, count: number][] = [
    [3, 42],
    [3.5, 30],
    [4, 20],
    [4.5, 16],
    [5, 12],
    [5.5, 12],
    [6, 9],
    [6.5, 6],
  ];
  const fat = async (count: number, size: number, width = 18, length = 22): Promise<string> => {
    const project = smallProject({
      cloth: { kind: 'remnant', outline: box(length * INCH, width * INCH) },
      pieces: [{ name: 'square', outline: box(size * INCH, size * INCH), plain: count }],
    });
    return (await layOf(project)).results[0]!.verdict;
  };

  it('yields the published counts and never one more', async () => {
    for (const [size, count] of FAT_QUARTER) {
      expect(await fat(count, size), `${count} of ${size} in`).toBe('fits');
      expect(await fat(count + 1, size), `${count + 1} of ${size} in`).not.toBe('fits');
    }
  });

  it('real ones are smaller: 18 × 21 in holds 9 squares of 5½ in, not 12', async () => {
    // https://msfineprint.wordpress.com/2008/08/06/purses-and-patterns/
    expect(await fat(12, 5.5, 18, 22)).toBe('fits');
    expect(await fat(9, 5.5, 18, 21)).toBe('fits');
    expect(await fat(10, 5.5, 18, 21)).not.toBe('fits');
  });
});
