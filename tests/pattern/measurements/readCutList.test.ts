import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LIMITS } from '../../../pattern/exchange/project.ts';
import {
  type CutEntry,
  MOST_LINES,
  pieceFromRectangle,
  readCutList,
} from '../../../pattern/measurements/index.ts';
import { checkPiece, pieceSize } from '../../../pattern/pieces/index.ts';
import { type LengthUnit, toMm } from '../../../pattern/units/index.ts';

const MATERIALS = ['Canvas', 'Lining'];

function readOne(line: string, defaultUnit: LengthUnit = 'cm'): CutEntry {
  const { lines } = readCutList(line, { defaultUnit, materials: MATERIALS });
  const [first] = lines;
  if (lines.length !== 1 || !first?.ok) throw new Error(`${line}: ${JSON.stringify(lines)}`);
  return first.entry;
}

function complaint(line: string, defaultUnit: LengthUnit = 'cm'): string {
  const { lines } = readCutList(line, { defaultUnit, materials: MATERIALS });
  const [first] = lines;
  if (lines.length !== 1 || !first || first.ok) throw new Error(`${line}: ${JSON.stringify(lines)}`);
  return first.missing;
}

const inch = (value: number): number => toMm(value, 'in');

/** Line, name, across, along (mm), count. */
const LINES: readonly (readonly [string, string, number, number, number])[] = [
  // The lines every maker's list is made of.
  ['2 @ 26 x 3 in strap', 'strap', inch(26), inch(3), 2],
  ['Flap facing 11 1/4" × 2 1/2" (3)', 'Flap facing', inch(11.25), inch(2.5), 3],
  ['4 pcs 310 x 145 mm side', 'side', 310, 145, 4],
  ['7 3/8 by 5, cut 2', '7 3/8 by 5', 73.75, 50, 2],
  ['strap: 2 x 60cm x 8cm', 'strap', 600, 80, 2],
  ['Base 30,5 × 20 cm, 2 Stück', 'Base', 305, 200, 2],
  // Counts, before and after.
  ['2x Side 30x20', 'Side', 300, 200, 2],
  ['2xSide 30x20', 'Side', 300, 200, 2],
  ['2 × 30 × 20 cm base', 'base', 300, 200, 2],
  ['Side 30x20 cm x2', 'Side', 300, 200, 2],
  ['Side, 30 x 20 cm, x 2', 'Side', 300, 200, 2],
  ['60 cm x 8 cm x 3 strap', 'strap', 600, 80, 3],
  ['30 x 20 cm (×4) lid', 'lid', 300, 200, 4],
  ['qty: 3 base 10 x 10', 'base', 100, 100, 3],
  ['Anzahl 3: Boden 10 x 10', 'Boden', 100, 100, 3],
  ['cut two 12 x 5 cm ear', 'ear', 120, 50, 2],
  ['two pockets 20x20', 'pockets', 200, 200, 2],
  ['3 pockets 20 x 20 cm', 'pockets', 200, 200, 3],
  ['Pocket 20x20cm à 2 Stück', 'Pocket', 200, 200, 2],
  ['Strap, 60 cm, 8 cm, 2', 'Strap', 600, 80, 2],
  ['Strap - 60 x 8 cm - 2', 'Strap', 600, 80, 2],
  // Numbers that are part of a name.
  ['Panel A1 30x20cm (2)', 'Panel A1', 300, 200, 2],
  ['Panel B 30 x 20 cm', 'Panel B', 300, 200, 1],
  ['1" webbing loop 60 x 8 cm', '1" webbing loop', 600, 80, 1],
  ['3. Tab 60 x 8 mm', 'Tab', 60, 8, 1],
  ['- Tab 60 x 8 mm', 'Tab', 60, 8, 1],
  ['"Strap" 6x19"', 'Strap', inch(6), inch(19), 1],
  ['Flap (outer) 30x20 cm', 'Flap (outer)', 300, 200, 1],
  // Units: none, one for both, one each, compound.
  ['Side 30 cm x 145 mm', 'Side', 300, 145, 1],
  ['Side 30 cm x 20', 'Side', 300, 200, 1],
  ['Side 30 x 20 (in)', 'Side', inch(30), inch(20), 1],
  [`Gusset 8" x 3'7"`, 'Gusset', inch(8), inch(43), 1],
  ['Gusset 8 in x 1 yd 7 in', 'Gusset', inch(8), inch(43), 1],
  ['Binding 60 mm x 1,5 m', 'Binding', 60, 1500, 1],
  ['4 @ 3½ × 10¼ in. handle', 'handle', inch(3.5), inch(10.25), 4],
  ['Facing 11-1/4 x 2-1/2 in', 'Facing', inch(11.25), inch(2.5), 1],
  // Squares.
  ['5 in squares, 20 pcs', '5 in square', inch(5), inch(5), 20],
  ['20 squares 5 in', '5 in square', inch(5), inch(5), 20],
];

