import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser, openPage, step, untilLaid, withServerAndBrowser } from './support.ts';

const rectangle = (along: number, across: number): [number, number][] => [
  [0, 0],
  [along, 0],
  [along, across],
  [0, across],
];

/** A project in which much is wrong, each thing of another kind. */
const TROUBLED = {
  format: 'clothlay-project',
  version: 2,
  name: 'Troubled',
  pieces: [
    { id: 'sound', name: 'Panel', outline: rectangle(300, 200) },
    {
      id: 'crossed',
      name: 'Crossed',
      outline: [
        [0, 0],
        [100, 100],
        [100, 0],
        [0, 100],
      ],
    },
    {
      id: 'nothing',
      name: 'Nothing',
      outline: [
        [0, 0],
        [100, 0],
        [50, 0],
      ],
    },
    {
      id: 'holed',
      name: 'Holed',
      outline: rectangle(200, 100),
      holes: [
        [
          [300, 10],
          [310, 10],
          [305, 20],
        ],
      ],
    },
    { id: 'folded', name: 'Folded', outline: rectangle(200, 100), foldEdge: 9 },
    {
      id: 'handed',
      name: 'Handed',
      outline: [
        [0, 0],
        [200, 0],
        [200, 100],
        [120, 180],
        [0, 180],
      ],
    },
    { id: 'half', name: 'Half', outline: rectangle(200, 100), foldEdge: 3 },
    { id: 'wide', name: 'Wide', outline: rectangle(1600, 1600) },
    {
      id: 'stuck',
      name: 'Stuck',
      outline: rectangle(300, 200),
      variant: { from: 'sound', steps: [{ kind: 'unfold' }] },
    },
  ],
  materials: [
    { id: 'canvas', name: 'Canvas' },
    { id: 'felt', name: 'Felt', role: 'interfacing', sizing: { allowance: 'none', largerMm: -150 } },
    { id: 'lining', name: 'Lining' },
    { id: 'print', name: 'Print' },
  ],
  cutList: [
    { pieceId: 'sound', materialId: 'canvas', plain: 2 },
    { pieceId: 'handed', materialId: 'canvas', plain: 2 },
    { pieceId: 'half', materialId: 'canvas', plain: 1 },
    { pieceId: 'wide', materialId: 'canvas', plain: 1 },
    { pieceId: 'sound', materialId: 'felt', plain: 1 },
    { pieceId: 'sound', materialId: 'lining', plain: 1 },
    { pieceId: 'sound', materialId: 'print', plain: 1 },
  ],
  cloths: [
    { kind: 'roll', id: 'velvet', name: 'Velvet', materialId: 'canvas', widthMm: 1400, nap: 'oneWay' },
    { kind: 'roll', id: 'coated', name: 'Coated', materialId: 'felt', widthMm: 900, usableWidthMm: 1000 },
    {
      kind: 'remnant',
      id: 'knot',
      name: 'Knot',
      materialId: 'felt',
      outline: [
        [0, 0],
        [400, 400],
        [400, 0],
        [0, 400],
      ],
    },
    {
      kind: 'roll',
      id: 'printed',
      name: 'Printed',
      materialId: 'print',
      widthMm: 600,
      repeat: { alongMm: 300, acrossMm: 700 },
      border: { fromEdgeMm: 100, depthMm: 600 },
      flaws: [
        [
          [0, 900],
          [50, 900],
          [50, 950],
        ],
      ],
    },
  ],
  layChoices: [
    { materialId: 'canvas', clothIds: ['velvet'], spread: 'crosswise' },
    { materialId: 'felt', clothIds: [], spread: 'single' },
  ],
};

interface Arrival {
  readonly said: string;
  readonly spot: string | undefined;
  readonly hasFocus: boolean;
  readonly isInView: boolean;
}

/** Where the page stands after a cure was followed. */
function arrival(page: Page, said: string): Promise<Arrival> {
  return page.evaluate((said) => {
    const place = document.querySelector<HTMLElement>('.pointed-at');
    const focused = document.activeElement;
    const box = focused?.getBoundingClientRect();
    return {
      said,
      spot: place?.dataset.spot,
      hasFocus: place?.contains(focused) ?? false,
      isInView: box !== undefined && box.height > 0 && box.top >= 0 && box.bottom <= innerHeight,
    };
  }, said);
}

/** Follows every link of what is told on a step, one after the other. */
async function followAll(page: Page, name: Parameters<typeof step>[1], list: string): Promise<Arrival[]> {
  const arrivals: Arrival[] = [];
  const open = async () => {
    await step(page, name).click();
    const region = page.getByRole('region', { name: list });
    await region.waitFor();
    for (const more of await region.locator('details:not([open]) > summary').all()) await more.click();
    return region.locator('li');
  };
  const count = await (await open()).count();
  for (let i = 0; i < count; i++) {
    const line = (await open()).nth(i);
    const said = (await line.textContent()) ?? '';
    await line.locator('a.go').click();
    await page.locator('.pointed-at').waitFor();
    arrivals.push(await arrival(page, said));
  }
  return arrivals;
}

describe.skipIf(!hasBrowser)(`no dead ends${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('leads from everything that is told to the very field that cures it, with the focus there', async () => {
    const answer = await fetch(new URL('/api/projects', app.server.url), {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ project: TROUBLED }),
    });
    expect(answer.status, await answer.clone().text()).toBe(201);
    const { id } = (await answer.json()) as { id: string };
    const { page, context, faults } = await openPage(app.browser, `${app.server.url}/#/${id}/pieces`);
    const told = [
      ...(await followAll(page, 'Pieces', 'To settle')),
      ...(await followAll(page, 'Cut list', 'To settle')),
      ...(await followAll(page, 'Cloths', 'To settle')),
    ];
    await step(page, 'Lay plan').click();
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(page);
    told.push(...(await followAll(page, 'Lay plan', 'Please look at this')));

    const astray = told.filter(({ hasFocus, isInView }) => !hasFocus || !isInView);
    expect(astray).toEqual([]);
    const spots = new Set(told.map(({ spot }) => spot));
    for (const spot of [
      'outline',
      'holes',
      'fold',
      'variant',
      'row',
      'counts',
      'sizing-felt',
      'cloths-lining',
      'measures',
      'shape',
      'repeat',
      'border',
      'flaws',
      'nap',
    ])
      expect(spots, JSON.stringify(told, null, 1)).toContain(spot);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('leads on from a piece whose outline can’t be mended, and can be followed twice', async () => {
    const { page, context, faults } = await app.open();
    const answer = await page.request.post(`${app.server.url}/api/projects`, { data: { project: TROUBLED } });
    const { id } = (await answer.json()) as { id: string };
    await page.goto(`${app.server.url}/#/${id}/pieces/nothing`);
    await page
      .getByRole('article', { name: 'Nothing' })
      .getByRole('button', { name: 'Bring in a drawing' })
      .click();
    await page.getByRole('dialog', { name: 'Bring in a drawing' }).waitFor();
    await page.keyboard.press('Escape');
    await step(page, 'Cut list').click();
    for (let time = 0; time < 2; time++) {
      const line = page.getByRole('region', { name: 'To settle' }).locator('li', { hasText: 'Handed' });
      await line.getByRole('link').click();
      await page.locator('.pointed-at').waitFor();
      expect(await arrival(page, '')).toMatchObject({ spot: 'row', hasFocus: true });
      await page.getByRole('heading', { name: 'Cut list' }).first().click();
      await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    }
    expect(faults).toEqual([]);
    await context.close();
  });
});
