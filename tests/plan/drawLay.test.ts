import { describe, expect, it } from 'vitest';
import type { Drawing, GroupItem } from '../../pattern/plan/drawing.ts';
import { drawLay } from '../../pattern/plan/drawLay.ts';
import { bounds } from '../../pattern/plan/intervals.ts';
import type { LayDrawingOptions } from '../../pattern/plan/layArrangement.ts';
import { howClothLies } from '../../pattern/plan/layContent.ts';
import { layRows } from '../../pattern/plan/layRows.ts';
import { drawingToSvg } from '../../pattern/plan/svg.ts';
import { PAGE_MARGIN_MM, PAPERS, SCALES, TEXT } from '../../pattern/plan/tokens.ts';
import {
  lay as layOf,
  piece,
  placeAtCorner,
  project as projectOf,
  rect,
  type Sample,
} from '../support/handmadeLays.ts';
import { groups, isInside, paths, textBox, texts, words } from './drawingSupport.ts';
import { elevenMetres, longStrap, manySmall, nothingFits, oddNames } from './extremeLays.ts';
import { remnant, SAMPLES, singleLayer, twoSegments } from './sampleLays.ts';

const OPTIONS: Readonly<Record<string, LayDrawingOptions>> = {
  'on A4, mm': { page: 'a4', units: 'mm' },
  'on letter, inches': { page: 'letter', units: 'in' },
  'on a page that fits': { page: 'fit', units: 'cm' },
  bare: { page: 'fit', units: 'cm', bare: true },
};

const draw = ({ lay, project }: Sample, options: LayDrawingOptions = { page: 'a4', units: 'mm' }) =>
  drawLay(lay, project, options);

const pieceGroups = (drawing: Drawing) => groups(drawing).filter((g) => g.role === 'piece');

/** Outline and holes as filled: what is shown of the piece. */
function shownRings(group: GroupItem) {
  const fill = group.items[0];
  if (fill?.kind !== 'path') throw new Error('a piece begins with its fill');
  return fill.lines;
}

