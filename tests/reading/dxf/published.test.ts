/** DXF drawings that people published, and one made for its traps: sizes and counts that their open check data state. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { DxfParser } from 'dxf-parser';
import { describe, expect, test } from 'vitest';
import { unfold } from '../../../pattern/pieces/unfold.ts';
import { type ReadDrawing, readDxf } from '../../../pattern/reading/index.ts';
import { sharedFolder } from '../../support/sharedFolder.ts';
import { countOfSize, drawn, expectSize, saidIn } from '../readings.ts';

// Its CommonJS entry, which is the class itself; its types describe the other one.
const Parser = createRequire(import.meta.url)('dxf-parser') as typeof DxfParser;

const folder = sharedFolder();
const skipped = folder === null;

describe.skipIf(skipped)(
  `published DXF${skipped ? ' (skipped: no open check data at ../shared)' : ''}`,
  () => {
    const bytes = (name: string): Uint8Array => readFileSync(`${folder}inputs/${name}`);
    const readFile = (name: string): ReadDrawing => drawn(readDxf(bytes(name), name));

    // mathewlippincott/airpup-balloon, CERN-OHL-1.2.
    test('kite-fin: 14 loops of lines and arcs in nested blocks, in inches', () => {
      const drawing = readFile('kite-fin.dxf');
      expect(drawing.outlines).toHaveLength(14);
      for (const [width, height] of [
        [1346.2, 596.9],
        [710.41, 922.88],
        [656.17, 157.61],
        [1778, 25.4],
      ] as const)
        expect(countOfSize(drawing, width, height), `${width} × ${height}`).toBe(1);
      expect(countOfSize(drawing, 75, 50)).toBe(4);
      expect(drawing.outlines.filter(({ suggestedName }) => suggestedName === 'patch')).toHaveLength(5);
      expect(saidIn(drawing)).toMatch(/"annotation".*"MIRROR AXIS"/);
    });

    test('kite-envelope: splines, arcs and inserts', () => {
      const drawing = readFile('kite-envelope.dxf');
      expect(drawing.page.widthMm).toBeCloseTo(2265.56, 1);
      expect(drawing.page.heightMm).toBeCloseTo(1380.33, 1);
      expect(countOfSize(drawing, 2265.56, 1101.58)).toBe(1);
      expect(drawing.openLines.some(({ layer }) => layer === 'reference')).toBe(true);
    });

    test('made-d6673-blocks: pieces by the layers of ASTM D6673', () => {
      const drawing = readFile('made-d6673-blocks.dxf');
      expect(drawing.scale.known).toBe(false);
      const [front, pocket] = drawing.proposals ?? [];
      expect(front).toMatchObject({ name: 'FRONT', quantity: 1, material: 'MAIN', size: 'M', grainDeg: 90 });
      expect(pocket).toMatchObject({ name: 'POCKET', quantity: 2, material: 'LINING', foldEdge: null });
      const outline = drawing.outlines.find(({ id }) => id === front!.outlineId)!;
      expectSize(outline, 200, 220, 0.1);
      const { ring } = outline;
      const fold = [ring[front!.foldEdge!]!, ring[(front!.foldEdge! + 1) % ring.length]!] as const;
      const xs = unfold({ outline: ring, holes: [], fold }).outline.map(([x]) => x);
      expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(400, 6);
    });

    test('an independent reader finds as many parts of each kind', () => {
      for (const name of ['kite-fin.dxf', 'kite-envelope.dxf']) {
        const parsed = new Parser().parseSync(Buffer.from(bytes(name)).toString('latin1'));
        const layers = drawn(readDxf(bytes(name), name)).layers!.map(({ id }) => id);
        // Every layer, hidden or not: what is closed and open in all is what the other reader has as inserts and curves.
        const all = drawn(readDxf(bytes(name), name, { layers }));
        const blocks = parsed?.blocks ?? {};
        const lines = (list: readonly { type: string; name?: string }[]): number =>
          list.reduce((sum, entity) => {
            if (entity.type === 'INSERT') return sum + lines(blocks[entity.name ?? '']?.entities ?? []);
            return sum + (['LINE', 'ARC', 'SPLINE'].includes(entity.type) ? 1 : 0);
          }, 0);
        const strokes =
          all.openLines.length + all.outlines.reduce((sum, { mending }) => sum + strokesOf(mending?.text), 0);
        expect(strokes).toBe(lines(parsed?.entities ?? []));
      }
    });
  },
);

/** How many lines an outline was joined from. */
const strokesOf = (text: string | undefined): number => Number(/drawn as (\d+)/.exec(text ?? '')?.[1] ?? 1);
