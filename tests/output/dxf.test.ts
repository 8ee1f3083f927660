import dxfParser from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { dxfText, layToDxf, piecesToDxf } from '../../pattern/output/index.ts';
import { readDxf } from '../../pattern/reading/index.ts';
import { oddNames } from '../plan/extremeLays.ts';
import { remnant, singleLayer, twoSegments } from '../plan/sampleLays.ts';
import { area, lay, piece, placeAtCorner, project, rect } from '../support/handmadeLays.ts';

/** What the tests look at of what the library reads. */
interface Entity {
  readonly type: string;
  readonly layer: string;
  readonly vertices?: readonly { readonly x: number; readonly y: number }[];
  readonly shape?: boolean;
  readonly text?: string;
  readonly name?: string;
  readonly position?: { readonly x: number; readonly y: number };
}
interface Dxf {
  readonly header: Record<string, unknown>;
  readonly tables: { readonly layer: { readonly layers: Record<string, unknown> } };
  readonly blocks: Record<string, { readonly entities?: readonly Entity[] }>;
  readonly entities: readonly Entity[];
}

/** Opened by a library that shares nothing with the writer (dxf-parser). */
function read(text: string): Dxf {
  const Parser = ('default' in dxfParser ? dxfParser.default : dxfParser) as new () => {
    parseSync(source: string): unknown;
  };
  return new Parser().parseSync(text) as Dxf;
}

const ringOf = (entity: Entity) => entity.vertices!.map(({ x, y }) => [x, y] as const);
const on = (layer: string) => (entity: Entity) => entity.layer === layer;

describe('pieces as DXF', () => {
  const demo = demoProject();
  const dxf = read(piecesToDxf(demo.pieces, demo));

  it('are one block each, inserted once, in millimetres', () => {
    expect(Object.keys(dxf.blocks)).toHaveLength(demo.pieces.length);
    const inserts = dxf.entities.filter(({ type }) => type === 'INSERT');
    expect(inserts.map(({ name }) => name)).toEqual(Object.keys(dxf.blocks));
    expect(dxf.header).toMatchObject({ $ACADVER: 'AC1009', $MEASUREMENT: 1, $INSUNITS: 4 });
    expect(Object.keys(dxf.tables.layer.layers)).toEqual(expect.arrayContaining(['1', '7', '8', '11', '15']));
  });

  it('have their cut line on layer 1 with the area of the piece, the sew line on 14, words on 15', () => {
    Object.values(dxf.blocks).forEach(({ entities = [] }, i) => {
      const source = demo.pieces[i]!;
      const cut = entities.filter(on('1'));
      expect(cut).toHaveLength(1);
      expect(cut[0]).toMatchObject({ type: 'POLYLINE', shape: true });
      expect(area(ringOf(cut[0]!))).toBeCloseTo(area(source.outline), 0);
      expect(entities.filter(on('14'))).toHaveLength(
        source.marks.filter(({ kind }) => kind === 'sewLine').length,
      );
      const words = entities.filter(on('15')).map(({ text }) => text);
      expect(words).toContain(`Piece Name: ${source.name}`);
      expect(entities.filter(on('7'))).toHaveLength(1);
      // A half piece, and no other, has a mirror line (layer 6).
      expect(entities.filter(on('6'))).toHaveLength(source.foldEdge === null ? 0 : 1);
    });
  });

  it('have the allowance outside the sew line, cut-outs on 11, marks on 8 and 4, grain by its angle', () => {
    const source = piece('window', 'Window', rect(200, 100), {
      holes: [[...rect(60, 40)].map(([x, y]) => [x + 50, y + 30] as const).reverse()],
      line: 'sew',
      allowanceMm: 10,
      grainDeg: 30,
      marks: [
        {
          kind: 'internal',
          points: [
            [10, 10],
            [90, 10],
          ],
          closed: false,
        },
        {
          kind: 'notch',
          points: [
            [0, 50],
            [6, 50],
          ],
          closed: false,
        },
      ],
    });
    const of = project('Case', [source], [{ pieceId: 'window', plain: 2 }], {
      kind: 'roll',
      id: 'c',
      name: 'c',
      widthMm: 900,
    });
    const [block] = Object.values(read(piecesToDxf([source], of)).blocks);
    const entities = block!.entities!;
    expect(area(ringOf(entities.find(on('1'))!))).toBeCloseTo(220 * 120, 3);
    expect(entities.filter(on('14')).map((entity) => area(ringOf(entity)))).toEqual([
      expect.closeTo(200 * 100, 3),
      expect.closeTo(60 * 40, 3),
    ]);
    expect(area(ringOf(entities.find(on('11'))!))).toBeCloseTo(40 * 20, 3);
    expect([entities.filter(on('8')).length, entities.filter(on('4')).length]).toEqual([1, 1]);
    const [a, b] = entities.find(on('7'))!.vertices!;
    expect((Math.atan2(b!.y - a!.y, b!.x - a!.x) * 180) / Math.PI).toBeCloseTo(30, 3);
  });
});

