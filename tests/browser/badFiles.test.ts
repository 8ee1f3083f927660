/**
 * What a maker may bring by mistake, or be sent with bad intent, through the page: each is answered in a sentence with
 * a way on, nothing of it runs or is fetched, and the page goes on as before.
 */

import PDFDocument from 'pdfkit';
import type { BrowserContext, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { brokenFiles } from '../../fixtures/patterns/draw.ts';
import { box, dxf, line } from '../reading/dxfText.ts';
import { mm, pdf, square } from '../reading/pdfText.ts';
import { hasBrowser, newProject, withServerAndBrowser } from './support.ts';

const PASSWORD = 'zigzag';
const broken = brokenFiles();
const onPage = (content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">${content}</svg>`;
const sound = pdf({ pages: [{ content: square(10, 10, 50) }] });

interface Bad {
  readonly what: string;
  readonly name: string;
  readonly content: string | Uint8Array;
  /** Refused with these words … */
  readonly refused?: RegExp;
  /** … or read as far as it goes, with these words in the dialog. */
  readonly said?: RegExp;
}

const BAD: readonly Bad[] = [
  { what: 'an empty file', name: 'a.svg', content: '', refused: /empty.*again/ },
  { what: 'an SVG cut off', name: 'a.svg', content: broken['cut-off.svg'] ?? '', refused: /cut off/ },
  {
    what: 'a DXF cut off',
    name: 'a.dxf',
    content: dxf({ entities: box('0', 30, 20) }).slice(0, 230),
    refused: /cut off|damaged/,
  },
  { what: 'a PDF cut off', name: 'a.pdf', content: sound.slice(0, 120), refused: /damaged or cut off/ },
  {
    what: 'a zip under another name',
    name: 'a.svg',
    content: broken['no-drawing.svg'] ?? '',
    refused: /archive.*Unpack/,
  },
  { what: 'a web page', name: 'a.svg', content: broken['page-not-drawing.svg'] ?? '', refused: /not an SVG/ },
  {
    what: 'an entity bomb',
    name: 'a.svg',
    content: broken['entity-bomb.svg'] ?? '',
    said: /within entities|entit/i,
  },
  {
    what: 'scripts and addresses',
    name: 'a.svg',
    content: broken['scripts-and-addresses.svg'] ?? '',
    said: /other files|addresses|outside/i,
  },
  {
    what: 'ten million segments',
    name: 'a.svg',
    content: onPage(`<path d="M0 0${'h1'.repeat(10_000_000)}"/>`),
    refused: /more lines than one pattern may have/,
  },
  {
    what: 'coordinates that are no numbers',
    name: 'a.svg',
    content: broken['not-numbers.svg'] ?? '',
    said: /no numbers|damaged/,
  },
  {
    what: 'a scan without lines',
    name: 'a.pdf',
    content: pdf({
      pages: [{ content: 'q 400 0 0 200 10 10 cm /I Do Q', resources: '/XObject << /I 100 0 R >>' }],
      objects: {
        100: [
          '/Type /XObject /Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray',
          'x',
        ],
      },
    }),
    said: /only a picture.*can be traced/s,
  },
  {
    what: 'a font without end',
    name: 'a.pdf',
    content: broken['font-bomb.pdf'] ?? '',
    said: /1 closed outline/,
  },
  {
    what: 'an outline that crosses itself',
    name: 'a.svg',
    content: onPage(
      '<path id="bow" d="M10 10L90 90V10L10 90z"/><rect x="120" y="10" width="50" height="50"/>',
    ),
    said: /1 outline can’t be used/,
  },
  {
    what: 'a DXF whose unit is not told',
    name: 'a.dxf',
    content: dxf({ header: {}, entities: [...box('0', 12, 8), line('0', 0, 20, 12, 20)] }),
    said: /does not say in which unit/,
  },
];

describe.skipIf(!hasBrowser)(
  `bad files through the page${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it.each(BAD)('$what', async ({ name, content, refused, said }) => {
      const { page, context, faults } = await app.open();
      const elsewhere: string[] = [];
      page.on('request', (request) => {
        if (!request.url().startsWith(app.server.url) && !/^(?:blob|data):/.test(request.url()))
          elsewhere.push(request.url());
      });
      await newProject(page);
      await page.getByRole('button', { name: 'Bring in a drawing' }).click();
      const bring = (file: string, bytes: string | Uint8Array): Promise<void> =>
        page
          .locator('input[type=file]')
          .setInputFiles({ name: file, mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) });
      await bring(name, content);
      if (refused) {
        const alert = page.getByRole('alert');
        await alert.waitFor();
        expect(await alert.textContent()).toMatch(refused);
      } else {
        await page.getByRole('button', { name: 'Another file' }).waitFor();
        expect(await page.locator('.import').textContent()).toMatch(said ?? /never/);
        await page.getByRole('button', { name: 'Another file' }).click();
      }
      // The way on: the next file comes in as if nothing had been.
      await bring('sound.pdf', sound);
      await page.getByText('1 closed outline').waitFor();
      expect([elsewhere, faults]).toEqual([[], []]);
      await context.close();
    });

    it('are answered in German where the page is German', async () => {
      const context = await app.browser.newContext({ locale: 'de-AT' });
      const { page, faults } = await openGerman(context, app.server.url);
      for (const { what, name, content, refused } of BAD.filter((bad) => bad.content.length < 1_000_000)) {
        await page
          .locator('input[type=file]')
          .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(content) });
        const another = page.getByRole('button', { name: 'Andere Datei' });
        if (refused) await page.getByRole('alert').waitFor();
        else await another.waitFor();
        const said = await page.locator(refused ? '[role=alert]' : '.import').allInnerTexts();
        // Words that only English has.
        expect(
          said.join(' ').match(/\b(?:the|of|which|with|it|is|and|again|drawing)\b/gi) ?? [],
          what,
        ).toEqual([]);
        // The way on: back to the choice, without what was said.
        if (refused) {
          await page
            .locator('input[type=file]')
            .setInputFiles({ name: 'a.pdf', mimeType: 'application/pdf', buffer: Buffer.from(sound) });
          await another.waitFor();
        }
        await another.click();
      }
      expect(faults).toEqual([]);
      await context.close();
    });

    it('a locked PDF is opened with its password', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Bring in a drawing' }).click();
      await page
        .locator('input[type=file]')
        .setInputFiles({ name: 'locked.pdf', mimeType: 'application/pdf', buffer: await lockedPdf() });
      await page.getByText('locked with a password').waitFor();
      const field = page.getByLabel('Password of the file');
      await field.fill('buttonhole');
      await page.getByRole('button', { name: 'Open it' }).click();
      await page.getByText('does not open this PDF').waitFor();
      await field.fill(PASSWORD);
      await page.getByRole('button', { name: 'Open it' }).click();
      await page.getByText('1 closed outline').waitFor();
      // Read again it is still open.
      await page.getByRole('button', { name: 'Take all on the page' }).click();
      await page.getByRole('button', { name: 'Add 1 piece' }).click();
      await page.getByRole('list', { name: 'Your pieces' }).waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);

/** The dialog for drawings of a German page. */
async function openGerman(context: BrowserContext, url: string): Promise<{ page: Page; faults: string[] }> {
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  await page.goto(url);
  await page.getByRole('button', { name: 'Projekte', exact: true }).click();
  await page.getByRole('button', { name: 'Neues Projekt', exact: true }).click();
  await page.getByRole('button', { name: 'Zeichnung einlesen' }).click();
  return { page, faults };
}

/** A rectangle of 60 × 40 mm in a PDF that opens with a password only. */
function lockedPdf(): Promise<Buffer> {
  return new Promise((resolve) => {
    const file = new PDFDocument({ userPassword: PASSWORD, ownerPassword: 'selvedge', size: [400, 300] });
    const parts: Buffer[] = [];
    file.on('data', (part: Buffer) => parts.push(part));
    file.on('end', () => resolve(Buffer.concat(parts)));
    const [width = 0, height = 0] = mm(60, 40).split(' ').map(Number);
    file.rect(20, 20, width, height).stroke();
    file.end();
  });
}