describe.each(Object.entries(SAMPLES))('the sample %s', (_name, make) => {
  describe.each(Object.entries(OPTIONS))('%s', (_way, options) => {
    const sample = make();
    const drawing = draw(sample, options);

    it('stays on its page, and off the margins of a sheet', () => {
      const margin = options.page === 'fit' ? 0 : PAGE_MARGIN_MM - 0.5;
      const page = paths(drawing)[0]!;
      const points = [
        ...paths(drawing)
          .filter((p) => p !== page)
          .flatMap((p) => p.lines.flat()),
        ...texts(drawing).flatMap(textBox),
      ];
      const box = bounds(points);
      expect(box.minX).toBeGreaterThanOrEqual(margin);
      expect(box.minY).toBeGreaterThanOrEqual(margin);
      expect(box.maxX).toBeLessThanOrEqual(drawing.widthMm - margin);
      expect(box.maxY).toBeLessThanOrEqual(drawing.heightMm - margin);
    });

    it('bears a label or a tag for every placement', () => {
      const rows = layRows(sample.lay, sample.project);
      const all = texts(drawing).map((t) => t.text);
      for (const placed of sample.lay.segments.flatMap((s) => s.placed)) {
        const row = rows.find((r) => r.pieceId === placed.pieceId && r.hand === placed.hand)!;
        const tag = `${row.key}${placed.copy}`;
        expect(all.filter((t) => t === tag || t.split(' · ').includes(tag)).length).toBeGreaterThan(0);
        const group = pieceGroups(drawing).find(
          ({ data }) =>
            data.pieceId === placed.pieceId && data.copy === String(placed.copy) && data.hand === placed.hand,
        );
        expect(group?.title).toContain(`${placed.copy} of ${placed.of}`);
      }
    });

    it('keeps words inside their pieces', () => {
      for (const group of pieceGroups(drawing)) {
        const rings = shownRings(group);
        for (const item of group.items) {
          if (item.kind !== 'text') continue;
          for (const corner of textBox(item)) {
            expect(isInside(rings, corner, 0.05), `${item.text} at ${corner}`).toBe(true);
          }
        }
      }
    });

    it('keeps grain line and top mark inside their pieces and off the words', () => {
      for (const group of pieceGroups(drawing)) {
        const rings = shownRings(group);
        const boxes = group.items.flatMap((i) =>
          i.kind === 'text' && i.role !== 'top-name' ? [textBox(i)] : [],
        );
        for (const item of group.items) {
          if (item.kind !== 'path' || (item.role !== 'grain' && item.role !== 'top')) continue;
          for (const point of item.lines.flat()) {
            expect(isInside(rings, point, 0.05)).toBe(true);
            expect(boxes.some((box) => isInside([box], point))).toBe(false);
          }
        }
      }
    });

    it('writes nothing smaller than can be read', () => {
      for (const text of texts(drawing)) expect(text.size).toBeGreaterThanOrEqual(TEXT.least);
    });

    it('has a round scale and states it', () => {
      expect(SCALES).toContain(drawing.scale);
      expect(words(drawing)).toContain(`Scale 1:${drawing.scale}`);
    });

    it('draws every piece in that scale', () => {
      const shown = new Map<string, number>();
      for (const group of pieceGroups(drawing)) {
        const box = bounds(shownRings(group)[0]!);
        const key = `${group.data.pieceId} ${group.data.hand} ${group.data.copy}`;
        shown.set(key, (shown.get(key) ?? 0) + box.maxX - box.minX);
      }
      for (const placed of sample.lay.segments.flatMap((s) => s.placed)) {
        const box = bounds(placed.outline);
        // Cut at the end of a row the parts add up.
        expect(shown.get(`${placed.pieceId} ${placed.hand} ${placed.copy}`)).toBeCloseTo(
          (box.maxX - box.minX) / drawing.scale,
          6,
        );
      }
    });

    it('has scale bars of their stated length', () => {
      const bars = groups(drawing).filter((g) => g.role === 'scale-bar');
      expect(bars).toHaveLength(2);
      for (const bar of bars) {
        const frame = bar.items.find((i) => i.kind === 'path' && i.role === 'scale-bar');
        if (frame?.kind !== 'path') throw new Error('a scale bar has an outline');
        const box = bounds(frame.lines[0]!);
        expect((box.maxX - box.minX) * drawing.scale).toBeCloseTo(Number(bar.data.lengthMm), 6);
        expect(box.maxX).toBeLessThanOrEqual(drawing.widthMm - (options.bare ? 2 : PAGE_MARGIN_MM));
        expect(box.minX).toBeGreaterThanOrEqual(0);
      }
    });

    it('says where the cloth lies, so that a screen can point at it', () => {
      for (const group of pieceGroups(drawing)) {
        const placed = sample.lay.segments[Number(group.data.segment)]!.placed.find(
          (p) =>
            p.pieceId === group.data.pieceId &&
            p.hand === group.data.hand &&
            String(p.copy) === group.data.copy,
        )!;
        const own = bounds(placed.outline);
        const frames = drawing.frames.filter((f) => f.segment === Number(group.data.segment));
        const lows = frames.map((f) => f.y - own.minY / drawing.scale);
        const box = bounds(shownRings(group)[0]!);
        expect(lows.some((y) => Math.abs(y - box.maxY) < 1e-6)).toBe(true);
        const lefts = frames.map((f) => f.x + (own.minX - f.fromMm) / drawing.scale);
        const starts = frames.map((f) => f.x);
        expect([...lefts, ...starts].some((x) => Math.abs(x - box.minX) < 1e-6)).toBe(true);
      }
    });

    it('is the same bytes each time', () => {
      expect(drawingToSvg(draw(make(), options))).toBe(drawingToSvg(drawing));
    });
  });
});