describe('a lay as DXF', () => {
  const total = (dxf: Dxf, layer: string) =>
    Object.values(dxf.blocks)
      .flatMap(({ entities = [] }) => entities.filter(on(layer)))
      .reduce((sum, entity) => sum + area(ringOf(entity)), 0);

  it.each([
    ['a single layer', singleLayer],
    ['two parts', twoSegments],
    ['a remnant', remnant],
  ])('of %s has every placed cut line in its place', (_name, make) => {
    const sample = make();
    const dxf = read(layToDxf(sample.lay, sample.project));
    const placed = sample.lay.segments.flatMap((segment) => segment.placed);
    expect(Object.keys(dxf.blocks)).toHaveLength(placed.length);
    expect(total(dxf, '1')).toBeCloseTo(
      placed.reduce((sum, { outline }) => sum + area(outline), 0),
      0,
    );
    Object.values(dxf.blocks).forEach(({ entities = [] }, i) => {
      const [x, y] = ringOf(entities.find(on('1'))!)[0]!;
      expect([x, y]).toEqual([
        expect.closeTo(placed[i]!.outline[0]![0], 3),
        expect.closeTo(placed[i]!.outline[0]![1], 3),
      ]);
    });
    expect(dxf.entities.filter(on('CLOTH')).length).toBeGreaterThanOrEqual(sample.lay.segments.length);
  });

  it('has cut-outs on layer 11 and marks turned with their piece', () => {
    const hole = [
      [30, 30],
      [30, 50],
      [60, 50],
      [60, 30],
    ] as const;
    const source = piece('w', 'Window', rect(200, 100), {
      holes: [hole],
      marks: [
        {
          kind: 'internal',
          points: [
            [0, 80],
            [200, 80],
          ],
          closed: false,
        },
      ],
    });
    const of = project('Case', [source], [{ pieceId: 'w', plain: 1 }], {
      kind: 'roll',
      id: 'c',
      name: 'c',
      widthMm: 900,
    });
    const placed = placeAtCorner(source, { x: 10, y: 20, rotation: 90 });
    const dxf = read(
      layToDxf(lay(of, [{ spread: 'single', widthMm: 900, lengthMm: 300, placed: [placed] }]), of),
    );
    expect(total(dxf, '11')).toBeCloseTo(600, 3);
    const [block] = Object.values(dxf.blocks);
    const line = ringOf(block!.entities!.find(on('8'))!);
    // Upright by a quarter turn: 20 mm from the edge that was the top and is now the left one.
    expect(line.map(([x]) => x)).toEqual([expect.closeTo(30, 3), expect.closeTo(30, 3)]);
  });

  it('keeps odd names as text: the file still reads, with no line of its own from a name', () => {
    const sample = oddNames();
    const text = layToDxf(sample.lay, sample.project);
    const dxf = read(text);
    expect(Object.keys(dxf.blocks)).toHaveLength(sample.lay.segments[0]!.placed.length);
    expect(text).toMatch(/^[\x20-\x7e\r\n]*$/);
    const names = Object.values(dxf.blocks).flatMap(({ entities = [] }) =>
      entities.filter(on('15')).map((e) => e.text),
    );
    expect(names).toContain('A1 <script>alert(1)</script>');
  });

  it('writes any text as one line of ASCII', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(dxfText(text)).toMatch(/^[\x20-\x7e]*$/);
      }),
    );
    expect(dxfText('Größe\n  0\r\nEOF')).toBe('Gr\\U+00F6\\U+00DFe 0 EOF');
    expect(dxfText('50%%d \\P ^J')).toBe('50% %d /P ^ J');
  });

  it('of nothing is a file with no piece', () => {
    const of: Project = project('Empty', [], [], { kind: 'roll', id: 'c', name: 'c', widthMm: 900 });
    const dxf = read(layToDxf(lay(of, []), of));
    expect(dxf.blocks).toEqual({});
  });
});

describe('pieces as DXF read back as pieces', () => {
  it('keep outline, name, number, grain, fold and sew line', () => {
    const demo = demoProject();
    const reading = readDxf(piecesToDxf(demo.pieces, demo), 'pieces.dxf');
    if (!reading.ok) throw new Error(reading.message);
    const proposals = reading.proposals ?? [];
    expect(proposals.map(({ name }) => name)).toEqual(demo.pieces.map(({ name }) => name));
    proposals.forEach((proposal, i) => {
      const source = demo.pieces[i]!;
      const outline = reading.outlines.find(({ id }) => id === proposal.outlineId)!;
      expect(Math.abs(outline.areaMm2 / area(source.outline) - 1)).toBeLessThan(1e-4);
      const asked = demo.cutList.filter((row) => row.pieceId === source.id);
      expect(proposal.quantity).toBe(
        asked.reduce((sum, row) => sum + row.plain + row.mirrored + row.onFold, 0),
      );
      expect(proposal.grainDeg).toBeCloseTo(source.grainDeg, 3);
      expect(proposal.foldEdge === null).toBe(source.foldEdge === null);
      expect(proposal.sewLineIds).toHaveLength(source.marks.filter(({ kind }) => kind === 'sewLine').length);
    });
  });
});
