import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawLay } from '../../pattern/plan/drawLay.ts';
import type { LayDrawingOptions } from '../../pattern/plan/layArrangement.ts';
import { drawingToSvg } from '../../pattern/plan/svg.ts';
import type { Sample } from '../support/handmadeLays.ts';
import { elevenMetres, manySmall } from './extremeLays.ts';
import { remnant, singleLayer, twoSegments } from './sampleLays.ts';

/** See `fixtures/golden/README.md`. */
const FOLDER = new URL('../../fixtures/golden/', import.meta.url);
/** Engines may differ in the last bit of a sine; on paper that is nothing. */
const TOLERANCE_MM = 0.01;

const GOLDEN: readonly (readonly [string, () => Sample, LayDrawingOptions])[] = [
  ['plan-single-layer.svg', singleLayer, { page: 'a4', units: 'mm' }],
  ['plan-two-segments.svg', twoSegments, { page: 'a4', units: 'cm' }],
  ['plan-remnant.svg', remnant, { page: 'a4', units: 'mm' }],
  ['plan-many-small.svg', manySmall, { page: 'a4', units: 'mm' }],
  ['plan-eleven-metres.svg', elevenMetres, { page: 'a4', units: 'in' }],
];

/** A file as words and numbers by turns. */
function split(svg: string): { words: string; numbers: number[] } {
  const numbers: number[] = [];
  const words = svg.replace(/-?\d+(?:\.\d+)?/gu, (found) => {
    numbers.push(Number(found));
    return '#';
  });
  return { words, numbers };
}

describe('golden drawings', () => {
  it.each(GOLDEN)('%s is still drawn as it was looked at', (name, make, options) => {
    const { lay, project } = make();
    const svg = drawingToSvg(drawLay(lay, project, options));
    const file = new URL(name, FOLDER);
    if (process.env.GOLDEN === 'write') writeFileSync(file, svg);
    const now = split(svg);
    const then = split(readFileSync(file, 'utf8'));
    expect(now.words).toBe(then.words);
    expect(now.numbers).toHaveLength(then.numbers.length);
    const apart = now.numbers.filter((n, i) => Math.abs(n - then.numbers[i]!) > TOLERANCE_MM);
    expect(apart).toEqual([]);
  });
});
