import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import type { StepName } from '../../client/state/route.ts';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';
import { type TiledItem, tiledPdf } from '../support/tiledPdf.ts';
import { type TestServer, untilLaid } from './support.ts';

/**
 * Every screen, dialog and state of the page, each with the way to it, so that what must hold everywhere is checked
 * everywhere. A new screen is a new line here.
 */
export interface Screen {
  readonly name: string;
  /** A project of the screen's own is made of this one. */
  readonly project: keyof Documents;
  readonly step: StepName;
  /** From the opened step to the screen. */
  readonly open?: (page: Page, world: World) => Promise<void>;
}

export interface World {
  readonly server: TestServer;
  readonly context: BrowserContext;
  /** Of the project the screen shows. */
  readonly projectId: string;
}

export interface Documents {
  readonly empty: Project;
  /** The demo, not laid out. */
  readonly demo: Project;
  /** The demo with its lay plan. */
  readonly laid: Project;
  /** A remnant that is 2 mm too short. */
  readonly tight: Project;
}

/** A remnant on which two flaps and the gap between them take 2 mm more than there is. */
export const TIGHT = projectSchema.parse({
  format: 'clothlay-project',
  version: 2,
  name: 'Bell bag',
  pieces: [
    {
      id: 'flap',
      name: 'Bell bag flap',
      outline: [
        [0, 0],
        [60, 0],
        [60, 100],
        [0, 100],
      ],
      source: { kind: 'measured', alongMm: 100, acrossMm: 60 },
    },
  ],
  materials: [{ id: 'vinyl', name: 'Vinyl' }],
  cutList: [{ pieceId: 'flap', materialId: 'vinyl', plain: 2 }],
  cloths: [
    {
      kind: 'remnant',
      id: 'rest',
      name: 'Vinyl remnant',
      materialId: 'vinyl',
      gapMm: 8,
      outline: [
        [0, 0],
        [206, 0],
        [206, 60],
        [0, 60],
      ],
    },
  ],
});

/** Lays the demo out once, by the page, so that every screen finds drawings to show. */
export async function makeDocuments(page: Page, url: string): Promise<Documents> {
  const demo = demoProject();
  const id = await store(page, url, demo);
  await page.goto(`${url}/#/${id}/plan`);
  await page.getByLabel('Look for').selectOption('short');
  await page.getByRole('button', { name: 'Lay out everything' }).click();
  await untilLaid(page, 120_000);
  await page.locator('.save-state.saved').waitFor();
  const answer = await page.request.get(`${url}/api/projects/${id}`);
  const { project } = (await answer.json()) as { project: Project };
  return { empty: emptyProject('A bag'), demo, laid: project, tight: TIGHT };
}

async function store(page: Page, url: string, project: Project): Promise<string> {
  const made = await page.request.post(`${url}/api/projects`, { data: { project } });
  if (!made.ok()) throw new Error(`the project was refused: ${await made.text()}`);
  return ((await made.json()) as { id: string }).id;
}

/** Makes the screen's project and goes all the way to the screen. */
export async function openScreen(
  screen: Screen,
  context: BrowserContext,
  server: TestServer,
  documents: Documents,
): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const projectId = await store(page, server.url, documents[screen.project]);
  await page.goto(`${server.url}/#/${projectId}/${screen.step}`);
  await page.locator('main h2').first().waitFor();
  await screen.open?.(page, { server, context, projectId });
  return page;
}

/** Opens everything that is folded away, also what that brings to light. */
async function unfold(page: Page): Promise<void> {
  const folded = page.locator('details:not([open]) > summary:visible');
  for (let i = 0; i < 60 && (await folded.count()) > 0; i++) await folded.first().click();
}

const press = (name: string | RegExp) => (page: Page) => page.getByRole('button', { name }).first().click();
const pieceOpen = (name: RegExp) => async (page: Page) => {
  await page.getByRole('list', { name: 'Your pieces' }).getByRole('link', { name }).click();
  await page.locator('.detail').waitFor();
};
const clothOpen = (name: RegExp) => async (page: Page) => {
  await page.getByRole('main').getByRole('link', { name }).first().click();
  await page.locator('.detail').waitFor();
};
/** Does one thing after another. */
const first =
  (...ways: ((page: Page, world: World) => Promise<unknown>)[]) =>
  async (page: Page, world: World): Promise<void> => {
    for (const way of ways) await way(page, world);
  };

const fixture = (name: string): string =>
  fileURLToPath(new URL(`../../fixtures/patterns/${name}`, import.meta.url));

interface BroughtFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}
const bring = (file: string | BroughtFile) => async (page: Page) => {
  await page.getByRole('button', { name: 'Bring in a drawing' }).first().click();
  await page.locator('dialog input[type=file]').setInputFiles(file);
};

