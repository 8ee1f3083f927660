/**
 * How long what is taken to the table takes to make, against the limits the project has set itself:
 *   npm run bench:paper -- [--only plan,tiles,table] [--threads 2] [--longer 8]
 * The plan of the demo as a PDF in less than a second; 81 tiles of A4 in less than two; the demo's cloth for 4 widths,
 * with and without nap, 3 ways to spread and 3 sizes, half a second a figure, in less than two minutes on two threads.
 * `--longer 8` works the table out again with eight times the time for each figure, and says by how much that shortened
 * it: how good the figures are. Ends with 1 where even the least time is over its limit.
 */
import { setMaxListeners } from 'node:events';
import { parseArgs } from 'node:util';
import { Pool } from '../../nesting/workers/pool.ts';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { type DesignerTable, tableRequestSchema } from '../../pattern/exchange/designerTable.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { layProject } from '../../pattern/lay/layProject.ts';
import { runTable } from '../../pattern/lay/table/index.ts';
import { pieceFromRectangle } from '../../pattern/measurements/index.ts';
import { fullPieceSheets, laysToCut, planSheets, type Sheet } from '../../pattern/output/index.ts';
import { sheetsToPdf } from '../../server/pdf/sheetsToPdf.ts';
import { describeMachine } from './machine.ts';
import { type SpeedRow, timed } from './speed.ts';
import { fixed, mean, table } from './table.ts';

const SECTIONS = ['plan', 'tiles', 'table'] as const;
const LIMIT_MS = { plan: 1_000, tiles: 2_000, table: 120_000 } as const;
const RUNS = 5;
const FACTS = { title: 'Bench', subject: '', lang: 'en' };
const never = new AbortController().signal;
// Every search under way listens to it.
setMaxListeners(0, never);

const { values } = parseArgs({
  options: {
    only: { type: 'string', default: SECTIONS.join(',') },
    threads: { type: 'string', default: '2' },
    longer: { type: 'string' },
  },
});
const wanted = values.only.split(',');
for (const section of wanted) {
  if (!SECTIONS.some((known) => known === section))
    throw new RangeError(`--only knows ${SECTIONS.join(', ')}, not ${section}`);
}
const threads = Number(values.threads);
const demo = demoProject();
const pool = new Pool({
  threads,
  entry: new URL('../../dist/nesting/workers/thread.js', import.meta.url),
});

interface Measured extends SpeedRow {
  readonly limitMs: number;
}

/** From layouts or pieces to the bytes of the file. */
async function timedFile(what: string, limitMs: number, make: () => readonly Sheet[]): Promise<Measured> {
  const row = await timed(what, RUNS, async () => {
    const before = process.cpuUsage();
    const start = performance.now();
    const sheets = make();
    const bytes = await sheetsToPdf(sheets, FACTS);
    const ms = performance.now() - start;
    const { user, system } = process.cpuUsage(before);
    const worked = Math.round((user + system) / 1000);
    return {
      ms,
      outcome: `${sheets.length} pages, ${Math.round(bytes.length / 1024)} kB, ${worked} ms of a processor`,
    };
  });
  return { ...row, limitMs };
}

async function demoPlan(): Promise<Measured> {
  const request = layRequestSchema.parse({ project: demo, choices: demo.layChoices, seconds: 1 });
  const { results } = await layProject(request, pool.solve, () => {}, never);
  const lays = laysToCut(demo, results);
  return timedFile(`plan of the demo, ${lays.length} cloths`, LIMIT_MS.plan, () =>
    lays.flatMap((lay) => planSheets(lay, demo, { page: 'a4', units: 'cm' })),
  );
}

