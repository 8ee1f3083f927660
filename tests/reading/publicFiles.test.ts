/**
 * Pattern files that people published, read to the sizes and counts their open check data state (bounding boxes
 * without the width of the line, measured in Chromium). Sources: `jarmokivekas/sewing` (CC0-1.0; the square pack and
 * the yoke CC BY-SA 4.0), `Tempel/notebook` (CC BY-SA 4.0: leather notebook), `eTextile/Synth` (CC BY-SA 4.0: rings).
 * The files are not part of this project.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type ReadDrawing, readSvg, scaleReading, uniteOutlines } from '../../pattern/reading/index.ts';
import { sharedFolder } from '../support/sharedFolder.ts';
import { codes, countOfSize, drawn, expectSize, outlineOf } from './readings.ts';

const folder = sharedFolder();
const TENTH_MM = 0.1;

const readFile = (name: string): ReadDrawing => drawn(readSvg(readFileSync(`${folder}inputs/${name}`), name));

const skipped = folder === null;

describe.skipIf(skipped)(
  `published drawings${skipped ? ' (skipped: no open check data at ../shared)' : ''}`,
  () => {
    test('square-pack-pattern: the test square measures 100 mm to its outer edge only', () => {
      const drawing = readFile('square-pack-pattern.svg');
      const square = drawing.outlines.find(({ strokeMm }) => Math.abs(strokeMm - 0.608) < 0.001);
      expectSize(square, 99.392, 99.392, 0.001);
      expect(square?.outerWidthMm).toBeCloseTo(100, 3);
      expect(drawing.scale).toMatchObject({ known: true, mmPerUnitX: expect.closeTo(1, 6) });
      expect(countOfSize(drawing, 25, 2380)).toBe(1);
      expect(countOfSize(drawing, 500, 25)).toBe(1);
      expect(countOfSize(drawing, 900, 30)).toBe(1);
      expect(drawing.texts.every(({ text }) => text.trim() !== '')).toBe(true);
    });

    test('square-pack-hand-layout: the layout on the page, the rest of the drawing off it', () => {
      const drawing = readFile('square-pack-hand-layout.svg');
      const cloth = drawing.outlines.find(({ onPage, depth }) => onPage === 'inside' && depth === 0);
      expectSize(cloth, 1500, 490, TENTH_MM);
      const pieces = drawing.outlines.filter(({ parent }) => parent === cloth?.id);
      const sizes = pieces
        .map(({ widthMm, heightMm }) => `${widthMm.toFixed(0)}x${heightMm.toFixed(0)}`)
        .sort();
      expect(sizes).toEqual(
        [
          '370x300',
          '370x300',
          '320x300',
          '1300x140',
          '140x220',
          '140x220',
          '920x50',
          '170x300',
          '40x300',
          '50x300',
        ].sort(),
      );
      const used = pieces.reduce((sum, { areaMm2 }) => sum + areaMm2, 0) / (cloth?.areaMm2 ?? 0);
      expect(used * 100).toBeCloseTo(93.3, 1);
      // The finished sizes lie inside; the long zipper flap has none.
      const finished = drawing.outlines.filter(({ parent }) => pieces.some(({ id }) => id === parent));
      expect(finished).toHaveLength(9);
    });

    test('pouch-horizontal: six clones, webbing in inches', () => {
      const drawing = readFile('pouch-horizontal.svg');
      expect(countOfSize(drawing, 270, 180)).toBe(2);
      expect(countOfSize(drawing, 430, 110)).toBe(2);
      expect(
        drawing.outlines.filter(({ widthMm, clone }) => clone && Math.abs(widthMm - 430) < 0.1),
      ).toHaveLength(1);
      expect(countOfSize(drawing, 25.4, 304.8)).toBe(2);
      expect(countOfSize(drawing, 280, 25.4)).toBe(2);
      expect(countOfSize(drawing, 101.6, 25.4)).toBe(2);
      expect(drawing.outlines.filter(({ clone }) => clone)).toHaveLength(6);
      expect(new Set(drawing.outlines.map(({ id }) => id)).size).toBe(drawing.outlines.length);
    });

    test('pouch-vertical-zip: eleven clones, one of a clone', () => {
      const drawing = readFile('pouch-vertical-zip.svg');
      expect(countOfSize(drawing, 160, 320)).toBe(2);
      expect(countOfSize(drawing, 460, 110)).toBe(1);
      expect(countOfSize(drawing, 25.4, 416.41)).toBe(2);
      expect(countOfSize(drawing, 114.3, 25.4)).toBe(5);
      expect(countOfSize(drawing, 100, 25.4)).toBe(2);
    });

    test('pouch-lidded: pieces of abutting rectangles grow into a cross and a T', () => {
      const drawing = readFile('pouch-lidded.svg');
      // Without the webbing, which runs across them.
      const fabric = drawing.outlines.filter(({ widthMm }) => Math.abs(widthMm - 25.4) > 0.01);
      const [tee, cross] = uniteOutlines(fabric.map(({ ring }) => ring));
      expect(tee?.ring).toHaveLength(8);
      expect(cross?.ring).toHaveLength(12);
      expect([tee?.holes, cross?.holes]).toEqual([[], []]);
    });

    test('notebook-kit-cut: a style block and 32 hidden elements', () => {
      const drawing = readFile('notebook-kit-cut.svg');
      expect(countOfSize(drawing, 240, 170)).toBe(1);
      expect(countOfSize(drawing, 110, 130)).toBe(1);
      expect(countOfSize(drawing, 110, 170)).toBe(2);
      expect(drawing.warnings).toContainEqual({ code: 'hidden', text: '32 hidden elements were left out.' });
      expect(drawing.texts.some(({ text }) => /570\s*(x|×|mm)/.test(text))).toBe(true);
    });

    test('yoke-cut: two open halves that touch are one piece, three times', () => {
      const drawing = readFile('yoke-cut.svg');
      const yokes = drawing.outlines.filter(({ widthMm }) => Math.abs(widthMm - 791.53) <= TENTH_MM);
      expect(yokes).toHaveLength(3);
      for (const yoke of yokes) {
        expectSize(yoke, 791.53, 311.35, TENTH_MM);
        expect(yoke.areaMm2).toBeGreaterThan(84_019 - 10);
        expect(yoke.areaMm2).toBeLessThan(84_019 + 10);
        expect(yoke.mending?.kind).toBe('halves joined');
      }
      expect(countOfSize(drawing, 25.4, 440)).toBe(2);
      expect(countOfSize(drawing, 400, 40)).toBe(1);
      expect(countOfSize(drawing, 40, 127)).toBe(1);
      expect(countOfSize(drawing, 25.4, 100)).toBe(2);
    });

    test('mitten: lines without width', () => {
      const drawing = readFile('mitten.svg');
      expect(drawing.outlines).toHaveLength(5);
      for (const [width, height] of [
        [230, 390],
        [115, 390],
        [230, 140],
        [170, 120],
        [150, 100.09],
      ] as const)
        expect(countOfSize(drawing, width, height)).toBe(1);
    });

    test('poncho: nineteen clones, copies off the page', () => {
      const drawing = readFile('poncho.svg');
      const cut = drawing.outlines.find(({ onPage, depth }) => onPage === 'inside' && depth === 0);
      expectSize(cut, 1500, 2400, TENTH_MM);
      expectSize(
        drawing.outlines.find(({ parent }) => parent === cut?.id),
        1400,
        2300,
        TENTH_MM,
      );
      // The triangle, one side of 100 mm either way, also turned by 45°: always the same area.
      const triangles = drawing.outlines.filter(
        ({ areaMm2, ring }) => ring.length === 3 && Math.abs(areaMm2 - 5000) < 1,
      );
      expect(triangles.filter(({ clone }) => clone).length).toBeGreaterThanOrEqual(18);
      expect(countOfSize(drawing, 100, 100)).toBeGreaterThan(0);
      expect(codes(drawing)).toEqual(expect.arrayContaining(['hidden', 'off-page']));
    });

    test('skirt: an open half disc on a closed one', () => {
      const drawing = readFile('skirt-half-circle.svg');
      expect(countOfSize(drawing, 1240, 619)).toBe(1);
      const inner = drawing.outlines.find(({ strokeMm }) => Math.abs(strokeMm - 8) < 0.01);
      expectSize(inner, 440, 219, TENTH_MM);
      expect(inner?.mending?.kind).toBe('fill closed');
      const band = drawing.outlines.find(({ shape }) => shape === 'rect');
      expectSize(band, 698.86, 198.86, TENTH_MM);
      expect(band?.outerWidthMm).toBeCloseTo(700, 2);
      expect(band?.outerHeightMm).toBeCloseTo(200, 2);
    });

    test('throwline-bag: allowance strips stay apart until united', () => {
      const drawing = readFile('throwline-bag.svg');
      expect(countOfSize(drawing, 355.6, 101.6)).toBe(1);
      expect(countOfSize(drawing, 375.6, 10)).toBeGreaterThan(2);
      const united = uniteOutlines(drawing.outlines.map(({ ring }) => ring));
      const sizes = united.map(({ ring }) => {
        const xs = ring.map(([x]) => x);
        const ys = ring.map(([, y]) => y);
        return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)] as const;
      });
      // The last one's strips lie 0.4 mm apart in the file, which is why its height is within half a millimetre only.
      for (const [width, height, within] of [
        [375.6, 121.6, 0.1],
        [375.6, 96.2, 0.1],
        [121.6, 96.2, 0.5],
      ] as const)
        expect(sizes.some(([w, h]) => Math.abs(w - width) <= 0.1 && Math.abs(h - height) <= within)).toBe(
          true,
        );
      expect(sizes[0]?.[0]).toBeCloseTo(375.6, 1);
      for (const { ring, holes } of united.slice(0, 3)) {
        expect(ring).toHaveLength(4);
        expect(holes).toEqual([]);
      }
    });

    test('rolltop-pack: width in cm, moved origin, 429 hidden elements, an ellipse without width', () => {
      const drawing = readFile('rolltop-pack.svg');
      expect(drawing.warnings).toContainEqual({ code: 'hidden', text: '429 hidden elements were left out.' });
      // Sizes stated in whole millimetres; the person drew some by hand: 740.08 × 829.75, 299.75 × 530.50.
      const stated = [
        [740, 830, 720, 790],
        [300, 830, 280, 790],
        [300, 600, 280, 540],
        [1020, 190, 1000, 150],
        [300, 530, 280, 460],
        [300, 240, 280, 220],
      ] as const;
      for (const [cutWidth, cutHeight, width, height] of stated) {
        expect(countOfSize(drawing, cutWidth, cutHeight, 0.55), `${cutWidth} × ${cutHeight}`).toBeGreaterThan(
          0,
        );
        expect(countOfSize(drawing, width, height, 0.55), `${width} × ${height}`).toBeGreaterThan(0);
      }
      expect(countOfSize(drawing, 300, 830, 0.3)).toBe(2);
      expect(countOfSize(drawing, 450, 171, 0.3)).toBe(1);
    });

    test('hammock: far larger than its page', () => {
      const drawing = readFile('hammock.svg');
      const cloth = drawing.outlines.find(({ depth }) => depth === 0);
      expectSize(cloth, 3300, 1500, TENTH_MM);
      expect(drawing.outlines.filter(({ parent }) => parent === cloth?.id)).toHaveLength(4);
      expect(countOfSize(drawing, 3300, 10)).toBe(4);
    });

    test('notebook-leather: unit-less, drawn at 90 dots per inch', () => {
      const drawing = readFile('notebook-leather.svg');
      const cover = drawing.outlines.find(({ depth }) => depth === 0);
      expectSize(cover, 92.8, 237.2, TENTH_MM);
      expect(drawing.scale.known).toBe(false);
      const likely = drawing.scale.guesses.find((guess) => guess.likely);
      expect(likely?.dpi).toBe(90);
      const corrected = drawn(scaleReading(drawing, likely?.factor ?? 1));
      expectSize(outlineOf(corrected, cover?.id ?? ''), 99, 253, TENTH_MM);
      expect(corrected.page.widthMm).toBeCloseTo(9 * 25.4, 9);
      expect(corrected.page.heightMm).toBeCloseTo(13 * 25.4, 9);
      expect(corrected.outlines.filter(({ parent }) => parent === cover?.id)).toHaveLength(17);
      expect(corrected.openLines).toHaveLength(2);
    });

    test('conductive-rings: nine loops in eight elements', () => {
      const drawing = readFile('conductive-rings.svg');
      expect(drawing.outlines).toHaveLength(9);
      expect(new Set(drawing.outlines.map(({ elementId }) => elementId)).size).toBe(8);
    });
  },
);