/** Four sheets of A4 of our own: a body on the fold and a flap. */
const SHEETS: readonly TiledItem[] = [
  {
    ring: [
      [120, 60],
      [300, 60],
      [300, 470],
      [150, 470],
      [120, 440],
    ],
  },
  { text: 'Roll body', at: [220, 380], sizeMm: 9 },
  { text: 'Cut 1 on fold, outer', at: [220, 360] },
];
const sheetsPdf = (): BroughtFile => ({
  name: 'picnic-roll.pdf',
  mimeType: 'application/pdf',
  buffer: Buffer.from(tiledPdf(SHEETS, { columns: 2, rows: 2 })),
});

/** A drawing with a test square at 96 % and a fold that is told but not drawn: it has something to ask. */
const ASKING: BroughtFile = {
  name: 'bell-bag.svg',
  mimeType: 'image/svg+xml',
  buffer:
    Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">
  <rect x="10" y="10" width="48" height="48" fill="none" stroke="#000" stroke-width="0.01"/>
  <text x="14" y="34" font-size="5">Test square 5 cm</text>
  <path d="M100 20 h120 v90 l-40 30 h-80 z" fill="none" stroke="#000" stroke-width="0.2"/>
  <text x="110" y="60" font-size="7">Bell pocket</text>
  <text x="110" y="75" font-size="6">Cut 2 outer</text>
  <path d="M260 20 h70 v200 h-70 z" fill="none" stroke="#000" stroke-width="0.2"/>
  <text x="265" y="60" font-size="7">Back half</text>
  <text x="265" y="75" font-size="6">1x Oberstoff im Bruch</text>
</svg>`),
};

/** A picture of nothing, as a photo to trace on. */
async function photo(page: Page): Promise<void> {
  const made = await page.screenshot();
  await bring({ name: 'table.png', mimeType: 'image/png', buffer: made })(page);
  await page.getByText('0 corners set').waitFor();
}

/** The first layout, open to be arranged. */
async function handOpen(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Arrange by hand' }).first().click();
  await page.locator('.hand-view').waitFor();
}
async function handPieceOnAnother(page: Page): Promise<void> {
  await handOpen(page);
  await page.locator('.hand-view').getByRole('button').first().focus();
  await page.keyboard.press('Space');
  for (const key of ['ArrowRight', 'ArrowUp']) {
    for (let i = 0; i < 6; i++) await page.keyboard.press(`Shift+${key}`);
  }
  await page.locator('.hand-view g.piece.faulty').first().waitFor();
}
async function handParked(page: Page): Promise<void> {
  await handOpen(page);
  await page.locator('.hand-view').getByRole('button').first().focus();
  await page.keyboard.press('Delete');
  await page.getByRole('region', { name: 'Beside the cloth' }).getByRole('listitem').first().waitFor();
}

/** The whole plan laid out with each material compared in every way it may lie, stopped where it stands. */
async function compared(page: Page): Promise<void> {
  await page.getByLabel('How the cloth lies').first().selectOption('compare');
  await page
    .getByRole('button', { name: /^Lay out again: / })
    .first()
    .click();
  await untilLaid(page, 60_000);
}

async function shelfOpen(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'The shelf', exact: true }).click();
}
async function shelfFilled(page: Page): Promise<void> {
  await shelfOpen(page);
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Put cloth on the shelf' }).click();
  await dialog.getByLabel('Name').fill('Olive canvas');
  await dialog.getByLabel('Along the grain').fill('60');
  await dialog.getByLabel('Across').fill('50');
  await dialog.getByRole('button', { name: 'Put it on the shelf' }).click();
  await dialog.getByText('Olive canvas is on the shelf.').waitFor();
}

async function offline(page: Page, { context }: World): Promise<void> {
  await context.setOffline(true);
  await page.getByLabel('Project name').fill('Away from the workshop');
  await page.keyboard.press('Enter');
  await page.locator('.save-state.offline').waitFor();
}

/** Someone else changes the name, and so does this page. */
async function conflict(page: Page, { server, projectId }: World): Promise<void> {
  await page.locator('.save-state.saved').waitFor();
  const address = `${server.url}/api/projects/${projectId}`;
  const { revision, project } = (await (await page.request.get(address)).json()) as {
    revision: number;
    project: Project;
  };
  const theirs = await page.request.put(address, {
    data: { revision, project: { ...project, name: 'Theirs' } },
  });
  if (!theirs.ok()) throw new Error(await theirs.text());
  await page.getByLabel('Project name').fill('Mine');
  await page.keyboard.press('Enter');
  await page.getByRole('alert', { name: 'Someone else changed this project' }).waitFor();
}

async function versions(page: Page): Promise<void> {
  await page.getByLabel('Project name').fill('Renamed');
  await page.keyboard.press('Enter');
  await page.locator('.save-state.saved').waitFor();
  await page.getByRole('button', { name: 'Projects', exact: true }).click();
  await page.getByRole('button', { name: 'Earlier versions' }).click();
  const dialog = page.getByRole('dialog', { name: 'Earlier versions' });
  await dialog
    .getByRole('button', { name: /^Compare/ })
    .last()
    .click();
  await dialog.locator('.version-body').waitFor();
}

async function half(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Projects', exact: true }).click();
  const text = await readFile(fixture('saddle-roll.svg'), 'utf8');
  await page.getByLabel('Open a file').setInputFiles({
    name: 'no-project.json',
    mimeType: 'application/json',
    buffer: Buffer.from(text.slice(0, 200)),
  });
  await page.locator('dialog').getByRole('alert').waitFor();
}

/** The server does not answer at all. */
async function failing(page: Page, { context }: World): Promise<void> {
  await context.route('**/api/projects/**', (route) => route.fulfill({ status: 500, body: '' }));
  await page.reload();
  await page.getByRole('button', { name: 'Try again' }).waitFor();
}

export const SCREENS: readonly Screen[] = [
  { name: 'pieces: none yet', project: 'empty', step: 'pieces' },
  { name: 'cut list: nothing to list', project: 'empty', step: 'cutlist' },
  { name: 'cloths: none yet', project: 'empty', step: 'cloths' },
  { name: 'plan: nothing to lay', project: 'empty', step: 'plan' },
  { name: 'cutting: nothing to cut', project: 'empty', step: 'cut' },

  { name: 'pieces', project: 'demo', step: 'pieces' },
  { name: 'pieces: one open', project: 'demo', step: 'pieces', open: pieceOpen(/Side gusset/) },
  {
    name: 'pieces: one open, all parts unfolded',
    project: 'demo',
    step: 'pieces',
    open: first(pieceOpen(/Side gusset/), unfold),
  },
  {
    name: 'pieces: a measured one open, all parts unfolded',
    project: 'demo',
    step: 'pieces',
    open: first(pieceOpen(/Lashing strap/), unfold),
  },
  { name: 'pieces: measurements', project: 'demo', step: 'pieces', open: press('Type measurements') },
  {
    name: 'pieces: measurements, a line that cannot be read',
    project: 'empty',
    step: 'pieces',
    open: async (page) => {
      await press('Type measurements')(page);
      await page.getByLabel('Name, line 1').fill('Panel');
      await page.getByLabel('Across the grain, line 1').fill('wide');
      await page.getByLabel('Along the grain, line 1').fill('30');
      await page.getByText(/Line 1: size across/).waitFor();
      await unfold(page);
    },
  },
  {
    name: 'pieces: a pasted cut list, one line not understood',
    project: 'empty',
    step: 'pieces',
    open: async (page) => {
      await press('Paste a cut list')(page);
      await page.getByLabel('Cut list', { exact: true }).fill('Strap 4 x 60 cm (2)\nsome zipper');
      await page.getByText('1 of 2 lines understood').waitFor();
      await unfold(page);
    },
  },
  { name: 'import: choose a file', project: 'demo', step: 'pieces', open: press('Bring in a drawing') },
  {
    name: 'import: outlines',
    project: 'demo',
    step: 'pieces',
    open: async (page) => {
      await bring(fixture('saddle-roll.svg'))(page);
      await page.getByRole('list', { name: 'Closed outlines' }).waitFor();
      await page
        .getByRole('checkbox', { name: /Side gusset/ })
        .first()
        .check();
      await unfold(page);
    },
  },
  {
    name: 'import: a drawing that asks',
    project: 'empty',
    step: 'pieces',
    open: async (page) => {
      await bring(ASKING)(page);
      await page.getByRole('checkbox', { name: /Take Back half/ }).check();
      await unfold(page);
    },
  },
  {
    name: 'import: sheets by hand',
    project: 'empty',
    step: 'pieces',
    open: async (page) => {
      await bring(sheetsPdf())(page);
      await page.getByText('Sheets of one drawing').click();
      await page.getByText('Lay the sheets by hand').click();
      await page.getByRole('button', { name: /^Sheet 1, / }).waitFor();
    },
  },
  {
    name: 'import: sheets put together',
    project: 'empty',
    step: 'pieces',
    open: async (page) => {
      await bring(sheetsPdf())(page);
      await page.getByText('Sheets of one drawing').click();
      await page.getByRole('button', { name: 'Put the sheets together' }).click();
      await page.getByText(/4 sheets put together/).waitFor();
    },
  },
  { name: 'import: a photo', project: 'empty', step: 'pieces', open: photo },
  {
    name: 'import: a file that cannot be read',
    project: 'empty',
    step: 'pieces',
    open: async (page) => {
      await bring({ name: 'notes.pdf', mimeType: 'application/pdf', buffer: Buffer.from('no drawing') })(
        page,
      );
      await page.locator('dialog').getByRole('alert').waitFor();
    },
  },

  { name: 'cut list', project: 'demo', step: 'cutlist', open: unfold },
  {
    name: 'cut list: a material open',
    project: 'demo',
    step: 'cutlist',
    open: async (page) => {
      const material = demoProject().materials[0]?.name ?? '';
      await page.getByRole('button', { name: material, exact: true }).click();
      await unfold(page);
    },
  },

  { name: 'cloths', project: 'demo', step: 'cloths' },
  {
    name: 'cloths: a roll open',
    project: 'demo',
    step: 'cloths',
    open: first(clothOpen(/m wide|cm wide|wide/), unfold),
  },
  {
    name: 'cloths: a remnant open',
    project: 'demo',
    step: 'cloths',
    open: first(clothOpen(/[Rr]emnant/), unfold),
  },
  { name: 'shelf: empty', project: 'demo', step: 'cloths', open: shelfOpen },
  {
    name: 'shelf: putting cloth on it',
    project: 'demo',
    step: 'cloths',
    open: first(shelfOpen, press('Put cloth on the shelf'), unfold),
  },
  { name: 'shelf: with cloth on it', project: 'demo', step: 'cloths', open: first(shelfFilled, unfold) },

  { name: 'plan: to be laid out', project: 'demo', step: 'plan' },
  { name: 'plan: laid out', project: 'laid', step: 'plan' },
  { name: 'plan: laid out, all unfolded', project: 'laid', step: 'plan', open: unfold },
  { name: 'plan: compared', project: 'laid', step: 'plan', open: first(compared, unfold) },
  {
    name: 'plan: being laid out',
    project: 'demo',
    step: 'plan',
    open: async (page) => {
      await page.getByLabel('Look for').selectOption('long');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await page.locator('.lay-view').first().waitFor();
    },
  },
  {
    name: 'plan: the lay failed',
    project: 'demo',
    step: 'plan',
    open: async (page, { context }) => {
      await context.route('**/lays', (route) => route.fulfill({ status: 500, body: '' }));
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await page.locator('.run-bar').getByRole('alert').waitFor();
    },
  },
  {
    name: 'plan: out of date',
    project: 'laid',
    step: 'cutlist',
    open: async (page) => {
      const field = page.getByRole('main').locator('input[type=text]').first();
      await field.fill('7');
      await field.press('Enter');
      await page.getByRole('link', { name: 'Lay plan' }).first().click();
      await page.getByText('Out of date').first().waitFor();
    },
  },
  {
    name: 'plan: kept plans',
    project: 'laid',
    step: 'plan',
    open: async (page) => {
      await page.getByRole('button', { name: 'Keep this plan', exact: true }).click();
      await unfold(page);
    },
  },
  {
    name: 'plan: not enough, and what would do',
    project: 'tight',
    step: 'plan',
    open: async (page) => {
      await page.getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page);
      await page.getByRole('button', { name: 'What would make it fit?' }).click();
      const answer = page.getByRole('region', { name: 'What would make it fit' });
      await answer.getByText(/found, the one that costs you least/).waitFor({ timeout: 90_000 });
      await unfold(page);
    },
  },
  { name: 'by hand', project: 'laid', step: 'plan', open: first(handOpen, unfold) },
  { name: 'by hand: a piece on another', project: 'laid', step: 'plan', open: handPieceOnAnother },
  { name: 'by hand: a piece beside the cloth', project: 'laid', step: 'plan', open: handParked },

  { name: 'cutting: by plan', project: 'laid', step: 'cut', open: unfold },
  {
    name: 'cutting: by material',
    project: 'laid',
    step: 'cut',
    open: async (page) => {
      await page.getByRole('radio', { name: 'materials' }).check({ force: true });
      await page.locator('.big-tick').first().click();
    },
  },
  {
    name: 'cutting: by part',
    project: 'laid',
    step: 'cut',
    open: (page) => page.getByRole('radio', { name: 'parts' }).check({ force: true }),
  },
  { name: 'cutting: not laid out', project: 'demo', step: 'cut' },

  { name: 'projects', project: 'demo', step: 'pieces', open: press(/^Projects$/) },
  { name: 'projects: a file that is none', project: 'demo', step: 'pieces', open: half },
  { name: 'earlier versions', project: 'demo', step: 'pieces', open: versions },
  { name: 'no connection', project: 'demo', step: 'pieces', open: offline },
  { name: 'someone else changed it', project: 'demo', step: 'pieces', open: conflict },
  { name: 'the project cannot be read', project: 'demo', step: 'pieces', open: failing },
];
