/**
 * How smoothly a piece is dragged among many, in the page itself:
 *   npm run bench:drag -- [--pieces 50,200,1000] [--seconds 3] [--ways move,turn,fine]
 * For each number of pieces a project is laid out, its layout opened to be arranged, and one piece dragged to and fro
 * over the others with the mouse (`move`), turned by its handle (`turn`), and turned finely, with Alt held, on cloth that
 * allows any angle, with a picture of a print under it (`fine`): every frame has another outline then. Printed are the times between frames while it moves, the time from letting go to the
 * next painted frame (check of all rules, new drawing, saving), and how long the bench took to open.
 */
import { parseArgs } from 'node:util';
import type { Locator, Page } from 'playwright-core';
import { search } from '../../nesting/index.ts';
import { solveInThisThread } from '../../nesting/solveInThisThread.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { launch, TestServer } from '../browser/support.ts';
import { pngAddress } from '../support/png.ts';
import { describeMachine } from './machine.ts';

const { values } = parseArgs({
  options: {
    pieces: { type: 'string', default: '50,200,1000' },
    seconds: { type: 'string', default: '3' },
    ways: { type: 'string', default: 'move,turn,fine' },
  },
});

/** Four outlines of our own, one with a curve, in equal shares. */
function outlines(): [number, number][][] {
  const curve = Array.from({ length: 24 }, (_, i): [number, number] => {
    const angle = (Math.PI * i) / 23;
    return [60 + 60 * Math.cos(angle), 40 + 70 * Math.sin(angle)];
  });
  return [
    [
      [0, 0],
      [90, 0],
      [90, 60],
      [0, 60],
    ],
    [
      [0, 0],
      [120, 0],
      [90, 80],
      [30, 80],
    ],
    [
      [0, 0],
      [140, 0],
      [140, 40],
      [40, 40],
      [40, 110],
      [0, 110],
    ],
    [[0, 0], [120, 0], ...curve],
  ];
}

/** How the piece is held: moved, turned by its handle, or turned finely. */
type Way = 'move' | 'turn' | 'fine';

/** A repeat of two by two colours. */
const PRINT = {
  repeat: { alongMm: 90, acrossMm: 70, fromEndMm: 20, fromSelvedgeMm: 20 },
  printPicture: pngAddress(2, [
    [200, 60, 60],
    [240, 230, 200],
    [240, 230, 200],
    [60, 160, 90],
  ]),
};

async function projectOf(pieces: number, way: Way): Promise<Project> {
  const shapes = outlines();
  const project = projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: `${pieces} pieces`,
    pieces: shapes.map((outline, i) => ({ id: `p${i}`, name: `Shape ${i + 1}`, outline })),
    materials: [{ id: 'm', name: 'Canvas' }],
    cutList: shapes.map((_, i) => ({ pieceId: `p${i}`, materialId: 'm', plain: Math.ceil(pieces / 4) })),
    cloths: [{ kind: 'roll', id: 'c', name: 'Canvas', materialId: 'm', widthMm: 1400, turn: 'quarter' }],
  });
  const request = layRequestSchema.parse({ project, seconds: 10, maxSteps: 1 });
  const solve = solveInThisThread(search, () => performance.now());
  const { results } = await runLay(request, solve, () => {}, new AbortController().signal);
  const plan = {
    id: 'plan-1',
    name: 'To be arranged',
    createdAt: new Date().toISOString(),
    madeFrom: 'bench',
    results,
  };
  // What lies in quarter turns lies as well where any angle is allowed.
  const finely = project.cloths.map((cloth) => ({ ...cloth, ...PRINT, turn: 'free' as const }));
  return projectSchema.parse({ ...project, plans: [plan], cloths: way === 'fine' ? finely : project.cloths });
}

interface Frames {
  readonly count: number;
  readonly medianMs: number;
  readonly p95Ms: number;
  readonly worstMs: number;
}

