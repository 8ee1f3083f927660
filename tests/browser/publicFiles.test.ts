/**
 * Pattern files that people published, and two made for their traps, brought through the page to the pieces that their
 * open check data state: sizes (bounding boxes, mm, measured against Chromium's own rendering) and counts. Sources:
 * `jarmokivekas/sewing` (CC0-1.0; the square pack, the yoke and the worksheet CC BY-SA 4.0),
 * `mathewlippincott/airpup-balloon` (CERN-OHL-1.2: kite files), `Tempel/notebook` (CC BY-SA 4.0: leather notebook),
 * `eTextile/Synth` (CC BY-SA 4.0: rings). The files are not part of this project.
 */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { signedArea } from '../../nesting/geometry/rings.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { sharedFolder } from '../support/sharedFolder.ts';
import { hasBrowser, newProject, storedProject, untilSaved, withServerAndBrowser } from './support.ts';

const folder = sharedFolder();

/** What a maker does in the dialog, one thing after the other. */
type Act =
  /** Presses a button. */
  | { readonly press: string | RegExp }
  /** Ticks an outline of the list by its name. */
  | { readonly tick: string }
  /** Says what something inside a piece is. */
  | { readonly inside: string; readonly as: string }
  /** Ticks a layer to be read. */
  | { readonly layer: string };

const ALL = { press: 'Take all on the page' } as const;
const ON_THEM = { press: /^Take what lies on them too/ };

interface Expected {
  readonly size: readonly [widthMm: number, heightMm: number];
  /** Copies in the cut list, all rows together; not looked at if left out. */
  readonly count?: number;
  /** What is drawn by hand, or stated in whole millimetres, is not as exact. */
  readonly withinMm?: number;
  readonly finished?: readonly [widthMm: number, heightMm: number];
  readonly areaMm2?: number;
  readonly corners?: number;
  readonly holes?: number;
  /** Lines drawn on it that are neither cut nor sewn. */
  readonly lines?: number;
  readonly onFold?: boolean;
  /** Single points marked on it. */
  readonly notches?: number;
}

interface Row {
  readonly file: string;
  readonly acts?: readonly Act[];
  readonly pieces: readonly Expected[];
  /** Nothing else comes in. */
  readonly only?: boolean;
  /** Words that stand in the dialog before anything is taken. */
  readonly says?: string | RegExp;
  /** Words that stand there when all is taken. */
  readonly afterwards?: string | RegExp;
  /** Words on the first piece's card. */
  readonly shows?: string;
}

const BY_HAND = 0.55;

