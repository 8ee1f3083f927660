import { describe, expect, test } from 'vitest';
import { drawnAlike } from '../../pattern/proposals/alike.ts';
import { groundsOf } from '../../pattern/proposals/ground.ts';
import { heapsOf } from '../../pattern/proposals/heaps.ts';
import { guessInside } from '../../pattern/proposals/inside.ts';
import { materialSaid } from '../../pattern/proposals/instructions.ts';
import { strayWords } from '../../pattern/proposals/strayWords.ts';
import type { DrawingOutline, ReadDrawing } from '../../pattern/reading/drawing.ts';
import { readSvg } from '../../pattern/reading/svg.ts';
import { drawn, outlineOf } from '../reading/readings.ts';

/** A drawing of 500 × 400 mm in millimetres. */
const read = (body: string): ReadDrawing =>
  drawn(
    readSvg(
      `<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="400mm" viewBox="0 0 500 400" fill="none" stroke="#000" stroke-width="0.3">${body}</svg>`,
      'test.svg',
    ),
  );
const roles = (reading: ReadDrawing, id: string) => guessInside(reading, outlineOf(reading, id));
const ids = (outlines: readonly DrawingOutline[]): string[] => outlines.map(({ id }) => id);

describe('what lies in an outline', () => {
  test('the sew line is found beside other things, and what lies in it is seen too', () => {
    const reading = read(
      '<rect id="cut" width="200" height="100"/><rect id="sew" x="10" y="10" width="180" height="80"/>' +
        '<rect id="patch" x="30" y="30" width="60" height="40"/><circle id="eyelet" cx="150" cy="50" r="4"/>' +
        '<rect id="hem" width="200" height="8"/>',
    );
    expect(roles(reading, 'cut')).toEqual({
      sew: 'sewLine',
      hem: 'internal',
      patch: 'internal',
      eyelet: 'hole',
    });
  });

  test('a strip along the edge, a coloured patch, another pen and an arrow are no holes', () => {
    const reading = read(
      '<rect id="cut" width="300" height="200"/><rect id="strip" y="195" width="30" height="5"/>' +
        '<rect id="patch" x="20" y="20" width="20" height="20" fill="#aa8800"/>' +
        '<rect id="note" x="60" y="20" width="20" height="20" stroke="#ff0000"/>' +
        '<path id="arrow-head" d="M100 20h10l-5 10z"/><rect id="slot" x="140" y="20" width="20" height="20"/>',
    );
    expect(roles(reading, 'cut')).toEqual({
      strip: 'internal',
      patch: 'internal',
      note: 'internal',
      'arrow-head': 'internal',
      slot: 'hole',
    });
  });

  test('the inner loop of one filled element is a hole, however large', () => {
    const reading = read(
      '<path id="ring" fill="#888" fill-rule="evenodd" d="M0 0h90v90h-90zM5 5h80v80h-80z"/>',
    );
    expect(roles(reading, 'ring')).toEqual({ 'ring.2': 'hole' });
  });
});

describe('copies', () => {
  const wedge = (id: string, at: string): string =>
    `<path id="${id}" transform="${at}" d="M0 0h60v20l-40 20z"/>`;

  test('as drawn or turned by half are alike; mirror images are told apart; other shapes are none', () => {
    const reading = read(
      wedge('a', 'translate(10 10)') +
        wedge('copy', 'translate(10 70)') +
        wedge('turned', 'translate(160 110) rotate(180)') +
        wedge('left', 'translate(260 10) scale(-1 1)') +
        // The same box and area, another outline.
        '<path id="other" transform="translate(300 10)" d="M0 0h60v40h-20l-40 -20z"/>' +
        '<path id="step" transform="translate(300 70)" d="M0 0h60v22.222h-20v17.778h-20v-17.778h-20z"/>',
    );
    const { same, mirrored } = drawnAlike(reading, outlineOf(reading, 'a'));
    expect(ids(same)).toEqual(['copy', 'turned']);
    expect(ids(mirrored)).toContain('left');
    expect(ids([...same, ...mirrored])).not.toContain('step');
  });

  test('a shape that is its own mirror image is alike, not mirrored', () => {
    const reading = read(
      '<circle id="a" cx="50" cy="50" r="20"/><ellipse id="b" cx="150" cy="50" rx="20" ry="20"/>',
    );
    const { same, mirrored } = drawnAlike(reading, outlineOf(reading, 'a'));
    expect([ids(same), ids(mirrored)]).toEqual([['b'], []]);
  });
});