describe('a line', () => {
  it.each(LINES)('%s', (line, name, across, along, count) => {
    const entry = readOne(line);
    expect(entry.name).toBe(name);
    expect([entry.acrossMm, entry.alongMm]).toEqual([across, along]);
    expect(entry.count).toBe(count);
  });

  it('takes bare numbers in the default unit and says so', () => {
    expect(readOne('7 3/8 by 5, cut 2', 'in')).toMatchObject({ acrossMm: inch(7.375), unitSaid: 'assumed' });
    expect(readOne('310 x 145', 'mm')).toMatchObject({ acrossMm: 310, unitSaid: 'assumed' });
    expect(readOne('310 x 145 mm')).toMatchObject({ acrossMm: 310, unitSaid: 'said' });
  });

  it('says that one copy was assumed, and when the count is a guess', () => {
    expect(readOne('30 x 20 cm lid')).toMatchObject({ count: 1, countSaid: 'assumed' });
    expect(readOne('2 x 30 x 20 cm lid')).toMatchObject({ count: 2, countSaid: 'said' });
    expect(readOne('4 x 3 x 2 in tab')).toMatchObject({ count: 4, countSaid: 'assumed' });
  });

  it('keeps the trailing "in" of an inch apart from "in canvas"', () => {
    expect(readOne('2 @ 26 x 3 in strap')).not.toHaveProperty('material');
    expect(readOne('Strap 26 x 3 in canvas')).toMatchObject({
      name: 'Strap',
      acrossMm: inch(26),
      material: 'Canvas',
    });
    expect(readOne('Strap 26 x 3 cm in canvas')).toMatchObject({
      name: 'Strap',
      acrossMm: 260,
      material: 'Canvas',
    });
    expect(readOne('Strap 26 x 3 in in canvas')).toMatchObject({
      name: 'Strap',
      acrossMm: inch(26),
      material: 'Canvas',
    });
  });

  it.each([
    ['Side 310 x 145 mm (lining)', 'Side', 'Lining'],
    ['Side 310 x 145 mm from felt', 'Side', 'felt'],
    ['Seite 310 x 145 mm aus Filz', 'Seite', 'Filz'],
    ['Side 310 x 145 mm, waxed cotton, cut 2', 'Side', 'waxed cotton'],
    ['310 x 145 mm side, felt', 'side', 'felt'],
    ['Side 310 x 145 mm material: felt', 'Side', 'felt'],
    ['Lining: pocket 310 x 145 mm', 'pocket', undefined],
    ['Lining pocket 310 x 145 mm', 'Lining pocket', undefined],
  ])('material: %s', (line, name, material) => {
    const entry = readOne(line);
    if (material === undefined) expect(entry.name).toContain(name);
    else {
      expect(entry.name).toBe(name);
      expect(entry.material).toBe(material);
    }
  });
});

