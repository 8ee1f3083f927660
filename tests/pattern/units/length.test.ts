import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatArea,
  formatForField,
  formatInField,
  formatLength,
  formatPurchase,
  formatSize,
  MM_PER_INCH,
  MM_PER_YARD,
  parseLength,
  roundUpToStep,
} from '../../../pattern/units/index.ts';

const mmOf = (text: string, unit: Parameters<typeof parseLength>[1] = 'cm'): number => {
  const read = parseLength(text, unit);
  if (!read.ok) throw new Error(`${text}: ${read.message}`);
  return read.mm;
};
const refusal = (text: string, unit: Parameters<typeof parseLength>[1] = 'cm'): string => {
  const read = parseLength(text, unit);
  if (read.ok) throw new Error(`${text} was read as ${read.mm} mm`);
  return read.message;
};

describe('unit facts', () => {
  // International yard and pound agreement, 1959 (US: Federal Register 24 FR 5348, 1 July 1959,
  // https://www.ngs.noaa.gov/PUBS_LIB/FedRegister/FRdoc59-5442.pdf): 1 yard = 0.9144 m exactly, so 1 in = 25.4 mm.
  it('a yard is 0.9144 m and an inch its 36th part', () => {
    expect(MM_PER_YARD).toBe(914.4);
    expect(MM_PER_INCH).toBe(25.4);
    expect(mmOf('1 yd')).toBe(914.4);
    expect(mmOf('36"')).toBe(914.4);
    expect(mmOf('3 ft')).toBe(914.4);
  });
  // 1 m = 1.0936 yd = 39.37 in: https://de.scribd.com/document/99524583/Textile-Conversions
  it('a metre is 39.37 inches and 1.0936 yards', () => {
    expect(mmOf('1 m') / MM_PER_INCH).toBeCloseTo(39.37, 2);
    expect(mmOf('1 m') / MM_PER_YARD).toBeCloseTo(1.0936, 4);
  });
});

