/** Grain arrows, fold brackets and letters at edges as drawing programs draw them. */
import { describe, expect, it } from 'vitest';
import { findArrows } from '../../pattern/proposals/arrows.ts';
import { jointProposals } from '../../pattern/proposals/jointLetters.ts';
import { linesInside } from '../../pattern/proposals/linesInside.ts';
import type { ReadDrawing } from '../../pattern/reading/drawing.ts';
import { readSvg } from '../../pattern/reading/index.ts';
import { drawn, outlineOf } from '../reading/readings.ts';

const svg = (inner: string): ReadDrawing =>
  drawn(
    readSvg(
      `<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="400mm" viewBox="0 0 600 400" fill="none" stroke="#000" stroke-width="0.3" font-size="8"><defs><marker id="arrow"><path d="M0 0L5 2L0 4z"/></marker><marker id="dot"><circle r="2"/></marker></defs>${inner}</svg>`,
      'lines.svg',
    ),
  );

/** A pocket 200 × 150 with its lower left corner at (50, 300) of the page, y down. */
const POCKET = '<path id="pocket" d="M50 300 H250 V150 H50 Z"/>';
const grainOf = (inner: string) => {
  const reading = svg(`${POCKET}${inner}`);
  return linesInside(reading, outlineOf(reading, 'pocket')).grain;
};

describe('the grain', () => {
  it.each<[string, string]>([
    ['an open head at one end', '<path d="M150 280 V180 M147 188 L150 180 L153 188"/>'],
    [
      'open heads at both ends, drawn line by line',
      '<g><line x1="150" y1="280" x2="150" y2="180"/><line x1="150" y1="180" x2="146" y2="190"/><line x1="150" y1="180" x2="154" y2="190"/><line x1="150" y1="280" x2="146" y2="270"/><line x1="150" y1="280" x2="154" y2="270"/></g>',
    ],
    ['one line through tip and barbs', '<path d="M150 280 L150 180 L146 190 M150 180 L154 190"/>'],
    ['a filled head', '<path d="M150 280 V186"/><path fill="#000" d="M147 188 L150 178 L153 188 Z"/>'],
    [
      'filled heads with a notch behind, at both ends',
      '<path d="M150 280 V180"/><path fill="#000" d="M146 190 L150 180 L154 190 L150 187 Z"/><path fill="#000" d="M146 270 L150 280 L154 270 L150 273 Z"/>',
    ],
    ['an empty triangle', '<path d="M150 280 V190"/><path d="M145 190 L150 180 L155 190 Z"/>'],
    ['a marker of the file', '<path d="M150 280 V180" marker-end="url(#arrow)"/>'],
  ])('is read from %s', (_, arrow) => {
    expect(grainOf(arrow)).toMatchObject({ deg: 90, by: 'arrow' });
  });

  it('has any direction', () => {
    // Along (100, 100) on the page: y down there, so 135° seen with y up.
    const head = '<path d="M100 190 L200 290 M200 290 l-9 -4 M200 290 l-4 -9"/>';
    expect(grainOf(head)?.deg).toBeCloseTo(135, 6);
  });

  it('is not a line with dots, a measure from edge to edge, a cross or a V', () => {
    expect(grainOf('<path d="M150 280 V180" marker-end="url(#dot)"/>')).toBeNull();
    expect(grainOf('<path d="M50 220 H250 M54 217 L50 220 L54 223 M246 217 L250 220 L246 223"/>')).toBeNull();
    expect(grainOf('<path d="M150 280 V180 M140 180 H160"/>')).toBeNull();
    expect(grainOf('<path d="M140 280 L150 180 L160 280"/>')).toBeNull();
  });

  it('is not a measure with its figure, also where the arrow is interrupted for it', () => {
    expect(
      grainOf(
        '<path d="M90 280 V180" marker-start="url(#arrow)" marker-end="url(#arrow)"/><text x="93" y="230">100 mm</text>',
      ),
    ).toBeNull();
    expect(
      grainOf(
        '<path d="M90 280 V240" marker-end="url(#arrow)" marker-start="url(#arrow)"/><text x="82" y="230">10 cm</text>',
      ),
    ).toBeNull();
  });

  it('is one arrow where it is cut at the edge of a sheet', () => {
    const cut =
      '<path d="M150 280 V230.2 M150 230 V180 M147 188 L150 180 L153 188 M147 272 L150 280 L153 272"/>';
    const reading = svg(`${POCKET}${cut}`);
    expect(findArrows(reading)).toMatchObject([{ heads: [true, true], lengthMm: 100 }]);
  });

  it('is in doubt where arrows point in several directions', () => {
    const two =
      '<path d="M150 280 V180 M147 188 L150 180 L153 188 M70 200 H120 M112 197 L120 200 L112 203"/>';
    expect(grainOf(two)).toMatchObject({ deg: 90, sure: false });
  });

  it('is what words call so, before longer arrows', () => {
    const arrow = '<path d="M150 290 V160 M147 168 L150 160 L153 168"/>';
    const called = '<path d="M70 250 H130"/><text x="75" y="245">Fadenlauf</text>';
    expect(grainOf(called)).toMatchObject({ deg: 0, by: 'word' });
    expect(
      grainOf(`${arrow}<path d="M70 250 H130 M125 247 L130 250 L125 253"/><text x="75" y="245">grain</text>`),
    ).toMatchObject({ deg: 0, by: 'arrow' });
  });

  it('tells what is only there to draw it', () => {
    const reading = svg(
      `${POCKET}<path id="shaft" d="M150 280 V186"/><path id="head" fill="#000" d="M147 188 L150 178 L153 188 Z"/>`,
    );
    expect(linesInside(reading, outlineOf(reading, 'pocket')).grain?.drawnBy).toEqual(['shaft', 'head']);
    expect(findArrows(reading)).toHaveLength(1);
  });
});