describe('which side is along the grain', () => {
  it('is assumed from the order, width first, unless it is said', () => {
    expect(readOne('30 x 20 cm')).toMatchObject({ acrossMm: 300, alongMm: 200, grainSaid: 'assumed' });
  });
  it.each([
    ['W 30 x H 20 pocket', 300, 200],
    ['H 20 x W 30 pocket', 300, 200],
    ['pocket h=20 b=30', 300, 200],
    ['pocket 14" (h) x 9" (w)', inch(9), inch(14)],
    ['30w x 20h pocket', 300, 200],
    ['30 W x H 20 pocket', 300, 200],
    ['30 cm wide, 20 cm high lid', 300, 200],
    ['20 cm long x 30 cm wide strap', 300, 200],
    ['30 x 20 long strap', 300, 200],
    ['Boden 30 cm breit x 20 cm hoch', 300, 200],
    ['Breite 30 x Höhe 20 Boden', 300, 200],
    ['Länge: 20 cm, Breite: 30 cm Boden', 300, 200],
    ['side 20 cm along the grain x 30 cm', 300, 200],
    ['side 30 cm across the grain x 20 cm', 300, 200],
    ['HxB: 20 x 30 Tasche', 300, 200],
    ['Pocket 30 x 20 (W x H) cm', 300, 200],
    ['L x W 20 x 30 pocket', 300, 200],
  ])('%s', (line, across, along) => {
    expect(readOne(line)).toMatchObject({ acrossMm: across, alongMm: along, grainSaid: 'said' });
  });
  it('a length beside a height leaves it open: the height stands upright, and the page asks', () => {
    expect(readOne('L 20 x H 30')).toMatchObject({ acrossMm: 200, alongMm: 300, grainSaid: 'assumed' });
  });
  it('two widths are refused', () => {
    expect(complaint('30 wide x 20 wide')).toContain('Both sides are called the width');
  });
});

describe('hands and folds', () => {
  it.each([
    ['Base 30 × 20 cm, 1 pair', 2, true],
    ['cut 2 pairs 12 x 5 cm ear', 4, true],
    ['a pair 12 x 5 cm ear', 2, true],
    ['Pocket 20 x 15 cm pair', 2, true],
    ['Pocket 20 x 15 cm a pair', 2, true],
    ['Pocket 20 x 15 cm 1 pair', 2, true],
    ['Tasche 20 × 15 cm, Paar', 2, true],
    ['Pocket 20 x 15 cm (pair), Canvas', 2, true],
    ['4 pcs pocket 20 x 15 cm, pair', 4, true],
    ['Side 30 x 20 cm cut 2 mirrored', 2, true],
    ['Gusset 8" x 20", cut 4 in two mirrored pairs', 4, true],
    ['Seitenteil 30 x 20 cm gegengleich', 2, true],
    ['Seitenteil 30 x 20 cm, 2 Paar', 4, true],
    ['Side left & right 30 x 20 cm', 2, true],
    ['Side 30 x 20 cm, cut 1 mirrored', 1, false],
    ['Side 30 x 20 cm, cut 2', 2, false],
  ])('%s', (line, count, pair) => {
    expect(readOne(line)).toMatchObject({ count, pair });
  });
  it.each([
    'Lining body 20 x 31 cm on fold, cut 1',
    'Body 20 x 31 cm cut 1 on the fold',
    'Futter 20 x 31 cm im Bruch',
  ])('%s', (line) => {
    expect(readOne(line)).toMatchObject({ onFold: true, count: 1 });
  });
  it('the word at the end is no part of the name, elsewhere it is', () => {
    expect(readOne('Pocket 20 x 15 cm pair').name).toBe('Pocket');
    expect(readOne('Pocket 20 x 15 cm (pair), Canvas')).toMatchObject({ name: 'Pocket', material: 'Canvas' });
    expect(readOne('pair tab 20 x 15 cm')).toMatchObject({ name: 'pair tab', count: 1, pair: false });
  });

  it('an odd number can’t be mirrored pairs', () => {
    expect(complaint('Side 30 x 20 cm cut 3 mirrored')).toContain('3 copies can’t be cut in mirrored pairs');
  });
});

