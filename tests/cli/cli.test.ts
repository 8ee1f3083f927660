import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import type { Point } from '../../nesting/index.ts';
import { clothLaySchema, type Project } from '../../pattern/exchange/project.ts';
import { readArguments, UsageError } from '../../server/cli/arguments.ts';
import { run } from '../../server/cli/run.ts';
import { materialOutcomes, overall } from '../../server/cli/verdict.ts';
import { box, smallProject } from '../support/layOf.ts';

const FOLDER = mkdtempSync(join(tmpdir(), 'clothlay-cli-'));
afterAll(() => rmSync(FOLDER, { recursive: true, force: true }));

/** Runs a command on a project in this process, with one thread. */
async function clothlay(project: Project | string, ...words: string[]) {
  const file = join(FOLDER, 'project.json');
  writeFileSync(file, typeof project === 'string' ? project : JSON.stringify(project));
  let [out, error] = ['', ''];
  const [command, ...rest] = words;
  const code = await run(
    [command!, file, '--threads', '1', ...rest],
    {
      input: Readable.from([]),
      out: (text) => {
        out += text;
      },
      error: (text) => {
        error += text;
      },
    },
    new AbortController().signal,
  );
  return { code, out, error };
}

const roll = { kind: 'roll', widthMm: 500, selvedgeMm: 10, shopStepMm: 100 };
const of = (outline: Point[], cloth: object, plain = 2) =>
  smallProject({ pieces: [{ name: 'Pocket', outline, plain }], cloth: { ...cloth } });

describe('clothlay check', () => {
  it('ends with 0 where everything fits', async () => {
    const { code, out } = await clothlay(of(box(200, 150), roll), 'check', '--seconds', '0.2');
    expect(code).toBe(0);
    expect(out).toMatch(/15 cm cut, 0.20 m to buy/);
    expect(out).toMatch(/^cloth: fits$/m);
  });

  it('looks on many cloths at once without a warning of Node', async () => {
    const warned: Error[] = [];
    const note = (warning: Error): void => void warned.push(warning);
    process.on('warning', note);
    const project = of(box(200, 150), roll);
    const cloths = Array.from({ length: 14 }, (_, i) => ({ ...project.cloths[0]!, id: `roll-${i}` }));
    const { code } = await clothlay({ ...project, cloths }, 'check', '--seconds', '0.1');
    // Warnings are told in a turn of their own.
    await new Promise((resolve) => setImmediate(resolve));
    process.off('warning', note);
    expect(code).toBe(0);
    expect(warned.map(({ name }) => name)).not.toContain('MaxListenersExceededWarning');
  });

  it('ends with 1 where it is proved that something cannot fit', async () => {
    const { code, out } = await clothlay(of(box(600, 700), roll), 'check', '--seconds', '0.2');
    expect(code).toBe(1);
    expect(out).toMatch(/^cloth: cannot fit\. .*Pocket/m);
  });

  it('ends with 2 where no place was found and nothing is proved', async () => {
    // Neither remnant takes the piece; that a third way to share the pieces might is not ruled out by that.
    const project = of(box(150, 100), { kind: 'remnant', outline: box(120, 120), turn: 'grain' }, 1);
    const cloths = [project.cloths[0]!, { ...project.cloths[0]!, id: 'second' }];
    const { code, out } = await clothlay({ ...project, cloths }, 'check', '--seconds', '0.3');
    expect(code).toBe(2);
    expect(out).toMatch(/^cloth: not found\. /m);
  });

  it('ends with 3 for what is no project, a faulty one, or a material without cloth', async () => {
    expect(await clothlay('{"format":', 'check')).toMatchObject({
      code: 3,
      out: '',
      error: expect.stringContaining('The file is cut off'),
    });
    const bare = { ...of(box(100, 100), roll), cloths: [] };
    const { code, out } = await clothlay(bare, 'check', '--seconds', '0.2');
    expect(code).toBe(3);
    expect(out).toMatch(/There is no cloth for cloth yet/);
    const bowTie: Point[] = [
      [0, 0],
      [100, 100],
      [100, 0],
      [0, 100],
    ];
    expect((await clothlay(of(bowTie, roll), 'check', '--seconds', '0.2')).code).toBe(3);
    const unknown = await clothlay(of(box(100, 100), roll), 'check', '--material', 'felt');
    expect(unknown).toMatchObject({ code: 3, error: 'The project has no material "felt". It has: cloth.\n' });
  });

  it('gives its result as JSON where asked', async () => {
    const { code, out } = await clothlay(of(box(200, 150), roll), 'check', '--seconds', '0.2', '--json');
    const result = JSON.parse(out);
    expect([code, result.verdict]).toEqual([0, 'fits']);
    expect(clothLaySchema.array().parse(result.results)).toHaveLength(1);
  });
});

