import { describe, expect, it } from 'vitest';
import {
  type ClothRules,
  type Demand,
  isOwnMirrorImage,
  type RollCloth,
  spreadOnRoll,
  whyNotSpread,
} from '../../nesting/cloth/index.ts';
import type { Outline } from '../../nesting/index.ts';
import { rules } from './rules.ts';

const INCH = 25.4;
const roll = (width: number, over: Partial<ClothRules> = {}): RollCloth => ({
  kind: 'roll',
  id: 'roll',
  wholeWidth: width,
  edge: 0,
  foldable: true,
  faded: [],
  flaws: [],
  look: { bars: 'none', hasMotif: false, isMatched: false },
  rules: rules(over),
});
const box = (w: number, h: number): Outline => [
  [0, 0],
  [w, 0],
  [w, h],
  [0, h],
];
/** A panel with one corner cut off: no mirror image of itself. */
const lopsided: Outline = [
  [0, 0],
  [200, 0],
  [200, 100],
  [120, 150],
  [0, 150],
];
const demand = (outline: Outline, over: Partial<Demand> = {}): Demand => ({
  id: 'panel',
  outline,
  plain: 1,
  mirrored: 0,
  grainDeg: 90,
  topDeg: 90,
  mirrorTurns: [],
  ...over,
});
/** Which items come out: "spread hand × quantity". */
const items = (cloth: RollCloth, demands: Demand[], spread: 'single' | 'folded'): string[] =>
  spreadOnRoll(cloth, demands, spread).stretches.flatMap((stretch) =>
    stretch.problem.items.map(
      (item, i) => `${stretch.spread} ${stretch.meanings[i]!.hand} × ${item.quantity}`,
    ),
  );

describe('hands on a single layer', () => {
  it('makes plain and mirrored copies different items', () => {
    expect(items(roll(1000), [demand(lopsided, { plain: 2, mirrored: 2 })], 'single')).toEqual([
      'single plain × 2',
      'single mirrored × 2',
    ]);
  });

  it('lets the engine choose on a reversible cloth', () => {
    const { stretches } = spreadOnRoll(
      roll(1000, { reversible: true }),
      [demand(lopsided, { mirrored: 1 })],
      'single',
    );
    expect(stretches[0]!.problem.items[0]!.quantity).toBe(2);
    expect(new Set(stretches[0]!.problem.items[0]!.poses.map((p) => p.mirrored))).toEqual(
      new Set([false, true]),
    );
  });

  it('drops hands for a piece that is its own mirror image within the rules', () => {
    const upright = demand(box(120, 80), { plain: 1, mirrored: 1, mirrorTurns: [0, 180] });
    expect(items(roll(1000), [upright], 'single')).toEqual(['single either × 2']);
  });

  it('keeps hands where only a forbidden turn would make the mirror image the piece again', () => {
    // Mirrored, this piece is itself only after half a turn: upside down on a napped cloth.
    const turned = demand(box(120, 80), { mirrorTurns: [180] });
    expect(isOwnMirrorImage(turned, rules())).toBe(true);
    expect(isOwnMirrorImage(turned, rules({ nap: 'oneWay' }))).toBe(false);
    expect(isOwnMirrorImage({ ...turned, mirrorTurns: [0] }, rules({ nap: 'oneWay' }))).toBe(true);
  });
});