/** Times between animation frames from now until `stop` is called in the page. */
async function watchFrames(page: Page): Promise<() => Promise<number[]>> {
  await page.evaluate(() => {
    const found: number[] = [];
    let last = performance.now();
    let isOn = true;
    const look = (now: number): void => {
      found.push(now - last);
      last = now;
      if (isOn) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
    Object.assign(window, {
      stopFrames: () => {
        isOn = false;
        return found.slice(1);
      },
    });
  });
  return () => page.evaluate(() => (window as unknown as { stopFrames(): number[] }).stopFrames());
}

function summary(times: readonly number[]): Frames {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (part: number): number => sorted[Math.floor(part * (sorted.length - 1))] ?? Number.NaN;
  return { count: sorted.length, medianMs: at(0.5), p95Ms: at(0.95), worstMs: at(1) };
}

/** Lets go of the mouse button; milliseconds from then until the frame in which the layout stands drawn anew. */
async function dropTime(page: Page): Promise<number> {
  await page.evaluate(() => {
    const painted = new Promise<number>((resolve) => {
      const onUp = (): void => {
        const start = performance.now();
        const old = document.querySelector('.hand-view');
        const look = (): void => {
          if (old?.isConnected) requestAnimationFrame(look);
          else requestAnimationFrame(() => resolve(performance.now() - start));
        };
        look();
      };
      addEventListener('pointerup', onUp, { once: true, capture: true });
    });
    Object.assign(window, { painted });
  });
  await page.mouse.up();
  return page.evaluate(() => (window as unknown as { painted: Promise<number> }).painted);
}

/** One project, one way to hold a piece in it: a line of the table. */
async function measure(pieces: number, way: Way): Promise<void> {
  const project = await projectOf(pieces, way);
  const answer = await fetch(new URL('/api/projects', server.url), {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ project }),
  });
  if (!answer.ok) throw new Error(`the project was not stored: ${answer.status} ${await answer.text()}`);
  const { id } = (await answer.json()) as { id: string };
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage();
  // What runs this file names inner functions through a helper that the page does not have.
  await page.addInitScript('window.__name = (named) => named');
  const from = performance.now();
  await page.goto(`${server.url}/#/${id}/plan/hand:plan-1:c:single`);
  const node = page.locator('.hand-view g.piece').nth(12);
  await node.waitFor({ timeout: 60_000 });
  const openedMs = performance.now() - from;
  await node.scrollIntoViewIfNeeded();
  const [x, y] = await middleOf(node);
  if (way !== 'move') await page.mouse.click(x, y);
  const [fromX, fromY] = way === 'move' ? [x, y] : await middleOf(page.locator('.turn-dot'));
  if (way === 'fine') await page.keyboard.down('Alt');
  await page.mouse.move(fromX, fromY);
  await page.mouse.down();
  await page.mouse.move(fromX + 10, fromY);
  if ((await page.locator('g.piece.dragged').count()) !== 1) throw new Error('no piece is being held');
  const stop = await watchFrames(page);
  const until = performance.now() + Number(values.seconds) * 1000;
  for (let step = 0; performance.now() < until; step++) {
    if (way === 'move') await page.mouse.move(x + 160 * Math.sin(step / 15), y + 90 * Math.sin(step / 11));
    else await page.mouse.move(x + 120 * Math.cos(step / 9), y + 120 * Math.sin(step / 9));
  }
  const frames = summary(await stop());
  const letGo = await dropTime(page);
  if (way === 'fine') await page.keyboard.up('Alt');
  const ms = (value: number): string => value.toFixed(1).padStart(8);
  process.stdout.write(
    `${String(pieces).padStart(6)}${way.padStart(6)}${ms(openedMs)} ${String(frames.count).padStart(8)}${ms(frames.medianMs)}${ms(frames.p95Ms)}${ms(frames.worstMs)}${ms(letGo)}\n`,
  );
  await page.context().close();
}

async function middleOf(thing: Locator): Promise<[number, number]> {
  const box = await thing.boundingBox();
  if (!box) throw new Error('the piece is not on the screen');
  return [box.x + box.width / 2, box.y + box.height / 2];
}

const machine = describeMachine();
process.stdout.write(`${Object.values(machine).join(', ')}\n`);
process.stdout.write('pieces   way  opened   frames  median     p95   worst   let go\n');
const server = await TestServer.start();
const browser = await launch();
try {
  for (const pieces of values.pieces.split(',').map(Number))
    for (const way of values.ways.split(',') as Way[]) await measure(pieces, way);
} finally {
  await browser.close();
  await server.close();
}