describe('lines that can’t be read', () => {
  it.each([
    ['just words', 'no measurements'],
    ['Strap 60 cm', 'Only one side is given (60 cm)'],
    ['Strap 11 1/4"', 'Only one side is given (11 1/4 in)'],
    ['11 1/4 2 1/2 facing', 'Which numbers are the two sides?'],
    ['Bag 30 x 20 x 10 cm', 'a flat piece has two sides'],
    ['Bag 30 cm x 20 cm x 10 cm', 'a flat piece has two sides'],
    ['1 x 2 x 3 x 4', '4 numbers are multiplied'],
    ['0 x 5 cm', 'A side is zero'],
    ['-3 x 5 cm', 'A side is negative: −3 cm'],
    ['5 x −3 cm', 'A side is negative'],
    ['200 m x 3 cm', 'too long: at most 100 m'],
    ['Binding 6 x 1.5 m', 'Is the 6 in m too?'],
    ['1,200 x 30 mm binding', 'may mean 1200 mm'],
    ['11 1/0 x 3 in', 'divides by zero'],
    ['3 pockets 20 x 20 cm (2)', 'Two counts are given, 3 and 2'],
    ['2.5 pcs 3 x 4 cm', 'The count 2.5 is not a whole number'],
    ['0 pcs 3 x 4 cm', 'The count is zero'],
    ['20000 pcs 3 x 4 cm', `at most ${LIMITS.copies}`],
    [`${'very '.repeat(100)}long 3 x 4`, 'characters'],
  ])('%s', (line, why) => {
    expect(complaint(line)).toContain(why);
  });

  it('come back with their number; the others are kept', () => {
    const text = 'Side 30 x 20 cm\n\nStrap 60 cm\r\nBase 10 x 10 cm';
    const { lines } = readCutList(text, { defaultUnit: 'cm' });
    expect(lines.map((line) => [line.lineNumber, line.ok])).toEqual([
      [1, true],
      [3, false],
      [4, true],
    ]);
    expect(lines[1]).toMatchObject({
      text: 'Strap 60 cm',
      missing: 'Only one side is given (60 cm): the other is missing.',
    });
  });

  it('ten thousand lines are the limit', () => {
    const at = readCutList('1 x 2 cm\n\n'.repeat(MOST_LINES), { defaultUnit: 'cm' });
    expect(at.lines).toHaveLength(MOST_LINES);
    expect(at.refused).toBeUndefined();
    const over = readCutList('1 x 2 cm\n'.repeat(MOST_LINES + 1), { defaultUnit: 'cm' });
    expect(over.lines).toEqual([]);
    expect(over.refused).toContain('at most 10000');
  });

  it('never throws; every line that is read is a piece that can be cut', () => {
    const part = fc.constantFrom(
      '2',
      '30',
      '7 3/8',
      '½',
      '0',
      '-3',
      '1.200',
      '"',
      'in',
      'cm',
      'mm',
      ' x ',
      '×',
      '@',
      '(',
      ')',
      'strap',
      'W',
      'h',
      ',',
      ':',
      '\t',
      ';',
      '|',
      'cut',
      'pair',
      'pcs',
      'on fold',
      'mirrored',
      ' ',
      '\n',
      '1e9',
      'Width',
      'qty',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ maxLength: 60 }),
          fc.array(part, { maxLength: 14 }).map((parts) => parts.join(' ')),
          fc.array(part, { maxLength: 14 }).map((parts) => parts.join('')),
        ),
        fc.constantFrom('cm' as const, 'mm' as const, 'in' as const),
        (text, defaultUnit) => {
          const { lines, headings } = readCutList(text, { defaultUnit, materials: MATERIALS });
          const rows = text.split(/\r\n|\r|\n/u).filter((line) => line.trim() !== '').length;
          expect(lines.length + headings.length).toBeLessThanOrEqual(rows);
          for (const line of lines) {
            if (!line.ok) {
              expect(line.missing.length).toBeGreaterThan(10);
              continue;
            }
            const { entry } = line;
            expect(Number.isInteger(entry.count) && entry.count >= 1 && entry.count <= LIMITS.copies).toBe(
              true,
            );
            expect(entry.name.trim()).not.toBe('');
            const piece = pieceFromRectangle(entry);
            expect(pieceSize(piece).alongMm).toBeCloseTo(entry.alongMm, 6);
            if (Math.min(entry.alongMm, entry.acrossMm) > 0.2) {
              expect(checkPiece(piece).filter((problem) => problem.level === 'error')).toEqual([]);
            }
          }
        },
      ),
      { numRuns: 3000 },
    );
  });
});

