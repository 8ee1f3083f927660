/** English words of lists and sheets that go to the table, so that another language is another file. */

export const TICKS = {
  title: 'Tick list',
  parts: 'By part',
  held: 'Held back: cut these last, to measure',
  progress: (done: number, total: number) =>
    done === total ? `all ${total} cut` : `${done} of ${total} cut`,
  size: (size: string, isOpened: boolean) => (isOpened ? `${size} opened` : size),
  hands: { plain: 'plain', mirrored: 'mirrored', fold: 'on fold' },
} as const;

export const DESIGNER = {
  title: (material: string) => `${material}: cloth needed`,
  what: 'Length to buy off the roll, in whole steps of the shop, squaring and margins included, for one set of the cut list.',
  quality: (seconds: number) =>
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
  },
  open: '…',
  verdicts: { 'cannot fit': 'cannot fit', 'not found': 'not found', 'not allowed': '–' },
} as const;

export const SHOPPING = {
  title: 'Shopping list',
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
} as const;

export const PROJECTOR = {
  title: 'for a projector',
  full: 'show at 100 %',
  mirrored: 'mirrored: the cloth lies face down',
  calibration: 'Grid to set the projector by',
  calibrate: 'Bring these squares onto the squares of your cutting mat',
  how: 'Set zoom and keystone until all corners meet, measure both diagonals, then change nothing. Every sheet is shown at 100 %.',
} as const;

export const FULL_SIZE = {
  gathered: (count: number) => `${count} pieces side by side`,
  long: 'longer than 5.08 m: if your program shows it too small, print it on a roll in parts instead',
} as const;

export const LABEL = {
  layers: (names: readonly string[]) => `with ${names.join(', ')}`,
  sewnTo: (names: readonly string[]) => `meets ${names.join(', ')}`,
} as const;

export const PRINT = {
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
} as const;
