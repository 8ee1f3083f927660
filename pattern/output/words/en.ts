import type { CutHand } from '../ticks.ts';

/** English words of lists and sheets that go to the table. */

type WrittenSpread = 'single' | 'folded' | 'sequence' | 'partial' | 'middle' | 'crosswise' | 'turned';

export const outputEn = {
  /** How fine lengths are told, behind the project's name. */
  toSixteenths: 'inches, to 1/16',
  toMillimetres: (units: string) => `${units}, to 1 mm`,
  part: (name: string, number: number) => `${name}, part ${number}`,
  fullSize: (name: string) => `${name}, full size`,
  along: 'along',
  across: 'across',

  ticks: {
    title: 'Tick list',
    subject: 'What is cut and what is not',
    parts: 'By part',
    held: 'Held back: cut these last, to measure',
    progress: (done: number, total: number) =>
      done === total ? `all ${total} cut` : `${done} of ${total} cut`,
    size: (size: string, isOpened: boolean) => (isOpened ? `${size} opened` : size),
    hands: { plain: 'plain', mirrored: 'mirrored', fold: 'on fold' } as Readonly<Record<CutHand, string>>,
    nothing: 'The cut list asks for nothing to cut yet.',
  },

  positions: {
    title: (name: string) => `${name}: positions`,
    heading: 'Positions to chalk',
    ofRemnant:
      'Measured from two lines at right angles that just touch the remnant at its left and lower edge, as the rulers of the plan.',
    fromFold: 'Along is measured from the cut end, across from the fold, as by the rulers of the plan.',
    fromSelvedge:
      'Along is measured from the cut end, across from the selvedge at the lower edge of the plan, as by the rulers of the plan.',
    squared: (length: string) =>
      `Along begins at the cut end before it is squared. Measured from the squared end, every length along is ${length} less.`,
    how: 'Each piece touches its place at four points. Chalk two of them, lay the piece on, check with a third.',
    nearest: {
      cutEnd: 'Nearest the cut end',
      left: 'Nearest the left edge',
      selvedge: 'Nearest the selvedge',
      fold: 'Nearest the fold',
      box: 'Nearest the lower edge',
    },
    farthest: 'Farthest from it',
    piece: 'Piece',
    hand: 'Hand',
  },

  table: {
    title: (material: string) => `${material}: cloth needed`,
    all: 'cloth needed',
    subject: 'Cloth needed by width and size',
    nothing: 'The table has no figures yet.',
    what: 'Length to buy off the roll, in whole steps of the shop, squaring and margins included, for one set of the cut list.',
    quality: (seconds: string) =>
      `Each figure is the shortest layout found in ${seconds} s: it can be cut so. More time may find a shorter one, never a longer one. What fits with nap or on narrower cloth holds without nap and on wider cloth too.`,
    signs:
      '“cannot fit”: proved. “not found”: no layout found, which is no proof. “–”: this cloth is not spread so, or nothing would lie doubled.',
    size: 'Size',
    width: 'Width',
    naps: { none: 'without nap', oneWay: 'with nap, all one way' },
    spreads: {
      single: 'single',
      folded: 'folded',
      sequence: 'doubled first',
      partial: 'folded in part',
      middle: 'to the middle',
      crosswise: 'crosswise',
      turned: 'turned',
    } as Readonly<Record<WrittenSpread, string>>,
    open: '…',
    verdicts: { 'cannot fit': 'cannot fit', 'not found': 'not found', 'not allowed': '–' },
  },

  shopping: {
    title: 'Shopping list',
    subject: 'What to buy',
    lead: 'Lengths are in whole steps of the shop and include squaring and margins. Spare is what the layout leaves of the length bought.',
    cloth: 'Cloth to buy',
    notions: 'Notions',
    taken: 'From what is there',
    shelf: (place: string) => (place === '' ? 'from the shelf' : `from the shelf, ${place}`),
    pieces: (pieces: number) => `${pieces} ${pieces === 1 ? 'piece is' : 'pieces are'} cut from it`,
    width: (width: string) => `${width} wide`,
    steps: (step: string) => `sold in steps of ${step}`,
    spare: (size: string) => `spare ${size}`,
    cost: (cost: string, price: string | null) => (price === null ? cost : `${cost} (${price} a metre)`),
    states: { open: 'not settled yet: not everything has a place', notLaid: 'not laid out yet' },
    total: (cost: string, isPartly: boolean) =>
      isPartly ? `Together ${cost}, without what has no price` : `Together ${cost}`,
  },

  projector: {
    title: 'for a projector',
    subject: 'Show at 100 %',
    full: 'show at 100 %',
    mirrored: 'mirrored: the cloth lies face down',
    calibration: 'Grid to set the projector by',
    calibrate: 'Bring these squares onto the squares of your cutting mat',
    how: 'Set zoom and keystone until all corners meet, measure both diagonals, then change nothing. Every sheet is shown at 100 %.',
  },

  full: {
    pieces: 'pieces in full size',
    lays: 'lays in full size',
    subject: 'Print at 100 %, without scaling',
    countPieces: (count: number) => (count === 1 ? 'one piece' : `${count} pieces`),
    countStretches: (count: number) => (count === 1 ? 'one stretch of cloth' : `${count} stretches of cloth`),
    sheets: (count: number) => `${count} ${count === 1 ? 'sheet' : 'sheets'}`,
    onSheets: (what: string, sheets: string, paper: string) => `${what} on ${sheets} of ${paper}`,
    gathered: (count: number) => `${count} pieces side by side`,
    long: 'longer than 5.08 m: if your program shows it too small, print it on a roll in parts instead',
    printAt: 'print at 100 %',
    mustMeasure: 'must measure this',
    sheet: (name: string, number: number) => `${name}, sheet ${number}`,
    foot: (
      name: string,
      number: number,
      of: number,
      row: number,
      column: number,
      frameWidth: string,
      frameHeight: string,
      page: number,
    ) =>
      `${name} · sheet ${number} of ${of} · row ${row}, column ${column} · frame ${frameWidth} × ${frameHeight} mm · page ${page} of the file`,
    cover: 'How to print, and maps',
    how: 'Print at 100 % (“actual size”, no scaling to fit) and measure both squares before printing the rest. Every sheet tells the size of its frame: measure one on each.',
    overlap: (mm: string) =>
      `Sheets overlap by ${mm} mm: cut one sheet along its frame, lay it over the broken line of the next, so that the halves of each numbered diamond meet.`,
    meet: 'Cut one sheet along its frame and lay it over the margin of the next, so that the halves of each numbered diamond meet.',
    blank: 'Sheets on which no piece has a part are left out.',
    again: 'To print one sheet again, print only the page that is named at its foot.',
    leftOut: (names: string) => `Not in this file because they have faults: ${names}.`,
    cut: (material: string, counts: string) => `${material}: cut ${counts}`,
    cutLine: (allowance: string) => `cut line ${allowance} outside the sew line`,
    opened: (count: number) => `${count} opened out, from a single layer`,
    onFold: 'heavy edge on the fold',
    from: (length: string) => `, from ${length} on`,
    nothing: 'No piece lies on the cloth yet.',
    noPieces: 'The project has no pieces yet.',
    roll: (mm: number) => `a roll ${mm} mm wide`,
    papers: {
      a4: 'A4',
      a3: 'A3',
      letter: 'Letter',
      tabloid: 'Tabloid',
      both: 'A4 or Letter',
      a1: 'A1',
      a0: 'A0',
    },
    tooMany: (sheets: number, paper: string, most: number) =>
      `That would be up to ${sheets} sheets of ${paper}; at most ${most} are made in one file. Choose less or a larger paper, and check the pieces’ scale.`,
    rollFault: (mm: string, least: number, most: number) =>
      `Paper from a roll is ${least} to ${most} mm wide, not ${mm} mm.`,
    marginSmall: (mm: string, least: number) =>
      `A margin of ${mm} mm is too small: printers leave up to ${least} mm blank.`,
    marginLarge: (mm: string, paper: string, most: number) =>
      `Margins of ${mm} mm leave too little of ${paper}: at most ${most} mm.`,
    overlapFault: (paper: string, most: number, mm: string) =>
      `Sheets of ${paper} can overlap by 0 to ${most} mm, not by ${mm} mm.`,
  },

  labels: {
    title: 'Labels',
    subject: 'A label for every cut piece',
    sheet: (number: number, of: number) => `Labels, sheet ${number} of ${of}`,
    layers: (names: readonly string[]) => `with ${names.join(', ')}`,
    sewnTo: (names: readonly string[]) => `meets ${names.join(', ')}`,
    had: (width: string, height: string) => `would be ${width} × ${height} mm`,
    hadNone: 'would have no room at all',
    fault: (columns: number, rows: number, had: string, leastWidth: number, leastHeight: number) =>
      `This sheet holds no label: with ${columns} × ${rows} labels and these margins and gaps, one ${had}. It needs at least ${leastWidth} × ${leastHeight} mm. Take fewer rows or columns, or smaller margins.`,
    nothing: 'The cut list asks for nothing to label.',
    tooMany: (count: number, most: number) =>
      `The cut list asks for ${count} pieces; at most ${most} get labels.`,
  },

  print: {
    title: (cloth: string) => `${cloth}: how the print will look`,
    lead: 'The cloth right side up, cut end at the left, with every piece where it is cut.',
    opened:
      'It is cut doubled: here it is opened out, so that the pieces of both layers are seen. A pair shows one of each.',
    part: (n: number) => `Part ${n}`,
    pieces: 'Each piece, turned so that its top is up',
    scale: (scale: number) => `Scale 1:${scale}`,
    hands: { plain: '', mirrored: 'mirrored', fold: 'whole', either: '' },
    stands: { up: '', unknown: '', upsideDown: 'PRINT UPSIDE DOWN', sideways: 'PRINT SIDEWAYS' },
    short: { upsideDown: 'upside down', sideways: 'sideways' },
    wrong: (pieces: string) => `The print does not stand upright on: ${pieces}.`,
    allUp: 'The print stands upright on every piece.',
    unknown: 'The cloth does not say which way its print is up: look at each piece.',
    tooFine: 'The repeat is too small for a picture of the whole cloth.',
  },

  plan: { title: 'lay plan', subject: 'Lay plans to cut from' },
};

export type OutputWords = typeof outputEn;