describe('headings', () => {
  it('set unit, order and material of the lines after them', () => {
    const text =
      'All measurements in inches\nLining:\npocket 7 3/8 x 5 (2)\n# Canvas\nMaße in cm (H x B)\nside 7 x 5';
    const { lines, headings } = readCutList(text, { defaultUnit: 'mm' });
    expect(headings.map(({ lineNumber, kind }) => [lineNumber, kind])).toEqual([
      [1, 'unit'],
      [2, 'material'],
      [4, 'material'],
      [5, 'unit'],
    ]);
    expect(lines.map((line) => line.ok && line.entry)).toMatchObject([
      {
        name: 'pocket',
        acrossMm: inch(7.375),
        alongMm: inch(5),
        material: 'Lining',
        unitSaid: 'said',
        grainSaid: 'assumed',
      },
      { name: 'side', acrossMm: 50, alongMm: 70, material: 'Canvas', unitSaid: 'said', grainSaid: 'said' },
    ]);
  });
});

describe('files and clipboards', () => {
  const read = (text: string) => readCutList(text, { defaultUnit: 'cm' });
  const entries = (text: string) => read(text).lines.map((line) => (line.ok ? line.entry : line.missing));

  it('reads CSV with commas under its head: quotation marks, doubled marks, commas and line breaks in cells', () => {
    // RFC 4180.
    const text = [
      '\uFEFFPiece,Width (in),Height (in),Qty,Material',
      '"Flap, left",11,"7 1/2",1,Canvas',
      'Strap,"11 1/4""",26,2,',
      '"Pocket',
      'of the lining",9,"6,5",1,Lining',
    ].join('\r\n');
    expect(entries(text)).toMatchObject([
      { name: 'Flap, left', acrossMm: inch(11), alongMm: inch(7.5), count: 1, material: 'Canvas' },
      { name: 'Strap', acrossMm: inch(11.25), alongMm: inch(26), count: 2 },
      { name: 'Pocket of the lining', acrossMm: inch(9), alongMm: inch(6.5), material: 'Lining' },
    ]);
    expect(read(text).lines.map(({ lineNumber }) => lineNumber)).toEqual([2, 3, 4]);
  });

  it('reads semicolons with decimal commas, and a spreadsheet’s cell with a line break', () => {
    expect(entries('Teil;Breite;Höhe;Anzahl\n"Boden; innen";30,5;20;2')).toMatchObject([
      { name: 'Boden; innen', acrossMm: 305, alongMm: 200, count: 2 },
    ]);
    expect(entries('Name\tWidth\tHeight\n"Side\npanel"\t30\t20\nTab\t5\t8')).toMatchObject([
      { name: 'Side panel', acrossMm: 300 },
      { name: 'Tab', alongMm: 80 },
    ]);
  });

  it('takes inch marks for no quotations, and commas in sentences for no columns', () => {
    expect(entries('Name\tWidth\tHeight\nFlap\t11 1/4"\t5"\nTab\t2"\t3"')).toMatchObject([
      { name: 'Flap', acrossMm: inch(11.25) },
      { name: 'Tab', acrossMm: inch(2) },
    ]);
    expect(entries('flap, 30 x 20 cm, canvas')).toMatchObject([
      { name: 'flap', acrossMm: 300, alongMm: 200 },
    ]);
  });
});

