import type { Cloth, Segment } from '../../pattern/exchange/project.ts';
import {
  GUSSET,
  lay,
  piece,
  place,
  placeAtCorner,
  project,
  rect,
  rounded,
  type Sample,
} from '../support/handmadeLays.ts';
import { elevenMetres, longStrap, manySmall, nothingFits, oddNames } from './extremeLays.ts';

/** Lays made by hand: what drawings are tried on. Our own workshop, which makes cycling and picnic gear. */

/** A handlebar bag on a napped roll, single layer: mirrored gussets, pockets turned over, squared cut end. */
export function singleLayer(): Sample {
  const front = piece('front', 'Front panel', rounded(340, 260, 60));
  const flap = piece('flap', 'Flap', rounded(330, 210, 90));
  const gusset = piece('gusset', 'Side gusset', GUSSET, { grainDeg: 0, topDeg: 0 });
  const pocket = piece('pocket', 'Map pocket', rect(240, 180));
  const base = piece('base', 'Base and back in one', rect(640, 340));
  const tab = piece('tab', 'Tab', rect(80, 40));
  const strap = piece('strap', 'Shoulder strap', rect(60, 980));
  const of = project(
    'Handlebar bag',
    [front, flap, gusset, pocket, base, tab, strap],
    [
      { pieceId: 'front', plain: 4 },
      { pieceId: 'flap', plain: 4 },
      { pieceId: 'gusset', plain: 2, mirrored: 2 },
      { pieceId: 'pocket', plain: 2, mirrored: 2 },
      { pieceId: 'base', plain: 2 },
      { pieceId: 'tab', plain: 4 },
      { pieceId: 'strap', plain: 1 },
    ],
    {
      kind: 'roll',
      id: 'canvas',
      name: 'Waxed canvas, moss',
      widthMm: 1450,
      selvedgeMm: 10,
      squaringMm: 20,
      nap: 'oneWay',
      gapMm: 4,
    },
  );
  const up = { rotation: 270 };
  const either = { ...up, hand: 'either' as const, of: 4 };
  const gussets = { of: 2 };
  const turned = { of: 2, hand: 'mirrored' as const, rotation: 180 };
  const placed = [
    placeAtCorner(front, { ...either, x: 0, y: 0, copy: 1 }),
    placeAtCorner(front, { ...either, x: 0, y: 344, copy: 2 }),
    placeAtCorner(flap, { ...either, x: 0, y: 688, copy: 1 }),
    placeAtCorner(flap, { ...either, x: 0, y: 1022, copy: 2 }),
    placeAtCorner(gusset, { ...gussets, x: 264, y: 0, copy: 1 }),
    placeAtCorner(gusset, { ...turned, x: 264, y: 164, copy: 1 }),
    placeAtCorner(gusset, { ...gussets, x: 264, y: 328, copy: 2 }),
    placeAtCorner(gusset, { ...turned, x: 264, y: 492, copy: 2 }),
    placeAtCorner(pocket, { ...up, x: 264, y: 660, copy: 1, of: 2 }),
    placeAtCorner(pocket, { ...up, x: 448, y: 660, copy: 2, of: 2 }),
    placeAtCorner(pocket, { ...up, x: 264, y: 904, copy: 1, of: 2, hand: 'mirrored', rotation: 270 }),
    placeAtCorner(pocket, { ...up, x: 448, y: 904, copy: 2, of: 2, hand: 'mirrored', rotation: 270 }),
    ...[0, 1, 2, 3].map((i) => placeAtCorner(tab, { ...up, x: 264 + i * 50, y: 1160, copy: i + 1, of: 4 })),
    placeAtCorner(front, { ...either, x: 632, y: 0, copy: 3 }),
    placeAtCorner(front, { ...either, x: 632, y: 344, copy: 4 }),
    placeAtCorner(flap, { ...either, x: 632, y: 688, copy: 3 }),
    placeAtCorner(flap, { ...either, x: 632, y: 1022, copy: 4 }),
    placeAtCorner(base, { ...up, x: 896, y: 0, copy: 1, of: 2 }),
    placeAtCorner(base, { ...up, x: 896, y: 644, copy: 2, of: 2 }),
    placeAtCorner(strap, { ...up, x: 0, y: 1358, copy: 1, of: 1 }),
  ];
  return { project: of, lay: lay(of, [{ spread: 'single', widthMm: 1430, lengthMm: 1236, placed }]) };
}

