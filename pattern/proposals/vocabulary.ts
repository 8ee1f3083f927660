import type { Material } from '../exchange/project.ts';

/**
 * The words in which patterns say what is to be cut, in English and German. To read another language, add its words:
 * all are compared in lower case, without accents of any kind taken off.
 */

/** Words for materials, by what the material is for; the longest that fits counts. */
export const MATERIAL_WORDS: Readonly<Record<Material['role'], readonly string[]>> = {
  main: [
    'main fabric',
    'main',
    'outer fabric',
    'outer',
    'exterior',
    'shell',
    'self',
    'fashion fabric',
    'fabric',
    'canvas',
    'oberstoff',
    'außenstoff',
    'aussenstoff',
    'hauptstoff',
    'außen',
    'aussen',
    'stoff',
  ],
  contrast: [
    'contrast',
    'accent',
    'vinyl',
    'faux leather',
    'leather',
    'kontraststoff',
    'kontrast',
    'kunstleder',
    'leder',
  ],
  lining: ['lining', 'inner fabric', 'interior', 'futterstoff', 'futter', 'innenstoff', 'innen'],
  interfacing: [
    'fusible interfacing',
    'interfacing',
    'stabiliser',
    'stabilizer',
    'fusible',
    'vlieseinlage',
    'bügeleinlage',
    'einlage',
  ],
  foam: ['foam', 'batting', 'wadding', 'fleece', 'volumenvlies', 'schaumstoff', 'vlies', 'watte'],
  other: ['webbing', 'mesh', 'elastic', 'gurtband', 'netzstoff', 'gummi'],
};

/** "Cut": what follows or stands before is an instruction. */
export const CUT_WORDS = ['cut', 'zuschneiden', 'schneiden', 'schneide', 'zuschnitt'];

export const FOLD_WORDS = [
  'on the fold',
  'on fold',
  'im stoffbruch',
  'stoffbruch',
  'im bruch',
  'am bruch',
  'place on fold',
];

/** Written beside an edge, these mark it as the one on the fold. */
export const FOLD_EDGE_WORDS = [
  'fold',
  'fold line',
  'foldline',
  'bruch',
  'stoffbruch',
  'umbruch',
  'bruchkante',
];

/** Words that such a mark may hold besides; any other makes it a sentence about sewing: "fold at 3 inches". */
export const FOLD_EDGE_COMPANY = [
  ...[
    'fold',
    'line',
    'foldline',
    'edge',
    'place',
    'lay',
    'on',
    'the',
    'centre',
    'center',
    'front',
    'back',
    'cf',
    'cb',
  ],
  ...[
    'bruch',
    'stoffbruch',
    'umbruch',
    'bruchkante',
    'im',
    'am',
    'an',
    'den',
    'stoff',
    'vordere',
    'hintere',
    'mitte',
  ],
  ...['vm', 'hm', 'cut', '1', '1x', '2', '2x', 'annotation'],
];

/** Written beside a line, these call it the grain. */
export const GRAIN_WORDS = [
  'grain',
  'grainline',
  'grain line',
  'straight grain',
  'fadenlauf',
  'laufrichtung',
  'fadenrichtung',
];

/** A pair of mirror images, or one of each. */
export const PAIR_WORDS = [
  '1 pair',
  'one pair',
  'a pair',
  'mirrored pair',
  'pairs',
  'pair',
  'gegengleich',
  'ein paar',
  '1 paar',
  'paarweise',
];

/** The mirror image itself, or one of several copies. */
export const MIRROR_WORDS = [
  'mirror image',
  'mirrored',
  'mirror',
  'reversed',
  'reverse',
  'spiegelverkehrt',
  'spiegelbildlich',
  'gespiegelt',
];

/** A line at which a half drawn becomes the whole: it may be an edge of the half, or a line through the whole. */
export const MIRROR_LINE_WORDS = [
  'mirror axis',
  'mirror line',
  'axis of symmetry',
  'line of symmetry',
  'spiegelachse',
  'symmetrieachse',
];

/** Two layers cut at once, or twice the count: patterns mean either. */
export const DOUBLE_WORDS = ['double', 'doubled', 'doppelt', 'doppellagig', 'in doppelter lage'];

/** Words for numbers, up to what patterns write out. */
export const NUMBER_WORDS: Readonly<Record<string, number>> = {
  one: 1,
  once: 1,
  two: 2,
  twice: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  eight: 8,
  ein: 1,
  eine: 1,
  einmal: 1,
  zwei: 2,
  zweimal: 2,
  drei: 3,
  dreimal: 3,
  vier: 4,
  viermal: 4,
  fünf: 5,
  sechs: 6,
  acht: 8,
};

/** Words that join materials or instructions in one line. */
export const AND_WORDS = ['and', 'und', '&', '+', '/'];