describe('tables from a spreadsheet', () => {
  const read = (rows: readonly (readonly string[])[], divider = '\t') =>
    readCutList(rows.map((row) => row.join(divider)).join('\n'), { defaultUnit: 'cm' }).lines.map((line) =>
      line.ok ? line.entry : line.missing,
    );

  it('are read by their heads, in English', () => {
    expect(
      read([
        ['Piece', 'Qty', 'Height (mm)', 'Width (mm)', 'Material'],
        ['Flap', '2', '305', '200.5', 'Canvas'],
        ['Strap', '1 pair', '"11 1/4"""', '40', ''],
        ['', 'cut 2', '30', '40', 'Lining'],
      ]),
    ).toMatchObject([
      {
        name: 'Flap',
        count: 2,
        alongMm: 305,
        acrossMm: 200.5,
        material: 'Canvas',
        grainSaid: 'said',
        unitSaid: 'said',
        countSaid: 'said',
      },
      { name: 'Strap', count: 2, pair: true, alongMm: inch(11.25), acrossMm: 40 },
      { name: '4 × 3 cm', count: 2, alongMm: 30, acrossMm: 40, material: 'Lining' },
    ]);
  });

  it('and in German', () => {
    expect(
      read([
        ['Teil', 'Breite', 'Länge', 'Anzahl', 'Stoff', 'Bruch'],
        ['Boden', '30,5', '1,2 m', '2 Stück', 'Futter', 'ja'],
      ]),
    ).toMatchObject([
      {
        name: 'Boden',
        acrossMm: 305,
        alongMm: 1200,
        count: 2,
        material: 'Futter',
        onFold: true,
        unitSaid: 'assumed',
      },
    ]);
  });

  it('with both sides in one column, between bars', () => {
    expect(
      read(
        [
          ['', 'Part', 'L x W in', 'Qty', ''],
          ['', '---', '---', '---', ''],
          ['', 'Strap', '26 x 3', '2', ''],
        ],
        '|',
      ),
    ).toMatchObject([{ name: 'Strap', alongMm: inch(26), acrossMm: inch(3), count: 2, grainSaid: 'said' }]);
  });

  it('say which cell is missing or wrong', () => {
    const head = ['Name', 'Width', 'Height', 'Count'];
    expect(
      read([
        head,
        ['A', '30', '', '1'],
        ['B', 'wide', '20', '1'],
        ['C', '-3', '20', '1'],
        ['D', '3', '2', 'some'],
        ['E', '3', '2', '0'],
        ['F', '', '', ''],
      ]),
    ).toEqual([
      'The height is missing.',
      'The width “wide” can’t be read.',
      'A side is negative: −3 cm.',
      'The count “some” can’t be read.',
      'The count is zero.',
      'The width and height are missing.',
    ]);
    expect(
      read([
        ['Name', 'Width', 'Height', 'Length'],
        ['A', '1', '2', '3'],
      ]),
    ).toEqual(['Width, height and length are given: a flat piece has two sides.']);
  });

  it('without a head: name, width, height, count, material; what was guessed is marked', () => {
    expect(
      read([
        ['Strap', '60', '8', '2', 'Canvas'],
        ['2', 'Strap', '60', '8'],
        ['Strap', '60 cm', '8 cm', '2'],
        ['Strap', '60 x 8 cm', 'cut 2', 'Canvas'],
        ['Strap', '60', '8'],
      ]),
    ).toMatchObject([
      {
        name: 'Strap',
        acrossMm: 600,
        alongMm: 80,
        count: 2,
        material: 'Canvas',
        countSaid: 'assumed',
        grainSaid: 'assumed',
      },
      { name: 'Strap', acrossMm: 600, alongMm: 80, count: 2, countSaid: 'assumed' },
      { name: 'Strap', acrossMm: 600, alongMm: 80, count: 2, countSaid: 'said', unitSaid: 'said' },
      { name: 'Strap', acrossMm: 600, alongMm: 80, count: 2, material: 'Canvas' },
      { name: 'Strap', acrossMm: 600, alongMm: 80, count: 1, countSaid: 'assumed' },
    ]);
    expect(read([['Strap', '60,5', '8', '2']], ';')).toMatchObject([
      { acrossMm: 605, alongMm: 80, count: 2 },
    ]);
    expect(
      read([
        ['Strap', '60'],
        ['1', '2', '3', '4'],
        ['Strap', '60.5', '8.5', '7.5'],
      ]),
    ).toEqual([
      'There is one number in the row: width, height and, if you like, the count are needed.',
      'There are 4 numbers in the row: width, height and, if you like, the count are needed.',
      'Which of the three numbers is the count? Write it as “2 pcs”.',
    ]);
  });
});