describe('folded lengthwise', () => {
  it('gives a pair a placement, and the rest to the single layer', () => {
    expect(items(roll(1000), [demand(lopsided, { plain: 3, mirrored: 2 })], 'folded')).toEqual([
      'folded pair × 2',
      'single plain × 1',
    ]);
  });

  it('may lay the paper either way up on doubled cloth', () => {
    const { stretches } = spreadOnRoll(roll(1000), [demand(lopsided, { mirrored: 1 })], 'folded');
    expect(new Set(stretches[0]!.problem.items[0]!.poses.map((p) => p.mirrored))).toEqual(
      new Set([false, true]),
    );
  });

  it('never makes two identical plain copies of a piece that is no mirror image of itself', () => {
    expect(items(roll(1000), [demand(lopsided, { plain: 2 })], 'folded')).toEqual(['single plain × 2']);
  });

  it('three left and three right are three doubled placements; three and two are not purely doubled', () => {
    // Pairs from doubled cloth: https://www.cucicucicoo.com/2015/10/how-to-cut-mirrored-pattern-pieces/
    expect(items(roll(1000), [demand(lopsided, { plain: 3, mirrored: 3 })], 'folded')).toEqual([
      'folded pair × 3',
    ]);
    expect(items(roll(1000), [demand(lopsided, { plain: 3, mirrored: 2 })], 'folded')).toContain(
      'single plain × 1',
    );
  });

  it('moves what is too deep for the folded cloth to the single layer', () => {
    expect(items(roll(300), [demand(box(200, 100), { plain: 2, mirrorTurns: [0] })], 'folded')).toEqual([
      'single either × 2',
    ]);
  });

  it('lays a half on the fold, once for each whole piece', () => {
    const whole = box(200, 120);
    const outline = box(100, 120);
    const half = { outline, fold: [outline[3]!, outline[0]!] as const };
    const onFold = demand(whole, { plain: 2, half, mirrorTurns: [0] });
    expect(items(roll(1000), [onFold], 'folded')).toEqual(['folded fold × 2']);
    expect(spreadOnRoll(roll(1000), [onFold], 'folded').stretches[0]!.problem.items[0]!.onFold).toBe(true);
    expect(items(roll(1000), [onFold], 'single')).toEqual(['single either × 2']);
  });

  it('says so when a fold edge runs across the grain, and cuts the whole piece from the single layer', () => {
    const outline = box(100, 120);
    const half = { outline, fold: [outline[0]!, outline[1]!] as const };
    const spreading = spreadOnRoll(roll(1000), [demand(box(100, 240), { half, mirrorTurns: [0] })], 'folded');
    expect(spreading.remarks).toEqual([{ demand: 'panel', kind: 'foldOffGrain' }]);
    expect(spreading.stretches.map((s) => s.spread)).toEqual(['single']);
  });

  it('is refused for vinyl, and for a print whose up lies across the cloth', () => {
    expect(whyNotSpread({ ...roll(1000), foldable: false }, 'folded')).toBe('notFoldable');
    expect(whyNotSpread(roll(1000, { upDeg: 90 }), 'folded')).toBe('printAcross');
    expect(whyNotSpread(roll(1000, { upDeg: 180 }), 'folded')).toBeNull();
    expect(() => spreadOnRoll({ ...roll(1000), foldable: false }, [demand(lopsided)], 'folded')).toThrow(
      RangeError,
    );
  });
});

describe('too wide for the cloth', () => {
  it('a 42 × 20 in piece along the grain fits 44 in cloth and is refused on 36 in cloth, by 6 in', () => {
    // A piece wider than the new cloth can't be cut whatever a chart says:
    // http://sewing.about.com/od/beginner1/ss/Fabric-Yardage-Conversion-Chart.htm
    const wide = demand(box(42 * INCH, 20 * INCH));
    expect(spreadOnRoll(roll(44 * INCH), [wide], 'single').refusals).toEqual([]);
    const [refusal] = spreadOnRoll(roll(36 * INCH), [wide], 'single').refusals;
    expect(refusal!.needs - refusal!.has).toBeCloseTo(6 * INCH, 6);
  });

  it('accepts a panel exactly as wide as the cloth', () => {
    expect(spreadOnRoll(roll(0.1 + 0.2), [demand(box(0.3, 1))], 'single').refusals).toEqual([]);
  });

  it('measures a freely turning piece by its least width', () => {
    // A square of side 100 stood on its corner is 141.4 mm wide, but it may be turned.
    const corner: Outline = [
      [0, -70.710678],
      [70.710678, 0],
      [0, 70.710678],
      [-70.710678, 0],
    ];
    expect(spreadOnRoll(roll(110), [demand(corner)], 'single').refusals).toHaveLength(1);
    expect(spreadOnRoll(roll(110, { turn: 'free' }), [demand(corner)], 'single').refusals).toEqual([]);
  });
});
