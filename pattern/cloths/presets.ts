import type { Remnant, Roll } from '../exchange/project.ts';

/**
 * Kinds of cloth to start from. Each only fills in fields, all of which can be changed afterwards; where its figures
 * come from is said beside it. `null`: our own usual setting, without a source.
 */
export interface Preset {
  readonly id: PresetId;
  readonly rules: Partial<
    Pick<Roll, 'turn' | 'nap' | 'stretchAlike' | 'cutFromBack' | 'reversible' | 'gapMm' | 'edgeMarginMm'>
  >;
  readonly roll?: Partial<
    Pick<Roll, 'widthMm' | 'usableWidthMm' | 'selvedgeMm' | 'squaringMm' | 'foldable' | 'shopStepMm'>
  >;
  /** Sold in pieces of one size rather than off the roll. */
  readonly sheet?: { readonly outline: Remnant['outline']; readonly quantity: number };
  readonly source: { readonly title: string; readonly address: string } | null;
  /** What is told of its shrinking, in per cent of the length; 0 to 0 where it hardly does. */
  readonly shrinks?: { readonly from: number; readonly to: number; readonly source: string };
}

export const PRESET_IDS = [
  'woven',
  'quiltingCotton',
  'canvas',
  'homeDecor',
  'denim',
  'napped',
  'plush',
  'laminated',
  'vinyl',
  'vinylSheet',
  'cork',
  'leather',
  'interfacing',
  'fusible',
  'foam',
  'fatQuarterYard',
  'fatQuarterMetre',
  'tenInchSquares',
] as const;
export type PresetId = (typeof PRESET_IDS)[number];

const INCH = 25.4;

const rectangle = (along: number, across: number): Remnant['outline'] => [
  [0, 0],
  [along, 0],
  [along, across],
  [0, across],
];

/** A half hide, backbone below: our own outline, scaled to 25 square feet, the size told for half a cow. */
const HALF_HIDE: Remnant['outline'] = scaledToArea(
  [
    [0, 0],
    [210, 0],
    [232, 12],
    [240, 34],
    [222, 52],
    [226, 84],
    [206, 92],
    [192, 74],
    [150, 84],
    [96, 80],
    [58, 72],
    [44, 94],
    [24, 90],
    [22, 56],
    [2, 40],
  ],
  25 * 304.8 * 304.8,
);

function scaledToArea(ring: readonly (readonly [number, number])[], areaMm2: number): Remnant['outline'] {
  let twice = 0;
  for (const [i, [x, y]] of ring.entries()) {
    const [u, v] = ring[(i + 1) % ring.length]!;
    twice += x * v - u * y;
  }
  const scale = Math.sqrt(areaMm2 / (twice / 2));
  return ring.map(([x, y]) => [Math.round(x * scale), Math.round(y * scale)] as const);
}

const GUIDE = 'https://fabricis.com/en-es/blogs/textile-resources/fabric-shrinkage-guide-calculator';
const PRECUTS = 'https://bloomeriefabrics.com/en-au/pages/a-practical-guide-to-pre-cut-fabric-sizes';
const WOVEN = { turn: 'grain', nap: 'none', gapMm: 3 } as const;

