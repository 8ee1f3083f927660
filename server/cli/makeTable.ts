import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { Solve } from '../../nesting/index.ts';
import { Pool } from '../../nesting/workers/pool.ts';
import {
  type DesignerTable,
  designerTableSchema,
  MOST_CELLS,
  type TableRequest,
  type TableSize,
  tableRequestSchema,
} from '../../pattern/exchange/designerTable.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type Project, SPREADS } from '../../pattern/exchange/project.ts';
import { USUAL_LANGUAGE } from '../../pattern/language.ts';
import { layProject } from '../../pattern/lay/layProject.ts';
import { cellWork, runTable, tableKeys, tableMaterials } from '../../pattern/lay/table/index.ts';
import { designerData, designerSheets, toCsv } from '../../pattern/output/index.ts';
import { parseLength, type ShownUnits } from '../../pattern/units/index.ts';
import { sheetsToPdf } from '../pdf/sheetsToPdf.ts';
import type { Arguments } from './arguments.ts';
import { InputError } from './inputError.ts';
import type { Streams } from './run.ts';
import { EXIT } from './verdict.ts';

/** Works out a designer's table and gives the exit code. A table that was stopped is kept, to be gone on with. */
export async function makeTable(
  project: Project,
  args: Arguments,
  streams: Streams,
  signal: AbortSignal,
): Promise<number> {
  const units = args.units ?? project.units;
  const request = tableRequest(project, args, units);
  const total = tableKeys(project, request).length;
  if (total === 0)
    throw new InputError('Nothing to work out: no material has both a cloth and pieces to cut.');
  if (total > MOST_CELLS) {
    throw new InputError(`That would be ${total} figures; a table has at most ${MOST_CELLS}.`);
  }
  const madeFrom = markOf(project);
  const pool = new Pool(args.threads === undefined ? {} : { threads: args.threads });
  let told = 0;
  await warmUp(project, request, pool.solve);
  let table: DesignerTable;
  try {
    table = await runTable({
      project,
      request,
      madeFrom,
      begun: begunTable(args),
      atOnce: args.threads ?? availableParallelism(),
      lay: (asked) => layProject(layRequestSchema.parse(asked), pool.solve, () => {}, signal),
      report: (now, done) => {
        if (args.out !== undefined) keep(args.out, now);
        const tenth = Math.floor((10 * done) / total);
        if (tenth === told) return;
        told = tenth;
        streams.error(`${done} of ${total} figures\n`);
      },
      signal,
    });
  } finally {
    await pool.close();
  }
  const names = { project: project.name, units, materials: tableMaterials(project, request) };
  const csv = toCsv(designerData(table, names));
  if (args.json) streams.out(`${JSON.stringify(table)}\n`);
  else if (args.out === undefined) streams.out(csv);
  if (args.out !== undefined) {
    writeFileSync(join(args.out, 'table.csv'), csv);
    const sheets = designerSheets(table, names, args.page);
    const facts = {
      title: `${project.name}: cloth needed`,
      subject: 'Cloth needed by width and size',
      lang: USUAL_LANGUAGE,
    };
    if (sheets.length > 0) writeFileSync(join(args.out, 'table.pdf'), await sheetsToPdf(sheets, facts));
    streams.error(`table.csv, table.pdf and table.json written to ${args.out}\n`);
  }
  if (table.cells.length < total) {
    streams.error(`Stopped at ${table.cells.length} of ${total} figures; --resume goes on from there.\n`);
  }
  const has = (verdict: 'cannot fit' | 'not found') => table.cells.some((cell) => cell.verdict === verdict);
  if (has('cannot fit')) return EXIT['cannot fit'];
  return has('not found') || table.cells.length < total ? EXIT['not found'] : EXIT.fits;
}

/** Threads that have just begun search slowly: without this the first figures of a table would be its worst. */
async function warmUp(project: Project, request: TableRequest, solve: Solve): Promise<void> {
  for (const key of tableKeys(project, request)) {
    const work = cellWork(project, request, key);
    if (work.kind !== 'lay') continue;
    const asked = layRequestSchema.parse({ ...work.request, seconds: Math.min(1, request.seconds) });
    await layProject(asked, solve, () => {}, new AbortController().signal);
    return;
  }
}

/** Plans and ticks have no bearing on a table. */
function markOf({ plans: _plans, cutting: _cutting, ...project }: Project): string {
  return createHash('sha256').update(JSON.stringify(project)).digest('hex');
}

function begunTable({ out, table }: Arguments): DesignerTable | null {
  if (!table.resume || out === undefined) return null;
  const file = join(out, 'table.json');
  if (!existsSync(file)) throw new InputError(`There is no table to go on from: ${file} is missing.`);
  try {
    return designerTableSchema.parse(JSON.parse(readFileSync(file, 'utf8')));
  } catch {
    throw new InputError(`${file} is no table that can be gone on from: leave --resume out to begin anew.`);
  }
}

/** Whole or not at all: a program that is ended while it writes leaves the table of the moment before. */
function keep(folder: string, table: DesignerTable): void {
  mkdirSync(folder, { recursive: true });
  const file = join(folder, 'table.json');
  writeFileSync(`${file}.new`, `${JSON.stringify(table)}\n`);
  renameSync(`${file}.new`, file);
}

function tableRequest(project: Project, args: Arguments, units: ShownUnits): TableRequest {
  const { widths, naps = 'none,one-way', spreads = 'single,folded', sizes } = args.table;
  for (const id of args.materials) {
    if (project.materials.some((material) => material.id === id)) continue;
    const known = project.materials.map((material) => material.id).join(', ');
    throw new InputError(`The project has no material "${id}". It has: ${known}.`);
  }
  const parsed = tableRequestSchema.safeParse({
    widthsMm: listOf(widths).map((text) => {
      const read = parseLength(text, units);
      if (read.ok) return read.mm;
      throw new InputError(`--widths: ${read.message}`);
    }),
    naps: listOf(naps).map((nap) => {
      if (nap === 'none') return nap;
      if (nap === 'one-way') return 'oneWay';
      throw new InputError(`--naps takes none and one-way, not "${nap}".`);
    }),
    spreads: listOf(spreads).map((text) => {
      const spread = SPREADS.find((known) => known === text);
      if (spread) return spread;
      throw new InputError(`--spreads takes ${SPREADS.join(', ')}, not "${text}".`);
    }),
    ...(sizes === undefined ? {} : { sizes: listOf(sizes).map(readSize) }),
    materialIds: args.materials,
    seconds: args.seconds,
    seed: args.seed,
  });
  if (parsed.success) return parsed.data;
  throw new InputError(
    parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`).join('\n'),
  );
}

function listOf(text: string): string[] {
  return text
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

/** `M=100`, or across and along: `Long=100x120`. */
function readSize(text: string): TableSize {
  const found = /^(.+?)\s*=\s*(\d+(?:\.\d+)?)(?:\s*x\s*(\d+(?:\.\d+)?))?\s*%?$/.exec(text);
  if (!found) throw new InputError(`--sizes takes names with per cent, such as "L=108", not "${text}".`);
  const [, name = '', across = '100', along] = found;
  return { name, acrossPercent: Number(across), alongPercent: Number(along ?? across) };
}
