import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { fullPieceSheets, labelSheets, labelsFor, planSheets } from '../../pattern/output/index.ts';
import type { Sheet } from '../../pattern/output/sheet.ts';
import { FONT_FILES, type FontName, fontFile, fontRuns } from '../../server/pdf/fonts.ts';
import { sheetsToPdf, userUnit } from '../../server/pdf/sheetsToPdf.ts';
import { nothingFits, oddNames } from '../plan/extremeLays.ts';
import { singleLayer, twoSegments } from '../plan/sampleLays.ts';
import { rect } from '../support/handmadeLays.ts';
import { pngAddress } from '../support/png.ts';
import { hasPoppler, info, poppler, render, textOf } from './rendered.ts';

const FACTS = { title: 'Łódź – “plan” ✂', subject: 'To cut from', lang: 'en' };

async function planPdf(make: typeof singleLayer): Promise<Buffer> {
  const { lay, project } = make();
  return sheetsToPdf(planSheets(lay, project, { page: 'a4', units: 'cm' }), FACTS);
}

/** The file as characters, its compressed streams unpacked. */
function unpacked(pdf: Buffer): string {
  const text = pdf.toString('latin1');
  return text.replace(/stream\r?\n([\s\S]*?)\r?\nendstream/g, (whole, data: string) => {
    try {
      return inflateSync(Buffer.from(data, 'latin1')).toString('latin1');
    } catch {
      return whole;
    }
  });
}