describe('a sheet', () => {
  it('is the paper asked for, turned as suits the cloth', () => {
    const roll = draw(longStrap());
    expect([roll.widthMm, roll.heightMm]).toEqual([PAPERS.a4.height, PAPERS.a4.width]);
    const square = draw(singleLayer(), { page: 'letter', units: 'in' });
    expect([square.widthMm, square.heightMm]).toEqual([PAPERS.letter.width, PAPERS.letter.height]);
  });

  it('shows five metres in one row at 1:20, eleven in several', () => {
    expect(draw(longStrap()).scale).toBe(20);
    expect(draw(longStrap()).frames).toHaveLength(1);
    const long = draw(elevenMetres());
    expect(long.frames.length).toBeGreaterThan(1);
    expect(words(long)).toContain('goes on in the next row');
    expect(words(long)).toContain('goes on from the row above');
  });

  it('gives the lengths to cut and to buy, the rest, and how much of the cloth is used', () => {
    const { lay } = singleLayer();
    const said = words(draw(singleLayer()));
    expect(said).toContain('1256 mm');
    expect(said).toContain('1.30 m');
    expect(said).toContain(`${lay.usePercent.toFixed(1)} %`);
    expect(said).toContain('left over 44 × 1450 mm');
    expect(said).toContain('Pieces to trace\n23');
  });

  it('measures in inches and yards where those are used', () => {
    const said = words(draw(singleLayer(), { page: 'letter', units: 'in' }));
    // 1256 mm = 49.449 in, to the sixteenth 49 7/16; bought 1.3 m = 1.4217 yd, to the eighth above 1 1/2.
    expect(said).toContain('≈ 49 7/16 in');
    expect(said).toContain('1 1/2 yd');
  });

  it('names the edges of a folded cloth, and where it is opened out', () => {
    const drawing = draw(twoSegments());
    const said = words(drawing);
    expect(said).toContain('FOLD – do not cut this edge');
    expect(said).toContain('both selvedges');
    expect(said).toContain('open the cloth out here');
    expect(said).toContain('doubled: every placement cuts two');
    expect(said).toContain('Part 1, 0 mm to 697 mm: fold the cloth lengthwise, right sides together.');
    expect(said).toContain('print: this way up');
    // The fold lies half the width below the selvedges, and the open part goes on down to the whole width.
    const fold = paths(drawing).find((p) => p.role === 'fold')!.lines[0]!;
    const cloth = paths(drawing)
      .filter((p) => p.role === 'cloth')
      .map((p) => bounds(p.lines[0]!));
    expect(fold[0]![1]).toBeCloseTo(cloth[0]!.maxY, 6);
    expect((cloth[0]!.maxY - cloth[0]!.minY) * drawing.scale).toBeCloseTo(560, 6);
    expect((cloth[1]!.maxY - cloth[1]!.minY) * drawing.scale).toBeCloseTo(1120, 6);
    expect(cloth[1]!.minY).toBeCloseTo(cloth[0]!.minY, 9);
  });

  it('keeps the hand of a row clear of its size, however long the words of the language', () => {
    const sample = singleLayer();
    for (const language of ['en', 'de'] as const) {
      const drawing = drawLay(sample.lay, sample.project, { page: 'letter', units: 'in', language });
      const small = texts(drawing).filter(({ role, size }) => role === 'table-text' && size === TEXT.least);
      const hands = small.filter(({ anchor, text }) => anchor === 'start' && /^\d+ × /.test(text));
      expect(hands.length).toBeGreaterThan(0);
      for (const hand of hands) {
        const size = small.find((other) => other.anchor === 'end' && other.y === hand.y && other.x > hand.x)!;
        expect(bounds(textBox(hand)).maxX, `${hand.text} | ${size.text}`).toBeLessThan(
          bounds(textBox(size)).minX,
        );
      }
    }
  });

  it('ends a part folded crosswise in its fold, also where the cloth goes on single', () => {
    const { lay, project } = twoSegments();
    const [first, ...rest] = lay.segments;
    const crosswise = { ...lay, segments: [{ ...first!, spread: 'crosswise' as const }, ...rest] };
    const ends = (part: typeof lay): number =>
      texts(drawLay(part, project, { page: 'a4', units: 'mm', segment: 0 })).filter(
        ({ text }) => text === 'cut end',
      ).length;
    expect(ends(lay)).toBe(2);
    expect(ends(crosswise)).toBe(1);
  });

  it('gives the opened size of a half piece, and marks its edge on the fold', () => {
    const drawing = draw(twoSegments());
    expect(words(drawing)).toContain('420 × 500 mm opened');
    const group = pieceGroups(drawing).find((g) => g.data.hand === 'fold')!;
    const edge = group.items.find((i) => i.kind === 'path' && i.role === 'fold-edge');
    if (edge?.kind !== 'path') throw new Error('no fold edge');
    expect(Math.abs(edge.lines[0]![1]![0] - edge.lines[0]![0]![0]) * drawing.scale).toBeCloseTo(420, 6);
  });

  it('tells hands apart by hatch and by word, not by colour alone', () => {
    const roles = (hand: string, sample: Sample) =>
      pieceGroups(draw(sample))
        .filter((g) => g.data.hand === hand)
        .flatMap((g) => g.items.map((i) => i.role));
    expect(roles('mirrored', singleLayer())).toContain('hatch-mirrored');
    expect(roles('pair', twoSegments())).toContain('hatch-pair');
    expect(roles('fold', twoSegments())).toContain('hatch-fold');
    expect(roles('plain', singleLayer()).filter((r) => r.startsWith('hatch'))).toEqual([]);
    for (const group of pieceGroups(draw(singleLayer()))) {
      const said = group.items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])).join(' ');
      if (/^[A-Z]+\d+$/u.test(said)) continue;
      const word = { mirrored: 'mirrored', plain: 'plain', either: 'no left or right' }[group.data.hand!];
      expect(said).toContain(word);
    }
  });

  it('counts pieces against the cut list', () => {
    const said = words(draw(twoSegments()));
    // Two placements of a pair cut four.
    expect(said).toContain('Side gusset\n2 × pair\n320 × 160 mm\n4 / 4');
    const missing = words(draw(oddNames()));
    expect(missing).toContain('1 / 2');
    expect(missing).toContain('Not on this cloth');
    expect(missing).toContain('Not everything has found a place yet.');
  });

  it('shows the cloth and the reason where nothing fits', () => {
    const drawing = draw(nothingFits());
    expect(words(drawing)).toContain(
      'Does not fit. Groundsheet is 1800 mm across, 400 mm wider than the cloth.',
    );
    expect(paths(drawing).some((p) => p.role === 'cloth')).toBe(true);
  });

  it('shows a remnant in its own outline, with its flaws named', () => {
    const drawing = draw(remnant());
    const cloth = paths(drawing).find((p) => p.role === 'cloth')!.lines[0]!;
    expect(cloth).toHaveLength(7);
    const box = bounds(cloth);
    expect((box.maxX - box.minX) * drawing.scale).toBeCloseTo(840, 6);
    expect(words(drawing)).toContain('flaw 1');
    expect(words(drawing)).toContain('flaw 2');
    expect(words(drawing)).not.toContain('Buy');
  });

  it('warns of the blade on every sheet, of heat where fumes would come of it', () => {
    expect(words(draw(singleLayer()))).toContain('Close the blade after every cut.');
    expect(words(draw(singleLayer()))).not.toContain('No heat');
    expect(words(draw(remnant()))).toContain('No heat on vinyl or foam');
    const { lay, project } = singleLayer();
    const foam = { ...project, materials: [{ ...project.materials[0]!, role: 'foam' as const }] };
    expect(words(draw({ lay, project: foam }))).toContain('No heat on vinyl or foam');
  });

  it('points the nap where all tops point, and only there', () => {
    const { lay, project } = singleLayer();
    expect(words(draw({ lay, project }))).toContain('nap: every top points this way');
    const placed = lay.segments[0]!.placed.map((p, i) => (i === 3 ? { ...p, topDeg: 180 } : p));
    const mixed = { ...lay, segments: [{ ...lay.segments[0]!, placed }] };
    expect(words(draw({ lay: mixed, project }))).not.toContain('nap: every top');
  });

  it('is told in words too how a cloth is laid, for those who cut without the paper', () => {
    const one = singleLayer();
    const single = howClothLies(one.lay, one.project, { units: 'cm' }).join(' ');
    expect(single).toMatch(/single layer/);
    expect(single).toMatch(/nap: every top points this way/);
    const two = twoSegments();
    const doubled = howClothLies(two.lay, two.project, { units: 'cm' }).join(' ');
    expect(doubled).toMatch(/Part 1, .*right sides together/);
    expect(doubled).toMatch(/Part 2, .*single layer, cloth opened out/);
    const rest = remnant();
    expect(howClothLies(rest.lay, rest.project, { units: 'cm' })[0]).toMatch(/remnant/);
  });

  it('marks the top of a piece that goes on in the next row only where its top is', () => {
    const straps = pieceGroups(draw(elevenMetres())).filter(
      ({ data }) => data.pieceId === 'edge' && data.copy === '1',
    );
    expect(straps.length).toBe(2);
    // Turned by 270 degrees its top points away from the cut end: it is in the second part.
    expect(straps.map((g) => g.items.some((i) => i.role === 'top'))).toEqual([false, true]);
  });

  it('draws one segment alone', () => {
    const { lay, project } = twoSegments();
    const second = drawLay(lay, project, { page: 'a4', units: 'mm', segment: 1 });
    expect(pieceGroups(second).map((g) => g.data.pieceId)).toEqual(['lid']);
    expect(second.scale).toBeLessThanOrEqual(draw(twoSegments()).scale);
    const first = drawLay(lay, project, { page: 'a4', units: 'mm', segment: 0 });
    expect(pieceGroups(first)).toHaveLength(5);
  });

  it('survives a lay whose cloth, material and pieces are gone from the project', () => {
    const { lay, project } = singleLayer();
    const bareProject = { ...project, pieces: [], materials: [], cloths: [], cutList: [] };
    expect(words(drawLay(lay, bareProject, { page: 'a4', units: 'mm' }))).toContain('gusset');
  });

  it('admits that small pieces bear no mark where there is no room at all', () => {
    const dot = piece('dot', 'Dot', rect(9, 9));
    const count = 1200;
    const placed = Array.from({ length: count }, (_, i) =>
      placeAtCorner(dot, { x: Math.floor(i / 100) * 9, y: (i % 100) * 9, copy: i + 1, of: count }),
    );
    const of = projectOf('Dots', [dot], [{ pieceId: 'dot', plain: count }], {
      kind: 'roll',
      id: 'r',
      name: 'Felt',
      widthMm: 900,
    });
    const drawing = drawLay(layOf(of, [{ spread: 'single', widthMm: 900, lengthMm: 108, placed }]), of, {
      page: 'a4',
      units: 'mm',
    });
    expect(words(drawing)).toMatch(/\d+ small pieces bear no mark at this scale/u);
    expect(words(drawing)).toContain('1200 / 1200');
  });

  it('ties tags to pieces too small for a word', () => {
    const drawing = draw(manySmall());
    const leaders = paths(drawing).filter((p) => p.role === 'leader');
    const dots = pieceGroups(drawing).filter((g) => g.data.pieceId === 'dot');
    expect(leaders.length).toBe(6);
    for (const { lines } of leaders) {
      expect(dots.some((g) => isInside(shownRings(g), lines[0]![1]!))).toBe(true);
    }
  });
});
