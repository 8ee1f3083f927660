import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { readSvg, scaleFromKnown, scaleReading } from '../../pattern/reading/index.ts';
import { codes, drawn, expectSize, onPage, outlineOf, read } from './readings.ts';

const page = (head: string, content = '<rect id="r" width="96" height="48"/>'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${head}>${content}</svg>`;

describe('true size', () => {
  // CSS Values and Units 3 §6.2: 1in = 2.54cm = 96px = 72pt = 6pc, 1Q = 1/40 cm.
  test.each([
    ['1in', 25.4],
    ['2.54cm', 25.4],
    ['25.4mm', 25.4],
    ['72pt', 25.4],
    ['6pc', 25.4],
    ['101.6Q', 25.4],
    ['101.6q', 25.4],
  ])('a page %s wide is %f mm wide and known', (width, mm) => {
    const drawing = drawn(readSvg(page(`width="${width}" height="${width}" viewBox="0 0 96 96"`), 'a.svg'));
    expect(drawing.page.widthMm).toBeCloseTo(mm, 9);
    expect(drawing.scale).toMatchObject({ known: true, basis: 'physical', doubt: null, guesses: [] });
    expectSize(outlineOf(drawing, 'r'), 25.4, 12.7, 1e-6);
  });

  test.each([
    'width="96" height="96"',
    'width="96px" height="96px"',
    'viewBox="0 0 96 96"',
    'width="100%" viewBox="0 0 96 96"',
  ])('a page with %s is read at 96 to the inch, with a doubt', (head) => {
    const drawing = drawn(readSvg(page(head), 'a.svg'));
    expectSize(outlineOf(drawing, 'r'), 25.4, 12.7, 1e-6);
    expect(drawing.scale).toMatchObject({ known: false, basis: 'pixels' });
    expect(drawing.scale.doubt).toMatch(/does not say how large/);
    expect(drawing.scale.guesses).toEqual([
      { dpi: 90, factor: 96 / 90, likely: false },
      { dpi: 72, factor: 96 / 72, likely: false },
    ]);
  });

  test('a missing height follows from the viewBox', () => {
    const drawing = drawn(readSvg(page('width="210mm" viewBox="0 0 210 297"'), 'a.svg'));
    expect(drawing.page.heightMm).toBeCloseTo(297, 9);
    expectSize(outlineOf(drawing, 'r'), 96, 48, 1e-6);
  });

  test('the size may stand in the style', () => {
    const drawing = drawn(readSvg(page('style="width:50mm;height:25mm" viewBox="0 0 100 50"'), 'a.svg'));
    expectSize(outlineOf(drawing, 'r'), 48, 24, 1e-6);
    expect(drawing.scale.known).toBe(true);
  });

  test('an old writer of 90 dots per inch and one of 72 are recognised as likely', () => {
    const old = page(
      'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" inkscape:version="0.48.4 r9939" width="90" height="90"',
      '<rect id="r" width="90" height="45"/>',
    );
    const drawing = drawn(readSvg(old, 'a.svg'));
    expect(drawing.scale.guesses.filter(({ likely }) => likely)).toEqual([
      { dpi: 90, factor: 96 / 90, likely: true },
    ]);
    const corrected = drawn(scaleReading(drawing, 96 / 90));
    expectSize(outlineOf(corrected, 'r'), 25.4, 12.7, 1e-6);
    const points = `<!-- Generator: Adobe Illustrator 24.0 -->${page('width="72px" height="72px"')}`;
    expect(drawn(readSvg(points, 'a.svg')).scale.guesses[1]).toMatchObject({ dpi: 72, likely: true });
  });

  test('preserveAspectRatio moves but does not stretch, unless it says none', () => {
    const head = (preserve: string): string =>
      `width="200mm" height="100mm" viewBox="0 0 100 100" ${preserve}`;
    const square = '<rect id="r" width="100" height="100"/>';
    const box = (preserve: string) =>
      outlineOf(drawn(readSvg(page(head(preserve), square), 'a.svg')), 'r').box;
    expect(box('')).toEqual({
      minX: expect.closeTo(50, 9),
      maxX: expect.closeTo(150, 9),
      minY: expect.closeTo(0, 9),
      maxY: expect.closeTo(100, 9),
    });
    expect(box('preserveAspectRatio="xMinYMid"')).toMatchObject({
      minX: expect.closeTo(0, 9),
      maxX: expect.closeTo(100, 9),
    });
    expect(box('preserveAspectRatio="xMidYMin slice"')).toMatchObject({
      minX: expect.closeTo(0, 9),
      maxX: expect.closeTo(200, 9),
      minY: expect.closeTo(-100, 9),
      maxY: expect.closeTo(100, 9),
    });
    const stretched = drawn(readSvg(page(head('preserveAspectRatio="none"'), square), 'a.svg'));
    expectSize(outlineOf(stretched, 'r'), 200, 100, 1e-6);
    expect(codes(stretched)).toContain('uneven-scale');
  });

  test('y points up from the lower left corner of the page, rings run counter-clockwise', () => {
    const drawing = read(
      '<rect id="r" x="10" y="20" width="30" height="40"/><path id="p" d="M0 0 V10 H10 Z"/>',
    );
    expect(outlineOf(drawing, 'r').box).toEqual({
      minX: expect.closeTo(10, 9),
      minY: expect.closeTo(40, 9),
      maxX: expect.closeTo(40, 9),
      maxY: expect.closeTo(80, 9),
    });
    for (const { ring, areaMm2 } of drawing.outlines) {
      expect(areaMm2).toBeGreaterThan(0);
      expect(signedArea(ring)).toBeCloseTo(areaMm2, 9);
    }
  });

  test('the width of the line is told apart, also when it does not scale', () => {
    const drawing = read(
      '<g transform="scale(2)"><rect id="a" width="49.7" height="49.7" stroke="red" stroke-width="0.3" fill="none"/>' +
        '<rect id="b" width="5" height="5" style="stroke:red;stroke-width:0.96;vector-effect:non-scaling-stroke;fill:none"/></g>',
    );
    expect(outlineOf(drawing, 'a')).toMatchObject({
      widthMm: expect.closeTo(99.4, 9),
      strokeMm: expect.closeTo(0.6, 9),
      outerWidthMm: expect.closeTo(100, 9),
    });
    // 0.96 px of 1/96 in.
    expect(outlineOf(drawing, 'b').strokeMm).toBeCloseTo(0.254, 9);
  });
});

describe('correcting the scale', () => {
  test('one known length corrects everything, again and again, with curves as fine as before', () => {
    const tiny = page(
      'width="10" height="10" viewBox="0 0 10 10"',
      '<circle id="c" cx="5" cy="5" r="4"/><text x="1" y="1">x1</text>',
    );
    const first = drawn(readSvg(tiny, 'tiny.svg'));
    const factor = scaleFromKnown(outlineOf(first, 'c').widthMm, 400);
    const second = drawn(scaleReading(first, factor));
    expectSize(outlineOf(second, 'c'), 400, 400, 1e-6);
    expect(second.scale.doubt).toBeNull();
    for (const [x, y] of outlineOf(second, 'c').ring)
      expect(Math.hypot(x - second.page.widthMm / 2, y - second.page.heightMm / 2)).toBeCloseTo(200, 6);
    // The true circle is π·200²; chords within 0.05 mm enclose at most 2π·200·0.05 less.
    expect(outlineOf(second, 'c').areaMm2).toBeGreaterThan(Math.PI * 200 ** 2 - 2 * Math.PI * 200 * 0.05);
    const third = drawn(scaleReading(second, 0.5));
    expectSize(outlineOf(third, 'c'), 200, 200, 1e-6);
    expect(third.scale.factor).toBeCloseTo(factor / 2, 9);
    expect(third.texts[0]?.sizeMm).toBeCloseTo((first.texts[0]?.sizeMm ?? 0) * third.scale.factor, 9);
  });

  test('a length of nothing is no length', () => {
    expect(() => scaleFromKnown(0, 100)).toThrow(RangeError);
    expect(() => scaleFromKnown(10, Number.NaN)).toThrow(RangeError);
    expect(() => scaleFromKnown(1, 100_000)).toThrow(/between 0.001 and 1000/);
    const drawing = read('<rect width="1" height="1"/>');
    expect(() => scaleReading(drawing, -1)).toThrow(RangeError);
  });
});

describe('what is an outline', () => {
  test('every kind of shape', () => {
    const drawing = read(`
      <rect id="rect" width="20" height="10"/>
      <rect id="round" x="30" width="20" height="10" rx="3"/>
      <rect id="pill" x="30" y="20" width="20" height="10" rx="99" ry="2"/>
      <circle id="circle" cx="70" cy="10" r="5"/>
      <ellipse id="ellipse" cx="90" cy="10" rx="8" ry="4"/>
      <polygon id="polygon" points="100,0 110,0 110,10"/>
      <polyline id="polyline" fill="none" stroke="red" points="120 0, 130 0, 130 10, 120 0"/>
      <path id="path" d="M140 0 h10 v10 h-10 z m2 2 h6 v6 h-6 z"/>
      <line id="line" stroke="red" x1="160" x2="170" y1="0" y2="0"/>`);
    const kinds = drawing.outlines.map(({ id, shape }) => [id, shape]);
    expect(kinds).toEqual([
      ['rect', 'rect'],
      ['round', 'rect'],
      ['pill', 'rect'],
      ['circle', 'circle'],
      ['ellipse', 'ellipse'],
      ['polygon', 'polygon'],
      ['polyline', 'polyline'],
      ['path', 'path'],
      ['path.2', 'path'],
    ]);
    expect(outlineOf(drawing, 'round').areaMm2).toBeCloseTo(200 - (4 - Math.PI) * 9, 0);
    // Chords lie within 0.05 mm; the ellipse is less than 40 mm around.
    expect(outlineOf(drawing, 'ellipse').areaMm2).toBeGreaterThan(Math.PI * 32 - 40 * 0.05);
    expect(outlineOf(drawing, 'ellipse').areaMm2).toBeLessThan(Math.PI * 32);
    expectSize(outlineOf(drawing, 'pill'), 20, 10);
    expect(outlineOf(drawing, 'path.2').parent).toBe('path');
    expect(drawing.openLines.map(({ id, lengthMm }) => [id, lengthMm])).toEqual([
      ['line', expect.closeTo(10, 9)],
    ]);
    expect(codes(drawing)).toEqual(['open']);
  });

  test('only what can be seen is read', () => {
    const drawing = read(`
      <style>.gone{display:none} #unseen rect{visibility:hidden} .back{visibility:visible!important}</style>
      <defs><rect id="d1" width="5" height="5"/></defs><symbol><rect width="5" height="5"/></symbol>
      <clipPath id="k"><rect width="5" height="5"/></clipPath><mask><rect width="5" height="5"/></mask>
      <marker><path d="M0 0h5v5z"/></marker><pattern><rect width="5" height="5"/></pattern>
      <g style="display:none"><rect style="display:inline" width="5" height="5"/></g>
      <rect class="gone" width="5" height="5"/>
      <g id="unseen"><rect width="5" height="5"/><rect id="seen" class="back" width="6" height="6"/></g>
      <g opacity="0"><rect width="5" height="5"/></g>
      <rect fill="none" width="5" height="5"/>
      <rect fill-opacity="0" stroke="red" stroke-opacity="0%" width="5" height="5"/>
      <rect id="hairline" fill="none" stroke="red" stroke-width="0" width="7" height="7"/>`);
    expect(drawing.outlines.map(({ id }) => id)).toEqual(['seen', 'hairline']);
    expect(drawing.warnings.map(({ text }) => text)).toEqual([
      '4 hidden elements were left out.',
      'Shapes without line and fill were left out, because nothing of them can be seen: 2.',
    ]);
  });

  test('style sheets: specificity, order, style attribute, !important, inside and child', () => {
    const strokes = (css: string, shape: string): (string | null)[] =>
      read(`<style><![CDATA[${css}]]></style>${shape}`).outlines.map(({ strokeColour }) => strokeColour);
    const shape = '<g class="a b"><g><rect id="r" class="c" stroke="gold" width="5" height="5"/></g></g>';
    expect(strokes('', shape)).toEqual(['gold']);
    expect(strokes('rect{stroke:red}', shape)).toEqual(['red']);
    expect(strokes('rect{stroke:red} * {stroke:blue}', shape)).toEqual(['red']);
    expect(strokes('.c{stroke:red} rect{stroke:blue}', shape)).toEqual(['red']);
    expect(strokes('.c{stroke:red} .c{stroke:blue}', shape)).toEqual(['blue']);
    expect(strokes('#r{stroke:red} .a .b rect.c{stroke:blue}', shape)).toEqual(['red']);
    expect(strokes('.a rect{stroke:red} .a > rect{stroke:blue}', shape)).toEqual(['red']);
    expect(strokes('circle, g > rect, .x {stroke:red}', shape)).toEqual(['red']);
    expect(strokes('g.a.b rect{stroke:red!important} #r{stroke:blue}', shape)).toEqual(['red']);
    expect(
      strokes(
        '/* rect{stroke:red} */ @media print{rect{stroke:red}} @media screen{rect{stroke:blue}}',
        shape,
      ),
    ).toEqual(['blue']);
    expect(strokes('#r{stroke:red}', '<rect id="r" style="stroke:blue" width="5" height="5"/>')).toEqual([
      'blue',
    ]);
  });

  test('only plain colours are handed on', () => {
    const drawing = read(
      '<rect fill="url(javascript:x)" stroke="&quot;&gt;&lt;script" width="5" height="5"/><g color="teal"><rect fill="currentColor" width="6" height="6"/></g>',
    );
    expect(drawing.outlines.map(({ fillColour, strokeColour }) => [fillColour, strokeColour])).toEqual([
      [null, null],
      ['teal', null],
    ]);
  });
});

describe('clones', () => {
  test('clones of clones, symbols and references before the definition', () => {
    const drawing = read(`
      <use id="second" xlink:href="#first" transform="translate(0,50)"/>
      <use id="first" href="#thing" x="100" y="10"/>
      <g id="thing" transform="scale(2)"><rect id="r" width="10" height="5"/></g>
      <symbol id="s" viewBox="0 0 10 10"><circle id="c" cx="5" cy="5" r="5"/></symbol>
      <use id="big" href="#s" width="40" height="20"/>`);
    expect(drawing.outlines.map(({ id, clone }) => [id, clone])).toEqual([
      ['second/first/r', true],
      ['first/r', true],
      ['r', false],
      ['big/c', true],
    ]);
    expectSize(outlineOf(drawing, 'second/first/r'), 20, 10, 1e-9);
    expect(outlineOf(drawing, 'second/first/r').box.minX).toBeCloseTo(100, 9);
    expect(outlineOf(drawing, 'second/first/r').box.maxY).toBeCloseTo(40, 9);
    expectSize(outlineOf(drawing, 'big/c'), 20, 20, 1e-9);
    expect(outlineOf(drawing, 'big/c').box.minX).toBeCloseTo(10, 9);
  });

  test('a clone inherits the style of its use', () => {
    const drawing = read(
      '<defs><rect id="r" width="5" height="5"/></defs><use href="#r" fill="red"/><use href="#r" display="none"/><use href="#nowhere"/>',
    );
    expect(drawing.outlines.map(({ fillColour }) => fillColour)).toEqual(['red']);
    expect(codes(drawing)).toEqual(['hidden', 'clone-missing']);
  });
});

describe('words', () => {
  test('lines, places, anchors; words inside and beside an outline; a name offered', () => {
    const drawing = read(`
      <rect id="panel" x="10" y="10" width="60" height="60"/>
      <rect id="inner" fill="red" x="15" y="15" width="50" height="50"/>
      <text x="40" y="30" font-size="4" text-anchor="middle"><tspan x="40" y="30">12 cm</tspan><tspan x="40" dy="5">Side  panel</tspan></text>
      <rect id="rect99" x="100" y="10" width="20" height="20"/>
      <text font-size="4" transform="translate(102 38)">Cut 2 <tspan font-weight="bold">mirrored</tspan></text>
      <text x="5" y="5"> </text>
      <rect id="strap-keeper" x="150" y="70" width="10" height="10"/>
      <g><title>Loop</title><circle cx="180" cy="20" r="3"/></g>`);
    expect(drawing.texts.map(({ text, at, anchor, sizeMm }) => ({ text, at, anchor, sizeMm }))).toEqual([
      {
        text: '12 cm\nSide panel',
        at: [expect.closeTo(40, 9), expect.closeTo(70, 9)],
        anchor: 'middle',
        sizeMm: expect.closeTo(4, 9),
      },
      {
        text: 'Cut 2 mirrored',
        at: [expect.closeTo(102, 9), expect.closeTo(62, 9)],
        anchor: 'start',
        sizeMm: expect.closeTo(4, 9),
      },
    ]);
    expect(outlineOf(drawing, 'inner').textInside).toEqual(['12 cm\nSide panel']);
    expect(outlineOf(drawing, 'panel').textInside).toEqual(['12 cm\nSide panel']);
    expect(outlineOf(drawing, 'rect99')).toMatchObject({
      textInside: [],
      textBeside: ['Cut 2 mirrored'],
      suggestedName: '20 × 20 mm',
    });
    expect(outlineOf(drawing, 'strap-keeper').suggestedName).toBe('strap keeper');
    expect(drawing.outlines.at(-1)).toMatchObject({ label: 'Loop', suggestedName: 'Loop' });
  });

  test('labels of drawing programs count, their default names do not', () => {
    const label = (text: string): string =>
      read(
        `<g xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"><rect inkscape:label="${text}" width="10" height="10"/></g>`,
      ).outlines[0]?.suggestedName ?? '';
    expect(label('Flap, front')).toBe('Flap, front');
    expect(label('path1234-5')).toBe('10 × 10 mm');
  });
});