describe('heaps', () => {
  const strip = (x: number, y: number, width: number, height: number): string =>
    `<rect x="${x}" y="${y}" width="${width}" height="${height}"/>`;

  test('a finished shape with strips of allowance round it is one piece', () => {
    const reading = read(
      `<rect id="finished" x="20" y="20" width="200" height="100"/>${strip(10, 10, 220, 10)}${strip(10, 120, 220, 10)}${strip(10, 20, 10, 100)}${strip(220, 20, 10, 100)}`,
    );
    const [heap, ...others] = heapsOf(reading);
    expect(others).toEqual([]);
    expect(heap).toMatchObject({ core: ['finished'] });
    expect(heap?.ids).toHaveLength(5);
    expect(heap?.allowanceMm).toBeCloseTo(10, 9);
    expect([heap?.widthMm, heap?.heightMm].map((size) => size?.toFixed(3))).toEqual(['220.000', '120.000']);
  });

  test('outlines side by side are offered without such certainty; those that overlap or barely touch are not', () => {
    const reading = read(
      '<rect id="a" x="10" y="10" width="80" height="60"/><rect id="b" x="90" y="10" width="60" height="60"/>' +
        '<rect id="strap" x="60" y="40" width="120" height="25"/><rect id="tab" x="40" y="70" width="8" height="120"/>',
    );
    expect(heapsOf(reading)).toMatchObject([{ ids: ['a', 'b'], allowanceMm: null, core: [] }]);
  });
});

describe('grounds', () => {
  test('a cloth full of pieces and a frame round the page are no pieces', () => {
    const cloth = read(
      '<rect id="cloth" x="10" y="10" width="300" height="100"/>' +
        [0, 1, 2]
          .map((i) => `<rect id="p${i}" x="${10 + i * 100}" y="10" width="100" height="90"/>`)
          .join(''),
    );
    expect([...groundsOf(cloth)]).toEqual(['cloth']);
    // Edge to edge on a cloth is no reason to join them.
    expect(heapsOf(cloth)).toEqual([]);
    const frame = read(
      '<rect id="frame" x="5" y="5" width="490" height="390"/><rect id="a" x="20" y="20" width="60" height="60"/>' +
        '<rect id="b" x="120" y="20" width="60" height="60"/>',
    );
    expect([...groundsOf(frame)]).toEqual(['frame']);
  });

  test('a piece with its sew line, or with some patches on it, is one', () => {
    const reading = read(
      '<rect id="cut" x="5" y="5" width="490" height="390"/><rect id="sew" x="15" y="15" width="470" height="370"/>' +
        '<rect id="a" x="30" y="30" width="60" height="60"/><rect id="b" x="130" y="30" width="60" height="60"/>',
    );
    expect([...groundsOf(reading)]).toEqual([]);
    const patched = read(
      '<rect id="panel" x="50" y="50" width="300" height="200"/>' +
        [0, 1, 2].map((i) => `<rect x="${60 + i * 90}" y="60" width="60" height="60"/>`).join(''),
    );
    expect([...groundsOf(patched)]).toEqual([]);
  });
});

describe('words', () => {
  test('an instruction some way off belongs to the only outline near', () => {
    const reading = read(
      '<rect id="a" x="50" y="100" width="200" height="60"/><rect id="far" x="400" y="300" width="60" height="60"/>' +
        '<text x="100" y="60" font-size="6" fill="#000">Cut 2</text><text x="100" y="40" font-size="6" fill="#000">Good morning</text>',
    );
    expect(strayWords(reading, 'a')).toEqual(['Cut 2']);
    expect(strayWords(reading, 'far')).toEqual([]);
  });

  test('half way between two it belongs to neither', () => {
    const reading = read(
      '<rect id="a" x="50" y="100" width="200" height="60"/><rect id="b" x="50" y="10" width="200" height="10"/>' +
        '<text x="100" y="62" font-size="6" fill="#000">Cut 2</text>',
    );
    expect([...strayWords(reading, 'a'), ...strayWords(reading, 'b')]).toEqual([]);
  });

  test.each([
    [['Foam padding'], 'foam'],
    [['Schaumstoff'], 'foam'],
    [['Side panel', 'Lining'], 'lining'],
    [['Top fabric'], null],
    [['Interior pocket'], null],
    [['sew the lining to the facing along the upper edge'], null],
  ])('%j names %s', (texts, role) => {
    expect(materialSaid(texts)?.role ?? null).toBe(role);
  });
});
