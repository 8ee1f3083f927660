import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pickAll } from '../../client/reading/takeAll.ts';
import type { Point } from '../../nesting/packing/types.ts';
import { readAnyDrawing } from '../../pattern/reading/index.ts';
import { ownSeeds, publishedSeeds } from '../support/seedDrawings.ts';
import { type TiledItem, tiledPdf } from '../support/tiledPdf.ts';

/** What reading one file to proposals took, in a process of its own that reads it twice. */
export interface ReadingRow {
  readonly file: string;
  readonly kiloBytes: number;
  readonly pages: number;
  /** From the bytes to the drawing, the first time (with loading the reader) and the second. */
  readonly coldMs: number;
  readonly warmMs: number;
  /** From the drawing to the pieces proposed. */
  readonly proposeMs: number;
  /** Time of the processors for the second reading: what it costs on a busy machine too. */
  readonly warmCpuMs: number;
  /** The most memory the process had in use. */
  readonly mostMb: number;
  readonly outcome: string;
}

const BUILT = new URL('../../dist/pattern/reading/index.js', import.meta.url);
const COLUMNS = 10;
const ROWS = 10;

/** The published files beside the project, or our own where they are missing, and patterns of a hundred sheets. */
export async function readingRows(): Promise<ReadingRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'clothlay-reading-'));
  try {
    const published = publishedSeeds();
    const files = (published.length > 0 ? published : ownSeeds()).map(({ name, bytes }) => ({
      name,
      bytes,
      sheets: false,
    }));
    const tiled = (
      [
        ['hundred sheets, lines cut through', 300, 'cut'],
        ['hundred sheets, fine, each edge a stroke', 2_000, 'cut'],
        ['hundred sheets, whole outlines on each', 300, 'whole'],
        ['hundred sheets, fine outlines on each', 2_000, 'whole'],
      ] as const
    ).map(([name, corners, lines]) => ({
      name,
      bytes: tiledPdf(hundredSheets(corners), { columns: COLUMNS, rows: ROWS, lines }),
      sheets: true,
    }));
    const rows: ReadingRow[] = [];
    for (const { name, bytes, sheets } of [...files, ...tiled])
      rows.push(await measure(name, bytes, join(folder, 'file'), sheets));
    return rows;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Two dozen curved panels with their sew lines, of some 40 cm, and what is to be cut of them. */
function hundredSheets(corners: number): TiledItem[] {
  const items: TiledItem[] = [];
  for (let row = 0; row < 6; row++)
    for (let column = 0; column < 4; column++) {
      const middle = [240 + column * 450, 230 + row * 440] as const;
      const phase = row * 4 + column;
      const at = (share: number, size: number): Point => {
        const angle = 2 * Math.PI * share;
        const radius = size * (190 + 20 * Math.sin(3 * angle + phase));
        return [middle[0] + radius * Math.cos(angle), middle[1] + radius * Math.sin(angle)];
      };
      for (const size of [1, 0.93])
        items.push({ ring: Array.from({ length: corners }, (_, i) => at(i / corners, size)) });
      items.push({ text: `Panel ${phase + 1} cut 2 lining`, at: middle });
    }
  return items;
}

/** Run by plain Node on the built files: the loader that lets Node run sources would count as memory of the reader. */
const PROGRAM = `
  import { readFileSync } from 'node:fs';
  const [built, path, sheets] = process.argv.slice(1);
  const { readAnyDrawing } = await import(built);
  const bytes = new Uint8Array(readFileSync(path));
  let pages = 1;
  const once = async () => {
    const start = performance.now();
    const before = process.cpuUsage();
    const onPage = (_, of) => { pages = of; };
    const reading = await readAnyDrawing(bytes, 'a', sheets === 'sheets' ? { sheets: 'find', onPage } : { onPage });
    const { user, system } = process.cpuUsage(before);
    return { ms: performance.now() - start, cpuMs: (user + system) / 1000, ok: reading.ok };
  };
  const cold = await once();
  const warm = await once();
  const mostMb = process.resourceUsage().maxRSS / 1024;
  console.log(JSON.stringify({ pages, coldMs: cold.ms, warmMs: warm.ms, warmCpuMs: warm.cpuMs, mostMb }));
`;

type Measured = Pick<ReadingRow, 'pages' | 'coldMs' | 'warmMs' | 'warmCpuMs' | 'mostMb'>;

async function measure(name: string, bytes: Uint8Array, path: string, sheets: boolean): Promise<ReadingRow> {
  writeFileSync(path, bytes);
  const run = spawnSync(
    process.execPath,
    ['--input-type=module', '-e', PROGRAM, BUILT.href, path, sheets ? 'sheets' : ''],
    { encoding: 'utf8' },
  );
  if (run.status !== 0) throw new Error(`the process that was to read ${name} failed: ${run.stderr}`);
  const measured = JSON.parse(run.stdout) as Measured;
  // Asked of two readings, so that the second finds the code warm; what is worked out once is kept by the reading.
  await proposed(name, bytes, sheets);
  const { proposeMs, outcome } = await proposed(name, bytes, sheets);
  return { file: name, kiloBytes: bytes.length / 1_000, ...measured, proposeMs, outcome };
}

async function proposed(
  name: string,
  bytes: Uint8Array,
  sheets: boolean,
): Promise<{ proposeMs: number; outcome: string }> {
  const reading = await readAnyDrawing(bytes, name, sheets ? { sheets: 'find' } : {});
  if (!reading.ok) return { proposeMs: 0, outcome: reading.message };
  const start = performance.now();
  const picks = pickAll(reading);
  const proposeMs = performance.now() - start;
  return { proposeMs, outcome: `${reading.outlines.length} outlines, ${picks.length} proposed` };
}
