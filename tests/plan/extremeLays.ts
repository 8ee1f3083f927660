import {
  copies,
  GUSSET,
  inPairs,
  lay,
  piece,
  placeAtCorner,
  project,
  rect,
  rounded,
  type Sample,
} from '../support/handmadeLays.ts';

/** Lays at the ends of what happens: very many pieces, very long ones, odd names, none at all. */

/** A batch of tool-roll parts: many tabs and loops, most too small for words on a sheet. */
export function manySmall(): Sample {
  const tab = piece('tab', 'Pull tab', rect(50, 25));
  const loop = piece('loop', 'Loop', rect(30, 20));
  const dot = piece('dot', 'Rivet backing', rect(12, 12));
  const pocket = piece('pocket', 'Spoke-key pocket', rect(120, 90));
  const placed = [
    ...copies(pocket, 12, (i) => ({ x: Math.floor(i / 6) * 94, y: (i % 6) * 124, rotation: 90 })),
    ...copies(tab, 48, (i) => ({ x: 190 + Math.floor(i / 12) * 52, y: (i % 12) * 27 })),
    ...copies(loop, 24, (i) => ({
      x: 190 + Math.floor(i / 12) * 32,
      y: 340 + (i % 12) * 22,
      ...inPairs(i, 24),
    })),
    ...copies(dot, 6, (i) => ({ x: 190 + i * 14, y: 640, hand: 'either' })),
  ];
  const of = project(
    'Tool rolls, batch of twelve',
    [tab, loop, dot, pocket],
    [
      { pieceId: 'pocket', plain: 12 },
      { pieceId: 'tab', plain: 48 },
      { pieceId: 'loop', plain: 12, mirrored: 12 },
      { pieceId: 'dot', plain: 6 },
    ],
    { kind: 'roll', id: 'felt', name: 'Wool felt', widthMm: 900, shopStepMm: 250, reversible: true },
    { id: 'felt', name: 'Felt', role: 'other' },
  );
  return { project: of, lay: lay(of, [{ spread: 'single', widthMm: 900, lengthMm: 420, placed }]) };
}

/** Five metres of cloth with straps that run nearly all along it. */
export function longStrap(): Sample {
  const strap = piece('strap', 'Towing strap', rect(45, 4800));
  const short = piece('short', 'Carrying strap', rect(60, 1500));
  const panel = piece('panel', 'Trailer side panel', rounded(620, 780, 150));
  const gusset = piece('gusset', 'Wheel-arch gusset', GUSSET, { grainDeg: 0, topDeg: 0 });
  const placed = [
    ...copies(strap, 3, (i) => ({ x: 0, y: i * 50, rotation: 270 })),
    ...copies(panel, 6, (i) => ({ x: i * 790, y: 160, rotation: i % 2 ? 90 : 270 })),
    ...copies(short, 3, (i) => ({ x: i * 1510, y: 1380, rotation: 270 })),
    ...copies(gusset, 12, (i) => ({ x: i * 330, y: 800 + (i % 2) * 170, ...inPairs(i, 12) })),
  ];
  const of = project(
    'Cargo trailer cover',
    [strap, short, panel, gusset],
    [
      { pieceId: 'panel', plain: 6 },
      { pieceId: 'strap', plain: 3 },
      { pieceId: 'short', plain: 3 },
      { pieceId: 'gusset', plain: 6, mirrored: 6 },
    ],
    {
      kind: 'roll',
      id: 'ripstop',
      name: 'Ripstop, storm blue',
      widthMm: 1500,
      selvedgeMm: 12,
      squaringMm: 20,
    },
  );
  return { project: of, lay: lay(of, [{ spread: 'single', widthMm: 1476, lengthMm: 4800, placed }]) };
}

/** Eleven metres: more than one row of a sheet can show. */
export function elevenMetres(): Sample {
  const panel = piece('panel', 'Awning panel', rect(1080, 900));
  const edge = piece('edge', 'Edge binding', rect(70, 5200));
  const flap = piece('flap', 'Rain flap', GUSSET, { grainDeg: 0, topDeg: 0 });
  const panels = copies(panel, 10, (i) => ({ x: i * 1085, y: 0, hand: 'either' }));
  const flaps = copies(flap, 10, (i) => ({ x: i * 1085, y: 905, ...inPairs(i, 10) }));
  const placed = [
    ...panels.flatMap((each, i) => [each, flaps[i]!]),
    ...copies(edge, 2, (i) => ({ x: i * 5300, y: 1320, rotation: 270 })),
  ];
  const of = project(
    'Market awning',
    [panel, edge, flap],
    [
      { pieceId: 'panel', plain: 10 },
      { pieceId: 'edge', plain: 2 },
      { pieceId: 'flap', plain: 5, mirrored: 5 },
    ],
    { kind: 'roll', id: 'duck', name: 'Cotton duck', widthMm: 1420, selvedgeMm: 10, edgeMarginMm: 5 },
  );
  return { project: of, lay: lay(of, [{ spread: 'single', widthMm: 1390, lengthMm: 11145, placed }]) };
}

/** Names that try to be more than names, on a lay from which a piece is missing. */
export function oddNames(): Sample {
  const names = [
    '<script>alert(1)</script>',
    'جيب الخريطة الأمامي',
    'כיס קדמי "גדול" & <b>',
    `Pocket ${'very '.repeat(30)}long`,
    'ポケット 前面 大',
    'Sp\u0000ace\u202egnorw\u0007 & "quotes"',
  ];
  const pieces = names.map((name, i) => piece(`p${i}`, name, rect(220, 150 + i * 10)));
  const of = project(
    '</title><script>alert(2)</script> & מטבח',
    pieces,
    pieces.map((p) => ({ pieceId: p.id, plain: 1, mirrored: 1 })),
    { kind: 'roll', id: 'net', name: '"><img src=x onerror=alert(3)>', widthMm: 950, shopStepMm: 50 },
  );
  const placed = pieces.flatMap((p, i) => [
    placeAtCorner(p, { x: (i % 3) * 230, y: Math.floor(i / 3) * 230, copy: 1, of: 1 }),
    ...(i < 5
      ? [placeAtCorner(p, { x: (i % 3) * 230, y: 470 + Math.floor(i / 3) * 210, hand: 'mirrored' as const })]
      : []),
  ]);
  return {
    project: of,
    lay: lay(of, [{ spread: 'single', widthMm: 950, lengthMm: 690, placed }], {
      verdict: 'not found',
      reason: 'Pieces are missing: the cloth ends at 69 cm <here>.',
      unplaced: [{ pieceId: 'p5', plain: 0, mirrored: 1, onFold: 0 }],
    }),
  };
}

/** Nothing could be placed. */
export function nothingFits(): Sample {
  const wide = piece('wide', 'Groundsheet', rect(1800, 2100));
  const of = project('Picnic groundsheet', [wide], [{ pieceId: 'wide', plain: 1 }], {
    kind: 'roll',
    id: 'narrow',
    name: 'Oilcloth',
    widthMm: 1400,
  });
  return {
    project: of,
    lay: lay(of, [], {
      verdict: 'cannot fit',
      reason: 'Groundsheet is 1800 mm across, 400 mm wider than the cloth.',
      unplaced: [{ pieceId: 'wide', plain: 1, mirrored: 0, onFold: 0 }],
    }),
  };
}