describe('the fold edge', () => {
  const foldOf = (inner: string) => {
    const reading = svg(`${POCKET}${inner}`);
    const outline = outlineOf(reading, 'pocket');
    const { fold, grain } = linesInside(reading, outline);
    const a = fold && outline.ring[fold.edge];
    const b = fold && outline.ring[(fold.edge + 1) % outline.ring.length];
    return { fold, grain, xs: [a?.[0], b?.[0]] };
  };

  it('is the one a bracketed arrow points to', () => {
    // Its legs point left, at the edge x = 50.
    const bracket = '<path d="M52 280 H68 V170 H52 M56 277 L52 280 L56 283 M56 167 L52 170 L56 173"/>';
    const { fold, grain, xs } = foldOf(bracket);
    expect(fold).toMatchObject({ by: 'bracket', lengthMm: 150 });
    expect(xs).toEqual([50, 50]);
    // The back of the bracket is no grain.
    expect(grain).toBeNull();
  });

  it('needs heads or a word: three sides alone are a place for a pocket', () => {
    const bare = '<path d="M52 280 H68 V170 H52"/>';
    expect(foldOf(bare).fold).toBeNull();
    expect(foldOf(`${bare}<text x="72" y="220">Bruch</text>`).fold?.by).toBe('bracket');
  });

  it('is the one the word stands at, and not a long sentence', () => {
    expect(foldOf('<text x="110" y="296">place on FOLD</text>')).toMatchObject({
      fold: { by: 'word', lengthMm: 200 },
      xs: [50, 250],
    });
    expect(foldOf('<text x="60" y="225">Stoffbruch</text>').xs).toEqual([50, 50]);
    expect(foldOf('<text x="55" y="225">Fold at 3 inches</text>').fold).toBeNull();
    expect(foldOf('<text x="110" y="230">fold</text>').fold).toBeNull();
  });
});

describe('letters at edges', () => {
  it('pair edges of two outlines, and say what has no partner', () => {
    const reading = svg(`
      <path id="left" d="M20 300 H170 V100 H20 Z"/><text x="155" y="200">A</text>
      <path id="right" d="M200 300 H380 V100 H200 Z"/><text x="205" y="200">A</text><text x="285" y="112">B</text>
      <path id="other" d="M400 300 H500 V250 H400 Z"/><text x="440" y="260">C</text>
      <path id="third" d="M400 200 H500 V147 H400 Z"/><text x="492" y="170">C</text>`);
    const { pairs, lone } = jointProposals(reading);
    expect(
      pairs.map(({ letter, first, second, offMm }) => [letter, first.outlineId, second.outlineId, offMm]),
    ).toEqual([
      ['A', 'left', 'right', 0],
      ['C', 'other', 'third', 47],
    ]);
    expect(pairs[0]?.first.lengthMm).toBe(200);
    expect(lone.map(({ letter, outlineId }) => [letter, outlineId])).toEqual([['B', 'right']]);
  });

  it('take numbers and marks only where two edges of one length have them', () => {
    const reading = svg(`
      <path id="a" d="M20 300 H170 V100 H20 Z"/><text x="155" y="200">1</text><text x="95" y="112">7</text><text x="90" y="297">★</text>
      <path id="b" d="M200 300 H380 V100 H200 Z"/><text x="205" y="200">1</text><text x="290" y="112">7</text>
      <path id="c" d="M20 380 H170 V320 H20 Z"/><text x="90" y="330">★</text>`);
    expect(jointProposals(reading).pairs.map(({ letter }) => letter)).toEqual(['1', '★']);
    expect(jointProposals(reading).lone).toEqual([]);
  });

  it('leave sizes and names in the middle alone', () => {
    const reading = svg(`${POCKET}<text x="150" y="230">A</text><text x="240" y="200">M</text>`);
    expect(jointProposals(reading)).toEqual({ pairs: [], lone: [] });
  });
});
