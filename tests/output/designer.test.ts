import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import {
  type DesignerTable,
  designerTableSchema,
  type TableCell,
  tableRequestSchema,
} from '../../pattern/exchange/designerTable.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { cellWork, type LayOnce, runTable, settled, tableKeys } from '../../pattern/lay/table/index.ts';
import { designerData, designerSheets } from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { box, INCH, smallProject, solveChecked } from '../support/layOf.ts';

/** The engine with few steps, so that figures don't hang on the machine's speed. */
const layQuickly: LayOnce = (asked) =>
  runLay(
    layRequestSchema.parse({ ...asked, seconds: 20, maxSteps: 20 }),
    solveChecked,
    () => {},
    new AbortController().signal,
  );

const run = (
  project: Parameters<typeof tableKeys>[0],
  request: Parameters<typeof tableKeys>[1],
  more: Partial<Parameters<typeof runTable>[0]> = {},
): Promise<DesignerTable> =>
  runTable({
    project,
    request,
    madeFrom: 'mark',
    atOnce: 2,
    lay: layQuickly,
    report: () => {},
    signal: new AbortController().signal,
    ...more,
  });

describe('figures of the table', () => {
  it('are what a piece needs, and that it cannot be cut at all from cloth that is too narrow', async () => {
    // A piece of 42 × 20 in along the grain: 20 in of 44 in cloth, impossible on 36 in cloth, whatever a conversion
    // chart by area says (About.com Sewing, “Fabric Yardage Conversion Chart”,
    // http://sewing.about.com/od/beginner1/ss/Fabric-Yardage-Conversion-Chart.htm).
    const project = smallProject({
      pieces: [{ name: 'Panel', outline: box(42 * INCH, 20 * INCH), plain: 1 }],
      cloth: { kind: 'roll', widthMm: 1000 },
    });
    const request = tableRequestSchema.parse({ widthsMm: [44 * INCH, 36 * INCH], naps: ['none'] });
    const { cells } = await run(project, request);
    expect(cells.map(({ verdict }) => verdict)).toEqual(['fits', 'cannot fit']);
    expect(cells[0]!.usedMm / INCH).toBeCloseTo(20, 6);
    expect(cells[0]!.buyMm % 100).toBe(0);
    expect(cells[1]!.usedMm).toBe(0);
  });

  it('see that wide cloth is not simply half of it', async () => {
    // Three pieces of 40 × 30 in: 90 in of 45 in cloth, 60 in of 90 in cloth, not 45 (fabrics.net, “I need less
    // fabric”, https://info.fabrics.net/i-need-less-fabric/).
    const project = smallProject({
      pieces: [{ name: 'Panel', outline: box(40 * INCH, 30 * INCH), plain: 3 }],
      cloth: { kind: 'roll', widthMm: 1000 },
    });
    const request = tableRequestSchema.parse({ widthsMm: [45 * INCH, 90 * INCH], naps: ['none'] });
    const { cells } = await run(project, request);
    expect(cells.map(({ usedMm }) => Math.round(usedMm / INCH))).toEqual([90, 60]);
  });

  it('are asked for with the width, nap, spread and size they stand for, and nothing else of the project changed', () => {
    const project = demoProject();
    const request = tableRequestSchema.parse({
      widthsMm: [1120],
      naps: ['oneWay'],
      spreads: ['folded'],
      sizes: [{ name: 'L', alongPercent: 110, acrossPercent: 105 }],
    });
    const key = tableKeys(project, request).find(({ materialId }) => materialId === 'canvas')!;
    const work = cellWork(project, request, key);
    expect(work.kind).toBe('lay');
    if (work.kind !== 'lay') return;
    const asked = layRequestSchema.parse(work.request);
    expect(asked.project.cloths).toMatchObject([{ widthMm: 1120, nap: 'oneWay', materialId: 'canvas' }]);
    expect(asked.project.sets).toMatchObject([{ times: 1, alongPercent: 110, acrossPercent: 105 }]);
    expect(asked.choices).toMatchObject([{ materialId: 'canvas', spread: 'folded' }]);
    expect(asked.project.pieces).toEqual(project.pieces);
  });

  it('say that vinyl is not folded, without a search', () => {
    const project = demoProject();
    const request = tableRequestSchema.parse({
      widthsMm: [1400],
      spreads: ['folded'],
      materialIds: ['vinyl'],
    });
    const [key] = tableKeys(project, request);
    expect(cellWork(project, request, key!)).toMatchObject({
      kind: 'known',
      cell: { verdict: 'not allowed' },
    });
  });
});