describe('parseLength', () => {
  it.each([
    ['11 1/4"', 285.75],
    ['11¼ in', 285.75],
    ['11 ¼ in.', 285.75],
    ['11-1/4 inches', 285.75],
    ['11 & 1/4 in', 285.75],
    ['11 and 1/4 inch', 285.75],
    ['11 1⁄4″', 285.75],
    ['11.25"', 285.75],
    ['11,25 Zoll', 285.75],
    ["11 1/4''", 285.75],
    ['¼”', 6.35],
    ['3/8 in', 9.525],
    ['9/8 in', 28.575],
    ['26″', 660.4],
    ['26 IN', 660.4],
    [`2'6"`, 762],
    [`2' 6 1/2"`, 774.7],
    ['2′ 6', 762],
    ['2 ft 6 in', 762],
    ['1 yd 9 in', 1143],
    ['1 yd 1 ft', 1219.2],
    ['1/2 yd', 457.2],
    ['1 1/8 yards', 1028.7],
    ['3,5 cm', 35],
    ['3.5cm', 35],
    ['.5 m', 500],
    ['1.2 m', 1200],
    ['1 m 20 cm', 1200],
    ['310mm', 310],
    ['310 Millimeter', 310],
    ['35 Zentimeter', 350],
    ['1.200,5 mm', 1200.5],
    ['1,200.5 mm', 1200.5],
    ['1.125 in', 28.575],
    ['30.500 cm', 305],
    ['  12 cm ', 120],
    ['0,95 m', 950],
  ])('reads %s', (text, mm) => {
    expect(mmOf(text)).toBeCloseTo(mm, 6);
  });

  it('takes the default unit for a bare number and says so', () => {
    expect(parseLength('7 3/8', 'in')).toEqual({ ok: true, mm: 187.325, unitSaid: false });
    expect(parseLength('7 3/8"', 'cm')).toEqual({ ok: true, mm: 187.325, unitSaid: true });
    expect(mmOf('30', 'mm')).toBe(30);
    expect(mmOf('30', 'cm')).toBe(300);
  });

  it.each([
    ['', 'A length is missing.'],
    ['0 cm', 'greater than zero'],
    ['0', 'greater than zero'],
    ['-3 cm', 'cannot be negative'],
    ['− 1/2 in', 'cannot be negative'],
    ['wide', 'is not a length'],
    ['12 cubits', '“cubits” after the length is not understood'],
    ['3 cm 4 in', '“4 in” after the length'],
    ['11 1/0 in', 'divides by zero'],
    ['11 5/4 in', 'one or more'],
    ['11.5 1/4 in', 'mixes decimals and a fraction'],
    ['1.2.3 cm', 'no number I can read'],
    ['1.200 mm', 'may mean 1200 mm'],
    ['101 m', 'too long: at most 100 m'],
    ['Infinity', 'is not a length'],
    ['NaN', 'is not a length'],
    ['1e99', 'after the length'],
    ['9'.repeat(400), 'too long'],
  ])('refuses “%s” and says why', (text, why) => {
    expect(refusal(text)).toContain(why);
  });

  it('refuses a likely thousands mark where millimetres are the default', () => {
    expect(refusal('1,200', 'mm')).toContain('may mean 1200 mm');
    expect(mmOf('1,200', 'm')).toBe(1200);
  });

  it('allows zero where asked, but nothing below', () => {
    expect(parseLength('0', 'cm', { allowZero: true })).toEqual({ ok: true, mm: 0, unitSaid: false });
    expect(parseLength('-1', 'cm', { allowZero: true }).ok).toBe(false);
  });

  it('never throws and never gives a length outside 0 … 100 m', () => {
    const parts = fc.constantFrom(
      '1',
      '0',
      '11',
      '/',
      ' ',
      '"',
      "'",
      '.',
      ',',
      '¼',
      '-',
      'x',
      'in',
      'mm',
      'cm',
      'yd',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(parts, { maxLength: 12 }).map((list) => list.join('')),
        ),
        fc.constantFrom('mm' as const, 'cm' as const, 'in' as const),
        (text, unit) => {
          const read = parseLength(text, unit);
          if (read.ok) {
            expect(read.mm).toBeGreaterThan(0);
            expect(read.mm).toBeLessThanOrEqual(100_000);
          } else expect(read.message.length).toBeGreaterThan(5);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe('formatLength', () => {
  it.each([
    [285.75, 'in', '11 1/4 in'],
    [660.4, 'in', '26 in'],
    [12.7, 'in', '1/2 in'],
    [310, 'in', '≈ 12 3/16 in'],
    [305, 'cm', '30.5 cm'],
    [300, 'cm', '30 cm'],
    [1000, 'mm', '1000 mm'],
    [310.25, 'mm', '310.3 mm'],
    [0, 'cm', '0 cm'],
    [-52.5, 'cm', '−5.25 cm'],
    [-0.001, 'mm', '0 mm'],
  ] as const)('%d mm in %s: %s', (mm, units, text) => {
    expect(formatLength(mm, units)).toBe(text);
  });
  it('writes sizes with the unit once', () => {
    expect(formatSize(285.75, 63.5, 'in')).toBe('11 1/4 × 2 1/2 in');
    expect(formatSize(305, 200, 'cm')).toBe('30.5 × 20 cm');
  });
  it('what is shown without ≈ is true to a tenth of a millimetre', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 99_000, noNaN: true }),
        fc.constantFrom('cm', 'mm', 'in'),
        (mm, units) => {
          const text = formatLength(mm, units);
          const shown = parseLength(text.replace('≈ ', ''), 'cm', { allowZero: true });
          const off = shown.ok ? Math.abs(shown.mm - mm) : Number.NaN;
          expect(off).toBeLessThanOrEqual(text.startsWith('≈') ? 25.4 / 32 + 1e-6 : 0.1 + 1e-6);
        },
      ),
    );
  });
  it('a field gives back what was put in, to 0.01 mm', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 99_000, noNaN: true }),
        fc.constantFrom('cm', 'mm', 'in'),
        (mm, units) => {
          const back = parseLength(formatForField(mm, units), units);
          // Three decimals of a metric number must not be taken for thousands.
          expect(back.ok && Math.abs(back.mm - mm)).toBeLessThanOrEqual(0.0101);
        },
      ),
    );
  });
  it('a field shows inches as makers read them, and says where that is rounded', () => {
    expect(formatInField(11.25 * 25.4, 'in')).toBe('11 1/4');
    expect(formatInField(1420, 'in')).toBe('≈ 55 7/8');
    expect(formatInField(15, 'in')).toBe('≈ 9/16');
    // Half a millimetre is not nothing.
    expect(formatInField(0.5, 'in')).toBe('0.0197');
    expect(formatInField(0, 'in')).toBe('0');
    expect(formatInField(305, 'cm', 'de')).toBe('30,5');
    fc.assert(
      fc.property(fc.double({ min: 1, max: 99_000, noNaN: true }), (mm) => {
        const text = formatInField(mm, 'in');
        const back = parseLength(text.replace('≈', ''), 'in');
        expect(back.ok && Math.abs(back.mm - mm)).toBeLessThanOrEqual(
          text.startsWith('≈') ? 25.4 / 32 + 1e-6 : 0.1 + 1e-6,
        );
      }),
    );
  });
  it('writes areas', () => {
    expect(formatArea(1_234_000, 'cm')).toBe('1.23 m²');
    expect(formatArea(34_500, 'mm')).toBe('345 cm²');
    expect(formatArea(914.4 ** 2 * 2, 'in')).toBe('2 yd²');
    expect(formatArea(25.4 ** 2 * 54, 'in')).toBe('54 in²');
  });
});

