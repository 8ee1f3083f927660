import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanText, inTwo, isolate, shorten, textWidth, wrap } from '../../pattern/plan/text.ts';

describe('textWidth', () => {
  // Widths of Helvetica and Helvetica-Bold as published by Adobe (Core 14 AFM files): "cut" = c 500, u 556, t 278.
  it('adds up published widths, and a little more', () => {
    expect(textWidth('cut', 10, 'note')).toBeGreaterThanOrEqual(13.34);
    expect(textWidth('cut', 10, 'note')).toBeLessThan(13.34 * 1.06);
    expect(textWidth('cut', 10, 'note-strong')).toBeGreaterThanOrEqual((556 + 611 + 333) / 100);
  });

  it('counts marks that stand on a letter as nothing', () => {
    expect(textWidth('e\u0301', 10, 'note')).toBe(textWidth('e', 10, 'note'));
  });
});

describe('shorten', () => {
  it('leaves what fits alone', () => {
    expect(shorten('Flap', 50, 3, 'note')).toBe('Flap');
  });

  it('is never wider than asked, never splits a letter, and says that something is missing', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme', maxLength: 60 }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        (text, width) => {
          const short = shorten(text, width, 3, 'note');
          expect(textWidth(short, 3, 'note')).toBeLessThanOrEqual(width + 1e-9);
          if (short === text || short === '') return;
          expect(short.endsWith('…')).toBe(true);
          const kept = short.slice(0, -1);
          expect(text.startsWith(kept)).toBe(true);
          // What is kept ends where a letter of the whole ends.
          const ends = [...new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text)].map(
            (s) => s.index,
          );
          const rest = text.slice(kept.length).replace(/^\s+/u, '');
          expect([...ends, text.length]).toContain(text.length - rest.length);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('does not look at all of a name of five thousand letters', () => {
    const name = cleanText('ab '.repeat(2_000));
    expect(name.length).toBeLessThanOrEqual(400);
    expect(shorten(name, 30, 3, 'note').endsWith('…')).toBe(true);
  });
});

describe('cleanText', () => {
  it('drops control characters, lone surrogates and direction overrides, keeps everything else', () => {
    expect(cleanText('a\u0000b\u0007\u202ec\ud800d\ufffee')).toBe('abcde');
    expect(cleanText('  <b> & "x" \n\t y ')).toBe('<b> & "x" y');
    expect(cleanText('👩‍🔧 ключ')).toBe('👩‍🔧 ключ');
  });
});

describe('isolate', () => {
  it('encloses only names written right to left', () => {
    expect(isolate('Flap')).toBe('Flap');
    expect(isolate('כיס')).toBe('\u2068כיס\u2069');
  });
});

describe('wrap and inTwo', () => {
  it('breaks at blanks and loses no word', () => {
    const text = 'fold the cloth lengthwise, right sides together';
    const lines = wrap(text, 25, 2.5, 'note');
    expect(lines.length).toBeGreaterThan(1);
    expect(lines.join(' ')).toBe(text);
    for (const line of lines) expect(textWidth(line, 2.5, 'note')).toBeLessThanOrEqual(25);
  });

  it('halves a name', () => {
    expect(inTwo('Front pocket facing')).toEqual(['Front pocket', 'facing']);
    expect(inTwo('Flap')).toBeNull();
  });
});
