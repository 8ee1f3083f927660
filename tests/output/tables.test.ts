import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import {
  consumptionTable,
  cutListTable,
  positionsTable,
  toCsv,
  toRecords,
} from '../../pattern/output/index.ts';
import { oddNames } from '../plan/extremeLays.ts';
import { singleLayer } from '../plan/sampleLays.ts';

/** Reads CSV by the grammar of RFC 4180, section 2, and by nothing of ours. */
function parseCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let rest = text;
  while (rest !== '') {
    const field = /^(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/.exec(rest);
    if (field === null) throw new Error(`not CSV at: ${rest.slice(0, 40)}`);
    row.push(field[1]?.replaceAll('""', '"') ?? field[2]!);
    if (field[3] !== ',') {
      rows.push(row);
      row = [];
    }
    rest = rest.slice(field[0].length);
  }
  return rows;
}

describe('CSV', () => {
  it('comes back as it was, quotes, commas and line breaks included', () => {
    const safe = fc.string({ unit: 'binary' }).filter((text) => !/^['=+\-@\t\r＋－＝＠]/.test(text));
    fc.assert(
      fc.property(fc.array(fc.tuple(safe, safe), { minLength: 1 }), (rows) => {
        const text = toCsv({ columns: ['a', 'b'], rows });
        expect(text.startsWith('\ufeff')).toBe(true);
        expect(parseCsv(text.slice(1))).toEqual([['a', 'b'], ...rows]);
      }),
    );
  });

  it('lets no text begin a formula, and leaves numbers alone', () => {
    const rows = ['=1+1', '+cmd', '-2', '@SUM(A1)', '\t=1', '\r=1', '＝1', 'a=b'].map((text) => [text, -2.5]);
    const read = parseCsv(toCsv({ columns: ['text', 'number'], rows }).slice(1)).slice(1);
    expect(read.map(([text]) => text)).toEqual([
      "'=1+1",
      "'+cmd",
      "'-2",
      "'@SUM(A1)",
      "'\t=1",
      "'\r=1",
      "'＝1",
      'a=b',
    ]);
    expect(read.every(([, number]) => number === '-2.5')).toBe(true);
  });
});

describe('the cut list as a table', () => {
  const project = demoProject();
  const { rows } = toRecords(cutListTable(project));

  it('has every row with its counts and sizes', () => {
    expect(rows).toHaveLength(project.cutList.length);
    const copies = project.cutList.reduce((sum, row) => sum + row.plain + row.mirrored + row.onFold, 0);
    expect(rows.reduce((sum, row) => sum + (row.total as number), 0)).toBe(copies);
    expect(rows.find((row) => row.piece_id === 'strap')).toMatchObject({
      piece: 'Lashing strap',
      material: 'Waxed canvas',
      plain: 4,
      width_mm: 60,
      height_mm: 620,
      area_cm2: 372,
      drawn_as: 'whole',
    });
  });

  it('leaves sizes of a faulty piece empty, and loses no row', () => {
    const bowTie = [
      [0, 0],
      [100, 100],
      [100, 0],
      [0, 100],
    ] as const;
    const pieces = project.pieces.map((piece) =>
      piece.id === 'strap' ? { ...piece, outline: bowTie } : piece,
    );
    const table = toRecords(cutListTable({ ...project, pieces })).rows;
    expect(table).toHaveLength(project.cutList.length);
    expect(table.find((row) => row.piece_id === 'strap')).toMatchObject({
      plain: 4,
      width_mm: null,
      area_cm2: null,
    });
  });
});

describe('lays as tables', () => {
  it('give four points a piece, in millimetres', () => {
    const { lay, project } = singleLayer();
    const { rows } = toRecords(positionsTable([lay], project));
    expect(rows).toHaveLength(4 * lay.segments[0]!.placed.length);
    const strap = rows.filter((row) => row.key === 'I1');
    expect(strap.map((row) => [row.point, row.along_mm, row.across_mm])).toEqual([
      ['near', 20, 1368],
      ['far', 1000, 1428],
      ['low', 1000, 1368],
      ['high', 20, 1428],
    ]);
  });

  it('give what is cut, bought and spent', () => {
    const { lay, project } = singleLayer();
    const [row] = toRecords(consumptionTable([lay], project)).rows;
    expect(row).toMatchObject({
      kind: 'roll',
      verdict: lay.verdict,
      used_mm: 1256,
      buy_mm: lay.buyMm,
      not_placed: 0,
      cost_cents: lay.costCents,
    });
  });

  it('keep odd names as text: every field is read back, no field starts a formula', () => {
    const { lay, project } = oddNames();
    const csv = toCsv(positionsTable([lay], project)).slice(1);
    const read = parseCsv(csv);
    expect(new Set(read.map((row) => row.length)).size).toBe(1);
    expect(read.flat().filter((field) => /^[=+@]/.test(field))).toEqual([]);
    expect(read.some((row) => row.includes('<script>alert(1)</script>'))).toBe(true);
  });
});