const ROWS: readonly Row[] = [
  {
    file: 'square-pack-hand-layout.svg',
    says: 'Taken for the cloth or frame round the pieces in it',
    pieces: [
      { size: [370, 300], count: 2 },
      { size: [320, 300], count: 1 },
      { size: [1300, 140], count: 1 },
      { size: [140, 220], count: 2 },
      { size: [920, 50], count: 1 },
      { size: [170, 300], count: 1 },
      { size: [40, 300], count: 1 },
      { size: [50, 300], count: 1 },
    ],
    only: true,
  },
  {
    file: 'square-pack-pattern.svg',
    pieces: [
      { size: [25, 2380], count: 1 },
      { size: [500, 25], count: 1 },
      { size: [900, 30], count: 1 },
    ],
  },
  {
    file: 'pouch-horizontal.svg',
    pieces: [
      { size: [270, 180], count: 2 },
      { size: [430, 110], count: 2 },
      { size: [25.4, 304.8], count: 2 },
      { size: [280, 25.4], count: 2 },
      { size: [101.6, 25.4], count: 2 },
    ],
  },
  {
    file: 'pouch-vertical-zip.svg',
    acts: [ALL, ON_THEM],
    pieces: [
      { size: [160, 320], count: 2 },
      { size: [460, 110], count: 2 },
      { size: [25.4, 416.41], count: 2 },
      { size: [114.3, 25.4], count: 5 },
      { size: [100, 25.4], count: 2 },
    ],
  },
  {
    file: 'pouch-lidded.svg',
    pieces: [
      { size: [268.6, 375.6], count: 1, corners: 12 },
      { size: [268.15, 288.97], count: 1, corners: 8 },
    ],
  },
  {
    file: 'notebook-kit-cut.svg',
    pieces: [
      { size: [240, 170], count: 1 },
      { size: [110, 130], count: 1 },
      { size: [110, 170], count: 2 },
    ],
    only: true,
  },
  {
    file: 'yoke-cut.svg',
    pieces: [
      // Twice from cloth, once from foam.
      { size: [791.53, 311.35], count: 2, areaMm2: 84_019 },
      { size: [791.53, 311.35], count: 1, areaMm2: 84_019 },
      { size: [25.4, 440], count: 2 },
      { size: [400, 40], count: 1 },
      { size: [40, 127], count: 1 },
      { size: [25.4, 100], count: 2 },
    ],
  },
  {
    file: 'mitten.svg',
    acts: [
      ALL,
      ON_THEM,
      { inside: '170 × 120 mm', as: 'a piece of its own' },
      { inside: '150 × 100 mm', as: 'a piece of its own' },
    ],
    pieces: [
      { size: [230, 390] },
      { size: [115, 390] },
      { size: [230, 140] },
      { size: [170, 120] },
      { size: [150, 100.09] },
    ],
    only: true,
  },
  {
    file: 'poncho.svg',
    acts: [ALL, { tick: 'Original copy of cloned triangle:' }],
    pieces: [{ size: [1500, 2400], finished: [1400, 2300], count: 1 }, { size: [100, 100] }],
    only: true,
  },
  {
    file: 'skirt-half-circle.svg',
    acts: [ALL, { inside: '440 × 219 mm', as: 'a hole, cut out' }],
    pieces: [
      // The half discs end 1 mm short of their middle: the areas of the segments, R = 620 and r = 220.
      { size: [1240, 619], count: 1, areaMm2: segment(620, 1) - segment(220, 1), holes: 0 },
      { size: [698.86, 198.86], count: 1 },
    ],
    only: true,
  },
  {
    file: 'throwline-bag.svg',
    pieces: [
      { size: [375.6, 197.8], withinMm: 0.2, lines: 2 },
      { size: [375.6, 121.6], finished: [355.6, 101.6], corners: 4 },
      { size: [375.6, 96.2], finished: [355.6, 76.2], corners: 4 },
      // Its strips lie 0.4 mm apart in the file.
      { size: [121.6, 96.2], withinMm: 0.5, corners: 4 },
    ],
  },
  {
    file: 'rolltop-pack.svg',
    pieces: [
      { size: [740, 830], finished: [720, 790], withinMm: BY_HAND, count: 1 },
      { size: [300, 830], finished: [280, 790], withinMm: BY_HAND, count: 2 },
      { size: [300, 600], finished: [280, 540], withinMm: BY_HAND, count: 1 },
      { size: [1020, 190], finished: [1000, 150], withinMm: BY_HAND, count: 1 },
      { size: [300, 530], finished: [280, 460], withinMm: BY_HAND, count: 1 },
      { size: [300, 240], finished: [280, 220], withinMm: BY_HAND, count: 1 },
      { size: [450, 171], withinMm: BY_HAND, count: 1 },
    ],
  },
  { file: 'hammock.svg', pieces: [{ size: [3300, 1500], holes: 0, lines: 4, count: 1 }], only: true },
  {
    file: 'notebook-leather.svg',
    acts: [{ press: 'Read it as 90 dots an inch' }, ALL],
    pieces: [{ size: [99, 253], holes: 17, lines: 2, count: 1 }],
    only: true,
  },
  {
    file: 'conductive-rings.svg',
    // Nine loops: eight pieces, one of them a ring.
    pieces: [
      { size: [83.25, 83.25], holes: 1 },
      { size: [24.78, 24.78], holes: 0 },
      { size: [142.01, 142.01], holes: 0 },
      { size: [167.84, 199.35], holes: 0 },
      { size: [109.28, 164.75], holes: 0 },
      { size: [153.75, 261.77], holes: 0 },
      { size: [81.87, 64.4], holes: 0 },
      { size: [118.22, 190.29], holes: 0 },
    ],
    only: true,
  },
  {
    file: 'kite-fin.dxf',
    // The layer that says so is switched off in the file.
    says: /annotation.*switched off.*MIRROR AXIS/,
    acts: [{ layer: 'annotation' }, ALL, ON_THEM],
    afterwards: 'The drawing says “MIRROR AXIS”.',
    pieces: [
      { size: [1346.2, 596.9], count: 1, holes: 0 },
      { size: [710.41, 922.88], count: 1 },
      { size: [656.17, 157.61], count: 1 },
      { size: [1778, 25.4], count: 1 },
      { size: [75, 50], count: 4 },
      { size: [60.33, 76.38], count: 1 },
    ],
  },
  { file: 'kite-envelope.dxf', pieces: [{ size: [2265.56, 1101.58], count: 1, holes: 0 }], only: true },
  {
    file: 'daypack-worksheet.pdf',
    says: /Scale bar “1 inches” found: it measures 2.54 cm/,
    pieces: [
      { size: [298.6, 435.6], finished: [268.6, 405.6], count: 3 },
      { size: [1200, 114.15] },
      // Stated as 12 × 12 cm, drawn so.
      { size: [119.89, 119.89] },
    ],
  },
  {
    file: 'bivy.pdf',
    says: '155 closed outlines',
    pieces: [{ size: [1200, 2700] }, { size: [860, 1280] }, { size: [1000, 2500], count: 4 }],
  },
  {
    file: 'made-pdf-traps.pdf',
    says: /Test square “50 mm” found: it measures 5\.?0* cm × 5\.?0* cm here/,
    // The square on page 1 is the test square.
    pieces: [{ size: [50, 50], count: 2 }],
  },
  {
    file: 'made-d6673-blocks.dxf',
    acts: [{ press: 'millimetre' }, ALL],
    // A half on its mirror line; the other as often as its entries say. What cut and sew line leave is its allowance.
    pieces: [
      { size: [200, 220], onFold: true, count: 1, notches: 2 },
      { size: [100, 100], count: 2 },
    ],
    only: true,
    shows: 'Opened out: 40 × 22 cm',
  },
];