/** A picnic roll: doubled part with pairs and a half piece on the fold, then opened out for what has no partner. */
export function twoSegments(): Sample {
  const half = piece(
    'body',
    'Body lining',
    [
      [0, 0],
      [420, 0],
      [420, 200],
      [380, 250],
      [0, 250],
    ],
    { foldEdge: 0, grainDeg: 0, topDeg: 0 },
  );
  const gusset = piece('gusset', 'Side gusset', GUSSET, { grainDeg: 0, topDeg: 0 });
  const cutlery = piece('cutlery', 'Cutlery pocket', rect(120, 260));
  const lid = piece('lid', 'Lid', rounded(460, 380, 120));
  const of = project(
    'Picnic roll',
    [half, gusset, cutlery, lid],
    [
      { pieceId: 'body', onFold: 1 },
      { pieceId: 'gusset', plain: 2, mirrored: 2 },
      { pieceId: 'cutlery', plain: 2, mirrored: 2 },
      { pieceId: 'lid', plain: 1 },
    ],
    {
      kind: 'roll',
      id: 'ticking',
      name: 'Cotton ticking',
      widthMm: 1120,
      selvedgeMm: 8,
      squaringMm: 15,
      printUp: 'away',
    },
  );
  const doubled: Segment = {
    spread: 'folded',
    widthMm: 552,
    lengthMm: 682,
    placed: [
      place(half, { x: 0, y: 0, hand: 'fold' }),
      placeAtCorner(gusset, { x: 0, y: 252, hand: 'pair', copy: 1, of: 2 }),
      placeAtCorner(gusset, { x: 322, y: 252, hand: 'pair', copy: 2, of: 2 }),
      placeAtCorner(cutlery, { x: 422, y: 0, rotation: 270, hand: 'pair', copy: 1, of: 2 }),
      placeAtCorner(cutlery, { x: 422, y: 124, rotation: 270, hand: 'pair', copy: 2, of: 2, mirrored: true }),
    ],
  };
  const opened: Segment = {
    spread: 'single',
    widthMm: 1104,
    lengthMm: 380,
    placed: [placeAtCorner(lid, { x: 0, y: 0, rotation: 270, hand: 'plain' })],
  };
  return { project: of, lay: lay(of, [doubled, opened], { spread: 'folded' }) };
}

/** A vinyl remnant with an odd outline and two flaws. */
export function remnant(): Sample {
  const base = piece('base', 'Basket base', rounded(420, 240, 60), {
    holes: [
      [
        [200, 110],
        [200, 130],
        [220, 130],
        [220, 110],
      ],
    ],
  });
  const strip = piece('strip', 'Rim strip', rect(560, 45), { grainDeg: 0 });
  const patch = piece('patch', 'Corner patch', [
    [0, 0],
    [120, 0],
    [0, 120],
  ]);
  const of = project(
    'Bicycle basket',
    [base, strip, patch],
    [
      { pieceId: 'base', plain: 1 },
      { pieceId: 'strip', plain: 2 },
      { pieceId: 'patch', plain: 2, mirrored: 2 },
    ],
    {
      kind: 'remnant',
      id: 'offcut',
      name: 'Vinyl offcut, brick red',
      turn: 'free',
      outline: [
        [-20, 10],
        [700, 0],
        [820, 140],
        [790, 420],
        [420, 520],
        [400, 470],
        [30, 500],
      ],
      flaws: [
        [
          [560, 150],
          [640, 160],
          [650, 230],
          [570, 240],
        ],
        [
          [700, 330],
          [716, 330],
          [716, 345],
          [700, 345],
        ],
      ],
    },
    { id: 'vinyl', name: 'Vinyl', role: 'contrast' },
  );
  const cloth = of.cloths[0] as Extract<Cloth, { kind: 'remnant' }>;
  const placed = [
    placeAtCorner(base, { x: 40, y: 110, hand: 'either' }),
    placeAtCorner(strip, { x: 20, y: 12, copy: 1, of: 2, hand: 'either' }),
    placeAtCorner(strip, { x: 20, y: 60, copy: 2, of: 2, hand: 'either' }),
    placeAtCorner(patch, { x: 50, y: 352, copy: 1, of: 2 }),
    placeAtCorner(patch, { x: 180, y: 352, copy: 1, of: 2, hand: 'mirrored' }),
    placeAtCorner(patch, { x: 480, y: 360, rotation: 30, copy: 2, of: 2 }),
    placeAtCorner(patch, { x: 670, y: 30, rotation: 45, hand: 'mirrored', copy: 2, of: 2 }),
  ];
  return {
    project: of,
    lay: lay(of, [
      { spread: 'single', widthMm: 520, lengthMm: 840, outline: cloth.outline, flaws: cloth.flaws, placed },
    ]),
  };
}

/** Every sample by its name. */
export const SAMPLES = {
  singleLayer,
  twoSegments,
  remnant,
  manySmall,
  longStrap,
  elevenMetres,
  oddNames,
  nothingFits,
} as const;