describe('what is found for one cloth', () => {
  const cell = (widthMm: number, nap: TableCell['nap'], usedMm: number): TableCell => ({
    materialId: 'm',
    size: 's',
    widthMm,
    nap,
    spread: 'single',
    verdict: usedMm > 0 ? 'fits' : 'not found',
    usedMm,
    buyMm: Math.ceil(usedMm / 100) * 100,
    piecesToTrace: 1,
    costCents: null,
  });

  it('holds on wider cloth and without nap, never the other way about', () => {
    const found = settled([
      cell(900, 'none', 1100),
      cell(900, 'oneWay', 1000),
      cell(1400, 'none', 0),
      cell(1400, 'oneWay', 700),
      cell(1500, 'oneWay', 800),
    ]);
    expect(found.map(({ usedMm, verdict }) => [usedMm, verdict])).toEqual([
      [1000, 'fits'],
      [1000, 'fits'],
      [700, 'fits'],
      [700, 'fits'],
      [700, 'fits'],
    ]);
  });
});

describe('a table that was stopped', () => {
  const project = smallProject({
    pieces: [
      { name: 'Panel', outline: box(420, 300), plain: 3 },
      { name: 'Strap', outline: box(60, 500), plain: 4 },
    ],
    cloth: { kind: 'roll', widthMm: 1400 },
  });
  const request = tableRequestSchema.parse({ widthsMm: [900, 1100, 1400], spreads: ['single', 'folded'] });

  it('keeps what it has, and goes on from there to the same figures', async () => {
    const whole = await run(project, request);
    const abort = new AbortController();
    let asked = 0;
    const half = await run(project, request, {
      atOnce: 1,
      signal: abort.signal,
      report: (_table, done) => {
        if (done === 5) abort.abort();
      },
    });
    expect(half.cells).toHaveLength(5);
    const kept = designerTableSchema.parse(JSON.parse(JSON.stringify(half)));
    // As the page asks again: the same sizes, their fields in another order than in what was kept.
    const sizes = request.sizes.map(({ name, acrossPercent, alongPercent }) => ({
      acrossPercent,
      name,
      alongPercent,
    }));
    const again = await run(
      project,
      { ...request, sizes },
      {
        begun: kept,
        lay: (one) => {
          asked += 1;
          return layQuickly(one);
        },
      },
    );
    expect(again).toEqual(whole);
    expect(asked).toBeLessThanOrEqual(tableKeys(project, request).length - 5);
  });

  it('is begun anew for another project or another effort', async () => {
    const first = await run(project, request);
    for (const change of [
      { madeFrom: 'another' },
      { request: { ...request, seconds: 7 } },
      { request: { ...request, sizes: [{ name: 'as drawn', alongPercent: 90, acrossPercent: 90 }] } },
    ]) {
      let asked = 0;
      await run(project, change.request ?? request, {
        begun: first,
        ...change,
        lay: (one) => {
          asked += 1;
          return layQuickly(one);
        },
      });
      expect(asked).toBeGreaterThan(0);
    }
  });
});

describe('files of the table', () => {
  it('hold every figure, and names that would run or break are only names', async () => {
    const project = smallProject({
      pieces: [{ name: 'Panel', outline: box(420, 300), plain: 1 }],
      cloth: { kind: 'roll', widthMm: 1400 },
    });
    const request = tableRequestSchema.parse({
      widthsMm: [900, 1400],
      sizes: [{ name: '=HYPERLINK("x")' }, { name: '<b>גדול</b>' }],
    });
    const table = await run(project, request);
    const names = { project: project.name, units: 'cm' as const, materials: project.materials };
    const data = designerData(table, names);
    expect(data.rows).toHaveLength(8);
    const sheets = designerSheets(table, names, 'letter');
    const said = sheets
      .flatMap(({ drawing }) => flatItems(drawing))
      .flatMap((item) => (item.kind === 'text' ? [item.text] : []));
    for (const cell of table.cells) expect(said).toContain(`${(cell.buyMm / 1000).toFixed(2)} m`);
    expect(said.some((text) => text.includes('<b>'))).toBe(true);
  });
});
