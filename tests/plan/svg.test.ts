import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import type { Drawing, DrawingItem } from '../../pattern/plan/drawing.ts';
import { drawLay } from '../../pattern/plan/drawLay.ts';
import { drawingToSvg, escapeXml } from '../../pattern/plan/svg.ts';
import { oddNames } from './extremeLays.ts';
import { SAMPLES, singleLayer, twoSegments } from './sampleLays.ts';

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  text: string;
}

/** All elements of a document; throws where it is not well-formed. */
function parse(xml: string): Element[] {
  const parser = new SaxesParser({ xmlns: false });
  const elements: Element[] = [];
  const open: Element[] = [];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const element = { name, attributes: attributes as Record<string, string>, text: '' };
    elements.push(element);
    open.push(element);
  });
  parser.on('closetag', () => open.pop());
  parser.on('text', (text) => {
    const current = open.at(-1);
    if (current) current.text += text;
  });
  parser.write(xml).close();
  return elements;
}

function drawingOf(items: readonly DrawingItem[], title = 'A drawing'): Drawing {
  return {
    widthMm: 100,
    heightMm: 50,
    title,
    description: title,
    lang: 'en',
    scale: 1,
    frames: [],
    layers: [{ name: 'pieces', items }],
  };
}

describe('drawingToSvg', () => {
  it.each(Object.entries(SAMPLES))(
    'writes well-formed XML with no element beyond the plain ones: %s',
    (_name, make) => {
      const { lay, project } = make();
      const elements = parse(drawingToSvg(drawLay(lay, project, { page: 'a4', units: 'mm' })));
      expect(new Set(elements.map((e) => e.name))).toEqual(
        new Set(['svg', 'title', 'desc', 'g', 'path', 'text']),
      );
      for (const element of elements) {
        expect(Object.keys(element.attributes).filter((a) => /^on|href|style/u.test(a))).toEqual([]);
        for (const value of Object.values(element.attributes))
          expect(value).not.toMatch(/NaN|Infinity|undefined/u);
      }
    },
  );

  it('has its true size in millimetres', () => {
    const { lay, project } = singleLayer();
    const svg = parse(drawingToSvg(drawLay(lay, project, { page: 'a4', units: 'mm' })))[0]!;
    expect(svg.attributes.width).toBe('210mm');
    expect(svg.attributes.height).toBe('297mm');
    expect(svg.attributes.viewBox).toBe('0 0 210 297');
  });

  it('has a title, a description, a language, and an id for each layer', () => {
    const { lay, project } = twoSegments();
    const elements = parse(drawingToSvg(drawLay(lay, project, { page: 'a4', units: 'mm' })));
    expect(elements[0]!.attributes.lang).toBe('en');
    expect(elements.find((e) => e.name === 'title')!.text).toBe('Main – Cotton ticking: lay plan');
    expect(elements.find((e) => e.name === 'desc')!.text).toContain('Buy: 1.10 m');
    const ids = elements.flatMap((e) => (e.attributes.id === undefined ? [] : [e.attributes.id]));
    expect(ids).toEqual(
      ['page', 'cloth', 'pieces', 'labels', 'rulers', 'notes'].map((name) => `layer-${name}`),
    );
  });

  it('never lets a name become markup', () => {
    const { lay, project } = oddNames();
    const xml = drawingToSvg(drawLay(lay, project, { page: 'a4', units: 'mm' }));
    expect(xml).not.toMatch(/<script|<img|<b>|<here/u);
    const elements = parse(xml);
    expect(elements.some((e) => e.name === 'text' && e.text === '<script>alert(1)</script>')).toBe(true);
    expect(elements.find((e) => e.name === 'title')!.text).toContain('"><img src=x onerror=alert(3)>');
  });

  it('brings every text back as it was, less what XML cannot hold', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (text) => {
        const xml = drawingToSvg(
          drawingOf(
            [
              {
                kind: 'group',
                role: 'piece',
                title: text,
                data: { pieceId: text },
                items: [
                  { kind: 'text', role: 'note', x: 1, y: 2, size: 3, anchor: 'start', rotation: 0, text },
                ],
              },
            ],
            text,
          ),
        );
        const elements = parse(xml);
        const kept = text
          .replace(/[\p{Cc}\ufffe\uffff]/gu, (c) => (c === '\n' || c === '\t' ? c : ''))
          .replace(/\p{Cs}/gu, '');
        expect(elements.find((e) => e.name === 'text')!.text).toBe(kept);
        expect(elements.find((e) => e.name === 'title')!.text).toBe(kept);
        // A parser turns line ends and tabs within an attribute into blanks.
        expect(
          elements.find((e) => e.name === 'g' && e.attributes.class === 'piece')!.attributes['data-piece-id'],
        ).toBe(kept.replace(/[\n\t]/g, ' '));
      }),
      { numRuns: 300 },
    );
  });

  it('escapes the five characters that matter', () => {
    expect(escapeXml(`<a b="c" d='e'>&amp;`)).toBe('&lt;a b=&quot;c&quot; d=&#39;e&#39;&gt;&amp;amp;');
  });

  it('writes short numbers', () => {
    const xml = drawingToSvg(
      drawingOf([
        {
          kind: 'path',
          role: 'grain',
          lines: [
            [
              [-0.0001, 1 / 3],
              [10, 2.5],
            ],
          ],
          closed: false,
        },
        { kind: 'path', role: 'grain', lines: [[[5, 5]]], closed: false },
      ]),
    );
    expect(xml).toContain('d="M0 0.333L10 2.5"');
    expect(xml.match(/<path/gu)).toHaveLength(1);
  });
});