describe('a PDF file', () => {
  it('has the same bytes for the same sheets', async () => {
    const [one, other] = [await planPdf(twoSegments), await planPdf(twoSegments)];
    expect(one.equals(other)).toBe(true);
    const project = demoProject();
    const options = { paper: 'a4', marginMm: 10, overlapMm: 0, unfold: true, units: 'in' } as const;
    const full = () => sheetsToPdf(fullPieceSheets(project.pieces, project, options), FACTS);
    expect((await full()).equals(await full())).toBe(true);
  });

  it('asks not to be scaled, shows its title, names its language and its pages', async () => {
    const text = (await planPdf(twoSegments)).toString('latin1');
    expect(text).toMatch(/\/PrintScaling \/None/);
    expect(text).toMatch(/\/DisplayDocTitle true/);
    expect(text).toMatch(/\/Lang \(en\)/);
    expect(text).toMatch(/\/Outlines \d+ 0 R/);
    // A plan, its order of cutting and its positions for each of the two parts.
    expect(text.match(/\/Title \(Cotton ticking/g)).toHaveLength(6);
  });

  it('can run nothing and leads nowhere, whatever the names', async () => {
    const text = unpacked(await planPdf(oddNames));
    expect(text).not.toMatch(/\/(JavaScript|JS|Launch|URI|SubmitForm|OpenAction|EmbeddedFile)\b/);
  });

  it('of a cloth without a piece is made all the same', async () => {
    expect((await planPdf(nothingFits)).subarray(0, 8).toString('latin1')).toBe('%PDF-1.7');
    await expect(sheetsToPdf([], FACTS)).rejects.toThrow(RangeError);
  });

  it('changes no state of the page within a path, which the format forbids', async () => {
    const operators = unpacked(await planPdf(singleLayer))
      .split('\n')
      .map((line) => /(?:^| )([A-Za-z*]+)$/.exec(line)?.[1] ?? '');
    let inPath = false;
    const wrong: string[] = [];
    for (const operator of operators) {
      if (['m', 're'].includes(operator)) inPath = true;
      else if (['f', 'f*', 'S', 'B', 'B*', 'n'].includes(operator)) inPath = false;
      else if (
        inPath &&
        ['w', 'J', 'j', 'd', 'scn', 'SCN', 'cs', 'CS', 'q', 'Q', 'cm', 'BT'].includes(operator)
      ) {
        wrong.push(operator);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('has a unit of 1/72 inch up to 200 inches, a larger one beyond', () => {
    expect(userUnit(5080, 100)).toBe(1);
    expect(userUnit(100, 5080.5)).toBeGreaterThan(1);
    expect(userUnit(216 * 25.4, 100)).toBeCloseTo(1.08, 9);
  });
});

describe.skipIf(!hasPoppler)(
  'a PDF file as read by another program (skipped where poppler is missing)',
  () => {
    it('has its title, every font embedded, and its words as text', async () => {
      const pdf = await planPdf(singleLayer);
      expect(info(pdf)).toMatchObject({
        Title: FACTS.title,
        Subject: FACTS.subject,
        Creator: 'clothlay',
        JavaScript: 'no',
      });
      const fonts = poppler('pdffonts', pdf, ['$FILE']).toString('utf8').trim().split('\n').slice(2);
      expect(fonts.map((line) => /\+(\S+).*?(yes|no)/.exec(line)?.slice(1))).toEqual([
        ['Arimo-Regular', 'yes'],
        ['Arimo-Bold', 'yes'],
      ]);
      const text = textOf(pdf);
      for (const words of [
        'Waxed canvas, moss',
        'Base and back in one',
        'cut 125.6 cm',
        'Close the blade',
        'Nearest the cut end',
      ]) {
        expect(text).toContain(words);
      }
    });

    it('has names in the letters they were typed in', async () => {
      const project = demoProject();
      const names = [
        'Передняя панель',
        'Κύριο πάνελ',
        'Łódź ștrengár ħġ',
        'Þröskuldur ßäöü',
        'Հայերեն',
        'ქართული',
      ];
      const pieces = project.pieces.map((piece, i) => ({ ...piece, name: names[i] ?? piece.name }));
      const labels = labelsFor({ ...project, pieces });
      const sheet = {
        page: 'a4',
        rows: 6,
        columns: 2,
        marginXMm: 10,
        marginYMm: 10,
        gapXMm: 0,
        gapYMm: 0,
        frames: false,
      } as const;
      const text = textOf(await sheetsToPdf(labelSheets(labels, sheet), FACTS));
      for (const name of names.slice(0, 4)) expect(text).toContain(name);
    });
  },
);

describe('fonts', () => {
  const COVERED: Readonly<Record<FontName, ReadonlySet<number>>> = Object.fromEntries(
    (Object.keys(FONT_FILES) as FontName[]).map((name) => [name, codePointsOf(fontFile(name))]),
  ) as unknown as Record<FontName, ReadonlySet<number>>;
  const has = (font: FontName, codePoint: number) => COVERED[font].has(codePoint);

  it('have the letters of the languages of Europe', () => {
    // Letters beyond A to Z by language, from the exemplar sets of the Unicode CLDR.
    const letters =
      'áàâäãåąæćčçĉđďéèêëęěėēğģġĝħĥíìîïīįıĵķłľļńñňņŋóòôöõőøœŕřśšşșŝßţťțŧúùûüűůūųŭẁẃŵẅýÿŷźżžþð' +
      'ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩάέήίόύώϊϋΐΰς' +
      'абвгґдѓђеёєжзѕиіїйјклљмнњопрстћќуўфхцчџшщъыьэюя' +
      'աբգդեզէըթժիլխծկհձղճմյնշոչպջռսվտրցւփքօֆև' +
      'აბგდევზთიკლმნოპჟრსტუფქღყშჩცძწჭხჯჰ';
    for (const bold of [false, true]) {
      const [first, spare] = bold
        ? (['bold', 'spare-bold'] as const)
        : (['regular', 'spare-regular'] as const);
      const missing = [...letters, ...letters.toUpperCase()]
        .map((letter) => letter.codePointAt(0)!)
        // Georgian has no capitals in running text.
        .filter((code) => !(code >= 0x1c90 && code <= 0x1cbf))
        .filter((code) => !has(first, code) && !has(spare, code));
      expect(missing.map((code) => String.fromCodePoint(code))).toEqual([]);
    }
  });

  const runs = (text: string) => fontRuns(text, false, has).map((run) => run.text);

  it('are chosen by letter, in stretches as long as can be', () => {
    expect(fontRuns('Pocket – карман', false, has)).toEqual([{ font: 'regular', text: 'Pocket – карман' }]);
    expect(fontRuns('Tab ხე 2', true, has)).toEqual([
      { font: 'bold', text: 'Tab ' },
      { font: 'spare-bold', text: 'ხე' },
      { font: 'bold', text: ' 2' },
    ]);
  });

  it('set words from right to left in their order, digits among them kept', () => {
    expect(runs('A1 · \u2068כיס קדמי 12\u2069 · plain')).toEqual([
      'A1 · 12 ',
      'קדמי',
      ' ',
      'כיס',
      ' · plain',
    ]);
    expect(runs('Tab כיס קדמי end')).toEqual(['Tab ', 'קדמי', ' ', 'כיס', ' end']);
    expect(runs('\u2068Tab כיס\u2069')).toEqual(['Tab ', 'כיס']);
    expect(runs('')).toEqual([]);
  });
});

/** Code points that a TrueType file maps to a glyph, by its format 4 table (OpenType specification, `cmap`). */
function codePointsOf(file: Buffer): Set<number> {
  const tables = file.readUInt16BE(4);
  let cmap = 0;
  for (let i = 0; i < tables; i++) {
    const at = 12 + 16 * i;
    if (file.toString('latin1', at, at + 4) === 'cmap') cmap = file.readUInt32BE(at + 8);
  }
  const found = new Set<number>();
  for (let i = 0; i < file.readUInt16BE(cmap + 2); i++) {
    const table = cmap + file.readUInt32BE(cmap + 4 + 8 * i + 4);
    if (file.readUInt16BE(table) !== 4) continue;
    const doubled = file.readUInt16BE(table + 6);
    for (let s = 0; s < doubled; s += 2) {
      const last = file.readUInt16BE(table + 14 + s);
      const first = file.readUInt16BE(table + 16 + doubled + s);
      for (let code = first; code <= last && code !== 0xffff; code++) found.add(code);
    }
  }
  return found;
}

describe('a print in a PDF file', () => {
  const GREEN = [20, 160, 60] as const;
  const printed = (picture: string): Sheet => ({
    drawing: {
      widthMm: 100,
      heightMm: 100,
      title: '',
      description: '',
      lang: 'en',
      scale: 1,
      frames: [],
      layers: [],
    },
    prints: [
      {
        rings: [rect(40, 40).map(([x, y]) => [x + 30, y + 30] as const)],
        tile: {
          picture,
          pictureWidth: 10,
          pictureHeight: 10,
          width: 10,
          height: 10,
          x: 3,
          y: 4,
          pictures: [[0, 0]],
        },
        matrix: [0, 1, -1, 0, 100, 0],
      },
    ],
  });
  // Black upper left corner, the rest green.
  const PICTURE = pngAddress(2, [[0, 0, 0], GREEN, GREEN, GREEN]);

  it('is one picture however often it recurs, and the same bytes each time', async () => {
    const make = () => sheetsToPdf([printed(PICTURE), printed(PICTURE)], FACTS);
    const [one, other] = [await make(), await make()];
    expect(one.equals(other)).toBe(true);
    expect(one.toString('latin1').match(/\/Subtype \/Image/g)).toHaveLength(1);
  });

  it('leaves out a picture that is none, and nothing runs', async () => {
    for (const picture of [
      'data:image/png;base64,iVBORw0KGgo',
      'data:image/jpeg;base64,/9j/',
      'data:image/jpeg;base64,/9j/AAAA',
      `data:image/png;base64,iVBORw0KGgo${Buffer.from('\0\0\0\rIHDRnot a picture at all').toString('base64')}`,
    ]) {
      const pdf = await sheetsToPdf([printed(picture)], FACTS);
      expect(pdf.subarray(0, 8).toString('latin1'), picture).toBe('%PDF-1.7');
    }
  });

  it.skipIf(!hasPoppler)(
    'is painted inside its outline and turned as asked (skipped without poppler)',
    async () => {
      const pdf = await sheetsToPdf([printed(PICTURE)], FACTS);
      const { width, grey } = render(pdf, 1, 254, { x: 0, y: 0, width: 100, height: 100 });
      const at = (x: number, y: number) => grey[Math.round(y * 10) * width + Math.round(x * 10)]!;
      for (const [x, y] of [
        [29, 50],
        [71, 50],
        [50, 29],
        [50, 71],
      ] as const) {
        expect(at(x, y)).toBe(255);
      }
      // A quarter turn clockwise: the tile's x runs down, its y to the left from 100. A picture begins at (43, 44) of the
      // tile, so its black corner (43 to 48, 44 to 49) lies from 51 to 56 across and from 43 to 48 down.
      expect(at(53.5, 45.5)).toBe(0);
      for (const [x, y] of [
        [48.5, 45.5],
        [53.5, 50.5],
        [48.5, 50.5],
      ] as const) {
        expect(at(x, y)).toBeGreaterThan(60);
        expect(at(x, y)).toBeLessThan(200);
      }
    },
  );
});
