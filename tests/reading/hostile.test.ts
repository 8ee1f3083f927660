/** Files that are broken or mean harm: one clear sentence or warnings, never a throw, never without bound. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { brokenFiles, needsMending, saddleRoll, turnsAndWindows } from '../../fixtures/patterns/draw.ts';
import { READING_LIMITS, readDxf, readSvg } from '../../pattern/reading/index.ts';
import { ROOT } from '../support/sharedFolder.ts';
import { codes, drawn, expectSize, onPage, outlineOf, refusalOf } from './readings.ts';

const FOLDER = `${ROOT}fixtures/patterns/broken/`;
const readBroken = (name: string) => readSvg(readFileSync(`${FOLDER}${name}`), name);

const refusal = (text: string): string => refusalOf(readSvg(text, 'bad.svg'));

describe('broken files', () => {
  test('the folder holds what the script draws', () => {
    expect(readdirSync(FOLDER).sort()).toEqual(Object.keys(brokenFiles()).sort());
    for (const [name, text] of Object.entries(brokenFiles()))
      expect(readFileSync(`${FOLDER}${name}`, 'utf8')).toBe(text);
  });

  test.each([
    ['empty.svg', /empty/],
    ['no-drawing.svg', /not an SVG/],
    ['page-not-drawing.svg', /not an SVG drawing: its outermost element is <html>/],
    ['cut-off.svg', /cut off/],
    ['wrong-nesting.svg', /damaged in line 1/],
  ])('%s is refused in a sentence', (name, words) => {
    expect(readBroken(name)).toEqual({ ok: false, fileName: name, message: expect.stringMatching(words) });
  });

  test.each([
    ['entity-bomb.svg', ['entities']],
    ['outside-entity.svg', ['external', 'entities']],
    ['scripts-and-addresses.svg', ['external', 'script', 'picture']],
    ['clone-cycle.svg', ['clone-cycle']],
    ['not-numbers.svg', ['bad-path', 'bad-number', 'bad-transform']],
  ])('%s: what is sound in it is read, the rest is said', (name, expected) => {
    const drawing = drawn(readBroken(name));
    expectSize(outlineOf(drawing, 'sound'), 40, 20, 1e-9);
    expect(codes(drawing)).toEqual(expect.arrayContaining(expected));
  });

  test('entities within entities are not expanded', () => {
    const drawing = drawn(readBroken('entity-bomb.svg'));
    expect(drawing.texts.map(({ text }) => text)).toEqual(['&j;']);
  });

  test('plain entities are', () => {
    const drawing = drawn(
      readSvg(
        `<!DOCTYPE svg [<!ENTITY w "30"><!ENTITY ns "http://www.w3.org/2000/svg">]><svg xmlns="&ns;" width="50mm" height="50mm" viewBox="0 0 50 50"><rect id="r" width="&w;" height="10"/></svg>`,
        'a.svg',
      ),
    );
    expectSize(outlineOf(drawing, 'r'), 30, 10, 1e-9);
  });

  test('nothing of the file outside itself is named in what is handed on', () => {
    const drawing = drawn(readBroken('scripts-and-addresses.svg'));
    expect(JSON.stringify({ ...drawing, source: '' })).not.toMatch(/example|alert|throw/);
  });
});

describe('limits', () => {
  test.each<[string, () => string, RegExp]>([
    [
      'a file larger than the limit',
      () => onPage(' '.repeat(READING_LIMITS.characters)),
      /larger than 40 MB/,
    ],
    [
      'ten million segments in one path',
      () => onPage(`<path d="M0 0${' 1 0'.repeat(9_900_000)}"/>`),
      /more lines than one pattern may have/,
    ],
    [
      'ten million points of a polygon',
      () => onPage(`<polygon points="${'1 0 '.repeat(9_900_000)}"/>`),
      /more lines than one pattern may have/,
    ],
    [
      'curves that would need billions of chords',
      () => onPage(`<path d="M0 0${'C1e5 0 0 1e5 50 50'.repeat(100_000)}"/>`),
      /more lines than one pattern may have/,
    ],
    [
      'clones of clones without end',
      () =>
        onPage(
          `<g id="a0"/>${Array.from({ length: 30 }, (_, i) => `<g id="a${i + 1}">${`<use href="#a${i}"/>`.repeat(10)}</g>`).join('')}`,
        ),
      /Clones of clones/,
    ],
    ['elements nested without end', () => onPage('<g>'.repeat(100_000)), /nests elements more than 250 deep/],
    [
      'more elements than the limit',
      () => onPage('<g/>'.repeat(READING_LIMITS.elements)),
      /more than 200000 elements/,
    ],
    [
      'more outlines than the limit',
      () => onPage('<rect width="2" height="2"/>'.repeat(READING_LIMITS.outlines + 1)),
      /more than 10000 closed outlines/,
    ],
    [
      'an entity that swells the file',
      () =>
        `<!DOCTYPE svg [<!ENTITY a "${'x'.repeat(900)}">]>${onPage(`<text>${'&a;'.repeat(50_000)}</text>`)}`,
      /swell beyond all measure/,
    ],
  ])('%s is refused', (_, make, words) => {
    expect(refusal(make())).toMatch(words);
  });

  test('a scribble of 200 000 crossing strokes is refused, the drawing is read', () => {
    const strokes = Array.from(
      { length: 200_000 },
      (_, i) => `L${(i * 7919) % 200} ${(i * 104_729) % 97}`,
    ).join('');
    const drawing = drawn(
      readSvg(
        onPage(`<path id="scribble" d="M0 0${strokes}Z"/><rect id="r" width="10" height="10"/>`),
        'a.svg',
      ),
    );
    expect(drawing.outlines.map(({ id }) => id)).toEqual(['r']);
    expect(drawing.refused[0]?.text).toMatch(/scribble.*(crosses itself more than 500 times|too intricate)/);
  });

  test('thousands of outlines in each other, each with the one around it as parent', () => {
    const circles = Array.from(
      { length: 3_000 },
      (_, i) => `<circle id="c${i}" cx="100" cy="50" r="${50 - i / 70}"/>`,
    ).join('');
    const drawing = drawn(readSvg(onPage(circles), 'a.svg'));
    expect(outlineOf(drawing, 'c2999')).toMatchObject({ parent: 'c2998', depth: 2999 });
  });

  test.each<[string, string]>([
    [
      'a transform of ten million letters',
      `<g transform="${'a'.repeat(10_000_000)}"><rect id="r" width="9" height="9"/></g>`,
    ],
    [
      'a length of ten million digits',
      `<rect width="${'1'.repeat(10_000_000)}" height="5"/><rect id="r" width="9" height="9"/>`,
    ],
    [
      'a style sheet of rules without end',
      `<style>${'@x{'.repeat(100_000)}</style><rect id="r" width="9" height="9"/>`,
    ],
    [
      'more style rules than elements can be asked for',
      `<style>${'g g g g g .r{fill:red}'.repeat(4_000)}</style>${'<g>'.repeat(100)}${'<rect width="9" height="9" class="r"/>'.repeat(5_000)}<rect id="r" width="9" height="9"/>${'</g>'.repeat(100)}`,
    ],
    [
      'a label of a million hyphens',
      `<rect id="r" aria-label="path${'-'.repeat(1_000_000)}" width="9" height="9"/>`,
    ],
    ['a path of ten million spaces', `<path id="r" d="M0 0h9${' '.repeat(10_000_000)}v9h-9z"/>`],
  ])('%s takes no unreasonable time', (_, content) => {
    expectSize(outlineOf(drawn(readSvg(onPage(content), 'a.svg')), 'r'), 9, 9, 1e-9);
  });
});

describe('anything at all', () => {
  const files = [saddleRoll(), turnsAndWindows(), needsMending()];

  test('valid files cut off anywhere are refused as cut off', () => {
    fc.assert(
      fc.property(fc.constantFrom(...files), fc.double({ min: 0, max: 1, noNaN: true }), (file, share) => {
        const end = Math.floor(share * (file.trimEnd().length - 1));
        const reading = readSvg(file.slice(0, end), 'a.svg');
        expect(reading.ok).toBe(false);
        if (!reading.ok) expect(reading.message).toMatch(/cut off|empty|not an SVG|damaged/);
      }),
      { numRuns: 200 },
    );
  });

  test('valid files with some characters changed never make it throw', () => {
    const change = fc.tuple(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.constantFrom(
        '',
        '"',
        '<',
        '>',
        '&',
        '-',
        '9e9',
        'NaN',
        '(',
        ')',
        '%',
        ' ',
        '\u0000',
        '#',
        'z',
        ';',
        '{',
        '}',
      ),
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...files),
        fc.array(change, { minLength: 1, maxLength: 8 }),
        (file, changes) => {
          let text = file;
          for (const [share, letters] of changes) {
            const at = Math.floor(share * text.length);
            text = text.slice(0, at) + letters + text.slice(at + 1);
          }
          const reading = readSvg(text, 'a.svg');
          // Refused for a reason, not because something went wrong in the reading.
          if (!reading.ok) expect(reading.message).not.toMatch(/cannot follow/);
          if (reading.ok)
            for (const { ring, widthMm, heightMm, areaMm2 } of reading.outlines) {
              expect(ring.length).toBeGreaterThanOrEqual(3);
              expect(Number.isFinite(widthMm) && Number.isFinite(heightMm)).toBe(true);
              expect(areaMm2).toBeGreaterThan(0);
            }
        },
      ),
      { numRuns: 300 },
    );
  });

  test('random bytes and random words of the language never make it throw', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        expect(readSvg(bytes, 'a.svg').ok).toBe(false);
      }),
      { numRuns: 200 },
    );
    const value = fc.oneof(
      fc.string({ maxLength: 20 }),
      fc.double().map(String),
      fc.constantFrom('10%', '1e3mm', 'url(#a)', '#a', 'none', 'rotate(1e9)', 'M0 0h1e9v1z'),
    );
    const attribute = fc.tuple(
      fc.constantFrom(
        'id',
        'href',
        'd',
        'x',
        'y',
        'width',
        'height',
        'r',
        'rx',
        'points',
        'transform',
        'style',
        'class',
        'viewBox',
        'preserveAspectRatio',
        'fill',
        'stroke',
        'stroke-width',
        'display',
      ),
      value,
    );
    const element = fc.tuple(
      fc.constantFrom(
        'g',
        'rect',
        'circle',
        'ellipse',
        'path',
        'polygon',
        'use',
        'svg',
        'symbol',
        'text',
        'tspan',
        'style',
        'switch',
        'defs',
      ),
      fc.uniqueArray(attribute, { maxLength: 5, selector: ([name]) => name }),
      fc.string({ maxLength: 10 }),
    );
    const escaped = (text: string): string =>
      text
        .replace(/[&<>"]/g, (letter) => `&#${letter.charCodeAt(0)};`)
        .replace(/[^\t\n\r\u0020-\ud7ff]/g, '');
    fc.assert(
      fc.property(
        fc.array(element, { maxLength: 12 }),
        fc.array(fc.nat(3), { maxLength: 12 }),
        (elements, nesting) => {
          let text = '';
          const open: string[] = [];
          elements.forEach(([name, attributes, words], i) => {
            text += `<${name} ${attributes.map(([key, content]) => `${key}="${escaped(content)}"`).join(' ')}>${escaped(words)}`;
            open.push(name);
            for (let n = nesting[i] ?? 1; n > 0 && open.length > 0; n--) text += `</${open.pop()}>`;
          });
          for (const name of open.reverse()) text += `</${name}>`;
          // Well-formed whatever it says: read, perhaps with nothing in it.
          expect(drawn(readSvg(onPage(text), 'a.svg')).ok).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('a DXF without end', () => {
  const withGroups = (count: number, group: string): string =>
    `0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\n0\n70\n1\n${group.repeat(count)}0\nENDSEC\n0\nEOF\n`;

  test.each([
    [
      'a line of more vertices than all lines may have',
      withGroups(READING_LIMITS.segments + 1, '10\n1\n'),
      /more lines/,
    ],
    ['more groups than a pattern has', withGroups(READING_LIMITS.dxfGroups, '43\n1\n'), /more data/],
  ])('%s is refused', (_, text, words) => {
    const reading = readDxf(text, 'a.dxf');
    expect(reading.ok ? '' : reading.message).toMatch(words);
  });
});