describe('clothlay lay', () => {
  it('writes plans and tables', async () => {
    const out = join(FOLDER, 'deep', 'out');
    const { code } = await clothlay(of(box(200, 150), roll), 'lay', '--seconds', '0.2', '--out', out);
    expect(code).toBe(0);
    expect(readdirSync(out).sort()).toEqual([
      'c-single.dxf',
      'c-single.svg',
      'consumption.csv',
      'cut-list.csv',
      'cutting.csv',
      'lay.json',
      'plan.pdf',
      'positions.csv',
    ]);
    expect(readFileSync(join(out, 'plan.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
    expect(readFileSync(join(out, 'positions.csv'), 'utf8').split('\r\n')).toHaveLength(1 + 2 * 4 + 1);
  });

  it('says it in words where the folder cannot be written', async () => {
    const file = join(FOLDER, 'a-file');
    writeFileSync(file, '');
    const { code, error } = await clothlay(of(box(200, 150), roll), 'lay', '--seconds', '0.2', '--out', file);
    expect(code).toBe(3);
    expect(error).toContain('a-file');
  });

  it('runs as a program of its own and reads a project from its input', { timeout: 60_000 }, () => {
    const entry = fileURLToPath(new URL('../../server/cli/index.ts', import.meta.url));
    const words = ['--import', 'tsx', entry, 'check', '-', '--seconds', '0.2', '--threads', '1'];
    const child = spawnSync(process.execPath, words, {
      input: JSON.stringify(of(box(200, 150), roll)),
      encoding: 'utf8',
    });
    expect([child.status, child.stdout]).toEqual([0, expect.stringMatching(/^cloth: fits$/m)]);
    const help = spawnSync(process.execPath, ['--import', 'tsx', entry, '--help'], { encoding: 'utf8' });
    expect([help.status, help.stdout]).toEqual([0, expect.stringContaining('Exit code: 0 everything fits')]);
  });
});

describe('the command line', () => {
  it('is read, with presets', () => {
    expect(readArguments(['lay', 'a.json'])).toMatchObject({
      command: 'lay',
      file: 'a.json',
      seconds: 10,
      page: 'a4',
    });
    expect(
      readArguments(['check', 'a.json', '--seconds', '2.5', '--material', 'x', '--material', 'y']),
    ).toMatchObject({
      seconds: 2.5,
      materials: ['x', 'y'],
    });
    expect(readArguments(['-h'])).toBeNull();
  });

  it.each([
    [[], 'What is to be done'],
    [['worker', 'p.json'], 'takes no project file'],
    [['worker', '--json'], '--json does not go with'],
    [['worker', '--lays', '0'], '--lays takes a number from 1 to 64'],
    [['lay', 'p.json', '--lays', '2'], '--lays goes with "worker"'],
    [['sew', 'a.json'], 'no command "sew"'],
    [['lay'], 'Name a project file'],
    [['lay', 'a', 'b'], 'not also "b"'],
    [['check', 'a', '--out', 'x'], 'writes no files'],
    [['lay', 'a', '--seconds', 'soon'], '--seconds takes a number from 0.1 to 600, not "soon"'],
    [['lay', 'a', '--seconds', ''], '--seconds'],
    [['lay', 'a', '--seed', '1.5'], 'whole number'],
    [['lay', 'a', '--page', 'a5'], '--page takes a4, letter, not "a5"'],
    [['lay', 'a', '--fast'], '--fast'],
  ])('is refused in words: %j', (words, message) => {
    expect(() => readArguments(words)).toThrow(UsageError);
    expect(() => readArguments(words)).toThrow(message);
  });
});

describe('the verdict on a material', () => {
  const project = {
    ...of(box(100, 100), roll),
    cloths: [
      { ...of(box(1, 1), roll).cloths[0]!, id: 'r1' },
      { ...of(box(1, 1), roll).cloths[0]!, id: 'r2' },
      { ...of(box(1, 1), { kind: 'remnant', outline: box(90, 90) }).cloths[0]!, id: 's1' },
      { ...of(box(1, 1), { kind: 'remnant', outline: box(90, 90) }).cloths[0]!, id: 's2' },
    ],
  };
  const results = (...lays: [string, string][]) => ({
    notices: [],
    results: lays.map(([clothId, verdict]) =>
      clothLaySchema.parse({
        ...{
          materialId: 'cloth',
          clothId,
          spread: 'single',
          verdict,
          reason: `${clothId}!`,
          segments: [],
          unplaced: [],
        },
        ...{
          usedMm: 0,
          buyMm: 0,
          usePercent: 0,
          piecesToTrace: 0,
          pieceAreaMm2: 0,
          clothAreaMm2: 0,
          costCents: null,
        },
      }),
    ),
  });
  const verdict = (...lays: [string, string][]) => overall(materialOutcomes(project, results(...lays)));

  it('needs one cloth that takes all', () => {
    expect(verdict(['r1', 'cannot fit'], ['r2', 'fits'])).toBe('fits');
    expect(verdict(['s1', 'not found'], ['s2', 'fits'])).toBe('fits');
    expect(verdict(['s1', 'cannot fit'], ['r1', 'fits'])).toBe('fits');
  });

  it('is a proof only where nothing was shared between cloths', () => {
    expect(verdict(['r1', 'cannot fit'], ['r2', 'cannot fit'])).toBe('cannot fit');
    expect(verdict(['s1', 'cannot fit'])).toBe('cannot fit');
    expect(verdict(['s1', 'cannot fit'], ['s2', 'cannot fit'])).toBe('not found');
    expect(verdict(['r1', 'cannot fit'], ['r2', 'not found'])).toBe('not found');
  });

  it('is not given for a search that ended before its first layout', () => {
    expect(verdict()).toBe('not found');
    const nothing = { level: 'info', code: 'nothingToCut', text: '', materialId: 'cloth' } as const;
    expect(overall(materialOutcomes(project, { results: [], notices: [nothing] }))).toBe('fits');
  });
});

describe('clothlay table', () => {
  const pocket = () => of(box(200, 150), roll);

  it('writes a row for each width, nap, spread and size, to standard output without a folder', async () => {
    const { code, out } = await clothlay(
      pocket(),
      ...[
        'table',
        '--widths',
        '50, 20 in',
        '--sizes',
        'M=100, L=150x200',
        '--spreads',
        'single',
        '--seconds',
        '0.1',
      ],
    );
    expect(code).toBe(0);
    const rows = out.trim().split('\r\n').slice(1);
    expect(rows).toHaveLength(2 * 2 * 2);
    // Two of 200 × 150 side by side on 48 cm: 15 cm; in size L 300 × 300, one after the other: 60 cm.
    expect(rows.find((row) => row.startsWith('cloth,M,500,none'))).toMatch(/,fits,150,200,2,/);
    expect(rows.find((row) => row.startsWith('cloth,L,500,none'))).toMatch(/,fits,600,600,2,/);
    expect(rows.filter((row) => row.includes(',508,'))).toHaveLength(4);
  });

  it('ends with 1 where a width is proved too narrow', async () => {
    const { code, out } = await clothlay(
      pocket(),
      'table',
      '--widths',
      '10',
      '--naps',
      'none',
      '--seconds',
      '0.1',
    );
    expect(code).toBe(1);
    expect(out).toMatch(/cannot fit/);
  });

  it('keeps a table in a folder and goes on from it without working out a figure twice', async () => {
    const folder = join(FOLDER, 'table');
    const words = ['table', '--widths', '50,60', '--seconds', '0.1', '--out', folder];
    expect((await clothlay(pocket(), ...words)).code).toBe(0);
    expect(readdirSync(folder).sort()).toEqual(['table.csv', 'table.json', 'table.pdf']);
    const kept = JSON.parse(readFileSync(join(folder, 'table.json'), 'utf8')) as {
      cells: { usedMm: number }[];
    };
    // A figure that no search would give shows that it was taken over.
    kept.cells[0]!.usedMm = 123.4;
    writeFileSync(join(folder, 'table.json'), JSON.stringify(kept));
    expect((await clothlay(pocket(), ...words, '--resume')).code).toBe(0);
    expect(readFileSync(join(folder, 'table.csv'), 'utf8')).toMatch(/,123\.4,/);
    await clothlay(of(box(210, 150), roll), ...words, '--resume');
    expect(readFileSync(join(folder, 'table.csv'), 'utf8')).not.toMatch(/,123\.4,/);
  });

  it.each([
    [['table'], /widths/],
    [['table', '--widths', 'wide'], /wide/],
    [['table', '--widths', '90', '--sizes', 'L'], /per cent/],
    [['table', '--widths', '90', '--spreads', 'rolled'], /rolled/],
    [['table', '--widths', '90', '--naps', 'both'], /both/],
    [['table', '--widths', '90', '--resume'], /--out/],
    [['check', '--widths', '90'], /go with "table"/],
  ])('says what it does not understand: %j', async (words, told) => {
    const { code, error } = await clothlay(pocket(), ...words);
    expect(code).toBe(3);
    expect(error).toMatch(told);
  });
});