describe('pieceFromRectangle', () => {
  it('stands upright with its grain, half pieces with their left side on the fold', () => {
    const piece = pieceFromRectangle({ name: 'Body', acrossMm: 200, alongMm: 310, onFold: true, id: 'body' });
    expect(pieceSize(piece)).toMatchObject({ widthMm: 200, heightMm: 310, alongMm: 310, acrossMm: 200 });
    expect(checkPiece(piece)).toEqual([]);
    expect(piece.foldEdge).toBe(3);
    expect(piece.source).toEqual({ kind: 'measured', alongMm: 310, acrossMm: 200 });
    expect(() => pieceFromRectangle({ name: 'Nothing', acrossMm: 0, alongMm: 3 })).toThrow(RangeError);
  });
});

describe('a line that gives several materials their counts', () => {
  it.each([
    ['Body 42 x 28 cm, 1 canvas, 2 lining, 1 interfacing', 1, 'Canvas', ['2 Lining', '1 interfacing']],
    ['Boden 30 x 12 cm; 2 aus Canvas; 1 Einlage', 2, 'Canvas', ['1 Einlage']],
    ['Side 30x20, 2x Lining', 2, 'Lining', []],
    ['Tab 6 x 5 cm, 4 outer cloth', 4, 'outer cloth', []],
  ] as const)('%s', (line, count, material, more) => {
    const entry = readOne(line);
    expect(entry.count).toBe(count);
    expect(entry.material).toBe(material);
    expect(entry.countSaid).toBe('said');
    expect((entry.more ?? []).map((other) => `${other.count} ${other.material}`)).toEqual(more);
    expect(entry.name).toBe(line.split(' ')[0]);
  });

  it('lies on the fold for each of them', () => {
    const entry = readOne('Pocket 20 x 15 cm on the fold, 1 canvas, 1 lining');
    expect(entry.onFold).toBe(true);
    expect(entry.more).toEqual([{ count: 1, material: 'Lining' }]);
  });

  it('leaves lines alone that end in a count or a size', () => {
    expect(readOne('Base 30 x 20 cm, 2 pcs').more).toBeUndefined();
    expect(readOne('Base 30 x 20 cm, 2 pcs').count).toBe(2);
    expect(readOne('Strap, 60 cm, 8 cm').acrossMm).toBe(600);
  });
});

it('says of a round piece where it is typed', () => {
  expect(complaint('Round end 14 cm diameter, 2 outer')).toMatch(/Other shapes/);
  expect(complaint('Durchmesser 14 cm')).toMatch(/Other shapes/);
});