/** A panel that takes nine sheets of A4 each way. */
async function tiles(): Promise<Measured> {
  const [across, along] = [9 * 190 - 40, 9 * 277 - 40];
  const panel = pieceFromRectangle({ id: 'panel', name: 'Picnic rug', acrossMm: across, alongMm: along });
  const project = { ...demo, pieces: [panel], cutList: [] };
  const options = { paper: 'a4', marginMm: 10, overlapMm: 0, unfold: false, units: 'cm' } as const;
  const count = fullPieceSheets([panel], project, options).filter(({ windows }) => windows).length;
  if (count !== 81) throw new Error(`the panel takes ${count} tiles, not 81`);
  return timedFile('a piece on 81 tiles', LIMIT_MS.tiles, () => fullPieceSheets([panel], project, options));
}

async function demoTable(seconds: number): Promise<{ ms: number; made: DesignerTable }> {
  const request = tableRequestSchema.parse({
    widthsMm: [900, 1120, 1400, 1500],
    spreads: ['single', 'folded', 'sequence'],
    sizes: [
      { name: 'S', acrossPercent: 92, alongPercent: 92 },
      { name: 'M' },
      { name: 'L', acrossPercent: 108, alongPercent: 108 },
    ],
    seconds,
  });
  const start = performance.now();
  const made = await runTable({
    project: demo,
    request,
    madeFrom: 'bench',
    begun: null,
    atOnce: threads,
    lay: (asked) => layProject(layRequestSchema.parse(asked), pool.solve, () => {}, never),
    report: () => {},
    signal: never,
  });
  return { ms: performance.now() - start, made };
}

async function designersTable(): Promise<{ row: Measured; quality: string }> {
  const seconds = 0.5;
  const { ms, made } = await demoTable(seconds);
  const count = (verdict: string) => made.cells.filter((cell) => cell.verdict === verdict).length;
  const outcome =
    `${made.cells.length} figures of ${seconds} s: ${count('fits')} fit, ${count('cannot fit')} proved not to, ` +
    `${count('not found')} open, ${count('not allowed')} not spread so`;
  const what = `table of 4 widths × 2 naps × 3 spreads × 3 sizes, ${threads} threads`;
  const row = { what, runs: 1, leastMs: ms, meanMs: ms, deviationMs: 0, outcome, limitMs: LIMIT_MS.table };
  if (values.longer === undefined) return { row, quality: '' };
  const longer = await demoTable(seconds * Number(values.longer));
  const won = made.cells.flatMap((cell, i) => {
    const after = longer.made.cells[i];
    return cell.verdict === 'fits' && after?.verdict === 'fits'
      ? [{ percent: 100 * (1 - after.usedMm / cell.usedMm), buys: after.buyMm !== cell.buyMm }]
      : [];
  });
  const percent = won.map((one) => one.percent);
  return {
    row,
    quality:
      `${values.longer} times as long shortened ${won.length} figures by ${fixed(mean(percent))} % on average, ` +
      `by ${fixed(Math.max(...percent))} % at most, and changed ${won.filter(({ buys }) => buys).length} lengths to buy`,
  };
}

const rows: Measured[] = [];
let quality = '';
try {
  if (wanted.includes('plan')) rows.push(await demoPlan());
  if (wanted.includes('tiles')) rows.push(await tiles());
  if (wanted.includes('table')) {
    const found = await designersTable();
    rows.push(found.row);
    quality = found.quality;
  }
} finally {
  await pool.close();
}
const { cpu, processors, node, date } = describeMachine();
console.log(`${cpu}, ${processors} processors, Node ${node}, ${date}\n`);
console.log(
  table(
    ['what', 'runs', 'least ms', 'mean ms', 'limit ms', 'outcome'],
    rows.map(({ what, runs, leastMs, meanMs, limitMs, outcome }) => [
      what,
      String(runs),
      fixed(leastMs, 0),
      fixed(meanMs, 0),
      String(limitMs),
      outcome,
    ]),
  ),
);
if (quality !== '') console.log(`\n${quality}`);
const missed = rows.filter(({ leastMs, limitMs }) => leastMs >= limitMs);
for (const { what } of missed) console.error(`over its limit: ${what}`);
process.exitCode = missed.length > 0 ? 1 : 0;