describe('buying', () => {
  // 61 cm of 112 cm cloth. Units of sale: quarter metres https://firesidefabrics.co.uk/how-fabric-is-sold, fractions
  // of a yard https://www.sewmucheasier.com/pre-cut-fabric-explained. 24.02 in is 0.02 in over 2/3 yd.
  it('61 cm is bought as 75 cm in quarter metres, as 70 cm in steps of ten', () => {
    expect(roundUpToStep(610, 250)).toBe(750);
    expect(roundUpToStep(610, 100)).toBe(700);
  });
  it('61 cm is bought as 3/4 yd, for 2/3 yd misses it by half a millimetre', () => {
    expect(formatPurchase(610, 'in')).toBe('3/4 yd');
  });
  it('a length that is whole steps already is not pushed up by binary dust', () => {
    for (let eighths = 1; eighths < 400; eighths++) {
      const mm = eighths * 0.125 * MM_PER_YARD;
      expect(roundUpToStep(mm, MM_PER_YARD / 8)).toBeCloseTo(mm, 6);
      expect(roundUpToStep(eighths * 0.1 * 1000, 100)).toBeCloseTo(eighths * 100, 6);
    }
  });
  it('metres to the centimetre, upwards', () => {
    expect(formatPurchase(1350, 'cm')).toBe('1.35 m');
    expect(formatPurchase(1350.01, 'mm')).toBe('1.36 m');
    expect(formatPurchase(0, 'cm')).toBe('0.00 m');
    expect(formatPurchase(1.875 * MM_PER_YARD, 'in')).toBe('1 7/8 yd');
  });
  it('never less than asked, and less than a step more', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 99_000, noNaN: true }),
        fc.double({ min: 1, max: 2000, noNaN: true }),
        (mm, step) => {
          const buy = roundUpToStep(mm, step);
          expect(buy).toBeGreaterThanOrEqual(mm - 2e-6);
          expect(buy).toBeLessThan(mm + step);
        },
      ),
    );
  });
});