describe('turning, scaling and nesting', () => {
  const shape = fc.constantFrom(
    '<rect id="s" x="3" y="4" width="30" height="20" rx="5"/>',
    '<path id="s" d="M0 0 C30 -10 40 20 20 30 S-20 20 0 0 z"/>',
    '<path id="s" d="M0 0 A20 10 30 1 1 5 20 L-10 15 z"/>',
    '<polygon id="s" points="0,0 30,5 20,20 10,12 -5,18"/>',
  );

  test('areas grow with the square of the scale, whatever the turns', () => {
    fc.assert(
      fc.property(
        shape,
        fc.integer({ min: -720, max: 720 }),
        fc.double({ min: 0.3, max: 4, noNaN: true }),
        fc.boolean(),
        fc.integer({ min: -200, max: 200 }),
        (content, angle, scale, mirrored, shift) => {
          const plain = outlineOf(read(content), 's');
          const moved = outlineOf(
            read(
              `<g transform="translate(${shift} ${shift / 2})"><svg overflow="visible"><g transform="rotate(${angle}, 7, ${shift})"><g transform="scale(${mirrored ? -scale : scale},${scale})">${content}</g></g></svg></g>`,
            ),
            's',
          );
          // Chords within 0.05 mm on either side, around the outline.
          const slack = 0.06 * (plain.widthMm + plain.heightMm) * 2 * scale * (1 + scale);
          expect(Math.abs(moved.areaMm2 - plain.areaMm2 * scale ** 2)).toBeLessThan(slack);
        },
      ),
      { numRuns: 60 },
    );
  });

  test('quarter turns swap width and height exactly', () => {
    fc.assert(
      fc.property(shape, fc.integer({ min: -4, max: 4 }), (content, quarters) => {
        const plain = outlineOf(read(content), 's');
        const turned = outlineOf(read(`<g transform="rotate(${quarters * 90})">${content}</g>`), 's');
        const [width, height] =
          quarters % 2 === 0 ? [plain.widthMm, plain.heightMm] : [plain.heightMm, plain.widthMm];
        expectSize(turned, width, height, 1e-6);
      }),
    );
  });

  test('the same file gives the same ids and the same drawing', () => {
    const text = onPage(
      '<rect/><g><path d="M0 0h9v9z"/><path d="M0 0h8v8z"/></g><use href="#x"/><g id="x"><circle r="4"/></g>',
    );
    expect(readSvg(text, 'a.svg')).toEqual(readSvg(text, 'a.svg'));
  });

  test('a matrix in a style, with units, and a named origin', () => {
    const drawing = read(
      '<rect id="r" style="transform: translate(10px, 5mm) rotate(0.25turn)" width="10" height="4"/><rect id="o" transform-origin="50 50" transform="rotate(180)" x="40" y="40" width="20" height="10"/>',
    );
    expectSize(outlineOf(drawing, 'r'), 4, 10, 1e-9);
    expect(outlineOf(drawing, 'r').box.maxX).toBeCloseTo(10, 9);
    expect(outlineOf(drawing, 'o').box.maxY).toBeCloseTo(50, 9);
  });
});

describe('bytes', () => {
  const text = onPage('<rect id="r" width="10" height="10"/><text x="1" y="5">Größe</text>');
  test('UTF-8, UTF-16 and what the file itself names', () => {
    const utf16 = new Uint8Array([
      0xff,
      0xfe,
      ...[...text].flatMap((letter) => [letter.charCodeAt(0) & 255, letter.charCodeAt(0) >> 8]),
    ]);
    const latin = Uint8Array.from(`<?xml version="1.0" encoding="ISO-8859-1"?>${text}`, (letter) =>
      letter.charCodeAt(0),
    );
    for (const bytes of [new TextEncoder().encode(text), utf16, latin])
      expect(drawn(readSvg(bytes, 'a.svg')).texts[0]?.text).toBe('Größe');
  });

  test('a compressed file is named as such', () => {
    expect(readSvg(new Uint8Array([0x1f, 0x8b, 8, 0]), 'a.svgz')).toEqual({
      ok: false,
      fileName: 'a.svgz',
      message: expect.stringMatching(/compressed/),
    });
  });
});