/** Area of the part of a disc beyond a chord so far from its middle. */
function segment(radius: number, away: number): number {
  return radius ** 2 * Math.acos(away / radius) - away * Math.sqrt(radius ** 2 - away ** 2);
}

async function act(page: Page, what: Act): Promise<void> {
  if ('press' in what) {
    const button = page
      .getByRole('button', { name: what.press, exact: typeof what.press === 'string' })
      .first();
    await button.click();
    // Reading again happens in a thread.
    if (what.press.toString().startsWith('Read it')) await page.getByText(/Everything is now/).waitFor();
  } else if ('tick' in what) await page.getByRole('checkbox', { name: what.tick }).first().check();
  else if ('layer' in what) {
    // It is ticked when it has been read.
    const layer = page.getByRole('checkbox', { name: what.layer, exact: true });
    await layer.click();
    await page
      .locator('fieldset', { has: page.getByText('Read these layers') })
      .getByRole('checkbox', { name: what.layer, checked: true })
      .waitFor();
  } else
    await page
      .getByRole('combobox', { name: `What is ${what.inside} inside the piece?` })
      .first()
      .selectOption(what.as);
}

/** Settles what the words leave open, as alike where that can be said. */
async function settleAll(page: Page): Promise<void> {
  const answers = page.getByRole('button', { name: /^\d+ alike$|^\d+ in all, from/ });
  for (let left = await answers.count(); left > 0; left = await answers.count())
    await answers.first().click();
}

interface Found {
  readonly width: number;
  readonly height: number;
  readonly count: number;
  readonly piece: Project['pieces'][number];
}

function found(project: Project): Found[] {
  return project.pieces.map((piece) => {
    const [width, height] = sizeOf(piece.outline);
    const count = project.cutList
      .filter(({ pieceId }) => pieceId === piece.id)
      .reduce((sum, { plain, mirrored, onFold }) => sum + plain + mirrored + onFold, 0);
    return { width, height, count, piece };
  });
}