export const PRESETS: readonly Preset[] = [
  { id: 'woven', rules: WOVEN, roll: { widthMm: 1400, selvedgeMm: 10, squaringMm: 20 }, source: null },
  {
    id: 'quiltingCotton',
    rules: WOVEN,
    // Sold as 44–45 in; 40 in are safe to count on between the selvedges.
    roll: { widthMm: 1120, usableWidthMm: 40 * INCH, squaringMm: 0.5 * INCH },
    source: { title: 'A practical guide to pre-cut fabric sizes', address: PRECUTS },
    shrinks: { from: 3, to: 5, source: GUIDE },
  },
  {
    id: 'canvas',
    rules: WOVEN,
    roll: { widthMm: 60 * INCH, selvedgeMm: 10, squaringMm: 20 },
    source: {
      title: 'Canvas cloth',
      address: 'https://blog.bigzfabric.com/canvas-cloth-the-real-jack-of-all-trades',
    },
    shrinks: {
      from: 8,
      to: 15,
      source: 'https://renaissancemeblog.wordpress.com/2016/09/28/buying-fabric-gotchas/',
    },
  },
  {
    id: 'homeDecor',
    rules: WOVEN,
    roll: { widthMm: 54 * INCH, selvedgeMm: 12, squaringMm: 20 },
    source: {
      title: 'Estimating yardage for upholstery',
      address: 'https://info.fabrics.net/estimating-yardage-upholstery/',
    },
  },
  {
    id: 'denim',
    rules: { ...WOVEN, nap: 'oneWay' },
    roll: { widthMm: 32 * INCH, selvedgeMm: 8, squaringMm: 20 },
    source: {
      title: 'Threads no. 211, excerpt',
      address: 'https://docslib.org/doc/4724345/learn-to-make-jeans-from-this-sought-after-textile',
    },
  },
  {
    id: 'napped',
    rules: { ...WOVEN, nap: 'oneWay' },
    roll: { widthMm: 1400, selvedgeMm: 10, squaringMm: 20 },
    source: {
      title: 'Laying out: nap and one-way cloth',
      address: 'http://ecoursesonline.iasri.res.in/mod/page/view.php?id=27339',
    },
  },
  {
    id: 'plush',
    rules: { ...WOVEN, nap: 'oneWay' },
    roll: { widthMm: 58 * INCH, selvedgeMm: 15, squaringMm: 20 },
    source: {
      title: 'Fabrics size chart',
      address: 'https://www.robinsonpatterncompany.com/pages/fabrics-size-chart',
    },
  },
  {
    id: 'laminated',
    rules: { turn: 'quarter', gapMm: 2, cutFromBack: true },
    roll: { widthMm: 58 * INCH, usableWidthMm: 55 * INCH, squaringMm: 10, foldable: false },
    source: { title: 'Laminated cotton', address: 'https://www.qualitysewing.com/products/splash-acrylic' },
  },
  {
    id: 'vinyl',
    rules: { turn: 'quarter', gapMm: 2, cutFromBack: true },
    roll: { widthMm: 54 * INCH, selvedgeMm: 0, squaringMm: 10, foldable: false },
    source: {
      title: 'Tips for working with vinyl and faux leather',
      address: 'https://kayapapayadesign.com/blogs/news/tips-for-working-with-vinyl-and-faux-leather',
    },
  },
  {
    id: 'vinylSheet',
    rules: { turn: 'quarter', gapMm: 2, cutFromBack: true },
    sheet: { outline: rectangle(18 * INCH, 55 * INCH), quantity: 1 },
    source: {
      title: 'Faux leather in cuts of 18 × 55 in',
      address: 'https://blackrabbitfabrics.ca/products/emmaline-mora-faux-leather-ballerina',
    },
  },
  {
    id: 'cork',
    rules: { turn: 'quarter', gapMm: 2, cutFromBack: true },
    roll: { widthMm: 54 * INCH, selvedgeMm: 0, squaringMm: 10, foldable: false },
    source: {
      title: 'Cork fabric by the half yard',
      address: 'https://reluctantsewist.com/2017/09/20/rose-gold-cork-leather-traverse-bag',
    },
  },
  {
    id: 'leather',
    rules: { turn: 'free', gapMm: 2 },
    sheet: { outline: HALF_HIDE, quantity: 1 },
    source: { title: 'How to buy leather', address: 'https://www.keleenleathers.com/how-to-buy-leather/' },
  },
  {
    id: 'interfacing',
    rules: { turn: 'quarter', reversible: true, gapMm: 3 },
    roll: { widthMm: 900, selvedgeMm: 0, squaringMm: 10 },
    source: null,
  },
  {
    id: 'fusible',
    // One side has the glue, so a mirrored piece is not a plain one turned over.
    rules: { turn: 'quarter', reversible: false, gapMm: 3 },
    roll: { widthMm: 20 * INCH, selvedgeMm: 0, squaringMm: 10 },
    source: {
      title: 'Yardage block of a published pattern: interfacing in 18–20 in',
      address: 'https://sandbox83.mybigcommerce.com/m7817',
    },
  },
  {
    id: 'foam',
    rules: { turn: 'free', reversible: true, gapMm: 3 },
    roll: { widthMm: 60 * INCH, selvedgeMm: 0, squaringMm: 0, foldable: false },
    source: {
      title: 'Headliner foam',
      address: 'http://makingminiaturequilts.blogspot.com/2011/07/headliner-foam.html',
    },
  },
  {
    id: 'fatQuarterYard',
    rules: WOVEN,
    // Named 18 × 22 in; real ones are nearer 18 × 20 to 21.
    sheet: { outline: rectangle(18 * INCH, 21 * INCH), quantity: 1 },
    source: {
      title: 'Purses and patterns',
      address: 'https://msfineprint.wordpress.com/2008/08/06/purses-and-patterns/',
    },
    shrinks: { from: 3, to: 5, source: GUIDE },
  },
  {
    id: 'fatQuarterMetre',
    rules: WOVEN,
    sheet: { outline: rectangle(500, 535), quantity: 1 },
    source: { title: 'How fabric is sold', address: 'https://firesidefabrics.co.uk/how-fabric-is-sold' },
    shrinks: { from: 3, to: 5, source: GUIDE },
  },
  {
    id: 'tenInchSquares',
    // The pinked edge is not to be counted on.
    rules: { ...WOVEN, edgeMarginMm: 3 },
    sheet: { outline: rectangle(10 * INCH, 10 * INCH), quantity: 42 },
    source: {
      title: 'Buyers beware',
      address: 'http://delawarequilts.blogspot.com/2013/04/buyers-beware.html',
    },
  },
];

/** The preset with this id; undefined for none, and for one of another release. */
export function presetOf(id: string | undefined): Preset | undefined {
  return PRESETS.find((preset) => preset.id === id);
}