function sizeOf(points: readonly (readonly [number, number])[]): [number, number] {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
}

/** What of a piece is not as expected; empty if all is. */
function faults({ width, height, count, piece }: Found, expected: Expected): string[] {
  const within = expected.withinMm ?? 0.1;
  const area = signedArea(piece.outline) + piece.holes.reduce((sum, hole) => sum + signedArea(hole), 0);
  const isNear = ([w, h]: readonly [number, number], [a, b]: readonly [number, number]): boolean =>
    Math.abs(w - a) <= within && Math.abs(h - b) <= within;
  const sewn = piece.marks.filter(({ kind }) => kind === 'sewLine').map(({ points }) => sizeOf(points));
  const lines = piece.marks.filter(({ kind }) => kind === 'internal').length;
  const notches = piece.marks.filter(({ kind }) => kind === 'notch').length;
  const wrong = (is: boolean, what: string): string[] => (is ? [] : [what]);
  return [
    ...wrong(isNear([width, height], expected.size), 'size'),
    ...wrong(expected.count === undefined || count === expected.count, `count ${count}`),
    ...wrong(
      expected.finished === undefined || sewn.some((size) => isNear(size, expected.finished ?? size)),
      `finished ${sewn.join(' ')}`,
    ),
    // A tenth of a millimetre all round.
    ...wrong(
      expected.areaMm2 === undefined || Math.abs(area - expected.areaMm2) < 0.1 * 2 * (width + height),
      `area ${area.toFixed(0)}`,
    ),
    ...wrong(
      expected.corners === undefined || piece.outline.length === expected.corners,
      `corners ${piece.outline.length}`,
    ),
    ...wrong(
      expected.holes === undefined || piece.holes.length === expected.holes,
      `holes ${piece.holes.length}`,
    ),
    ...wrong(expected.notches === undefined || notches === expected.notches, `notches ${notches}`),
    ...wrong(expected.lines === undefined || lines === expected.lines, `lines ${lines}`),
    ...wrong(expected.onFold === undefined || (piece.foldEdge !== null) === expected.onFold, 'fold'),
  ];
}

const skipped = !hasBrowser || folder === null;

describe.skipIf(skipped)(
  `published files through the page${skipped ? ' (skipped: no Chromium, or no open check data at ../shared)' : ''}`,
  () => {
    const app = withServerAndBrowser();

    it.each(ROWS)('$file', async ({ file, acts = [ALL], pieces, only, says, afterwards, shows }) => {
      const { page, context, faults: broken } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Bring in a drawing' }).click();
      await page.locator('input[type=file]').setInputFiles(`${folder}inputs/${file}`);
      await page.getByRole('button', { name: 'Take all on the page' }).waitFor();
      if (says) await page.getByText(says).first().waitFor({ state: 'attached' });
      for (const each of acts) await act(page, each);
      if (afterwards) await page.getByText(afterwards).first().waitFor({ state: 'attached' });
      await settleAll(page);
      await page.getByRole('button', { name: /^Add \d+ piece/ }).click();
      await page.getByRole('list', { name: 'Your pieces' }).waitFor();
      if (shows) await page.getByText(shows).waitFor();
      await untilSaved(page);
      const project = await storedProject(page);
      const left = found(project);
      const shown = left.map(
        ({ width, height, count }) => `${width.toFixed(2)}×${height.toFixed(2)} (${count})`,
      );
      for (const expected of pieces) {
        const at = left.findIndex((each) => faults(each, expected).length === 0);
        const near = left.map((each) => faults(each, expected)).filter((list) => !list.includes('size'));
        expect(
          at,
          `${expected.size.join(' × ')}: ${near.map((list) => list.join(', ')).join('; ')} of ${shown.join(' ')}`,
        ).toBeGreaterThanOrEqual(0);
        left.splice(at, 1);
      }
      if (only) expect(left.map(({ width, height }) => `${width}×${height}`)).toEqual([]);
      expect(broken).toEqual([]);
      await context.close();
    });
  },
);
