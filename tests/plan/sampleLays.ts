import {
  type Cloth,
  type ClothLay,
  type CutRow,
  type Piece,
  type Placed,
  type Project,
  pieceSchema,
  projectSchema,
  type Segment,
} from '../../pattern/exchange/project.ts';

/** Lays made by hand: what drawings are tried on. Our own workshop, which makes cycling and picnic gear. */

type Ring = readonly (readonly [number, number])[];
type Hand = Placed['hand'];

export interface Sample {
  readonly project: Project;
  readonly lay: ClothLay;
}

export function rect(width: number, height: number): Ring {
  return [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
}

/** A panel with two rounded lower corners. */
export function rounded(width: number, height: number, radius: number): Ring {
  const corner = (cx: number, cy: number, from: number) =>
    Array.from({ length: 7 }, (_, i): [number, number] => {
      const angle = ((from + i * 15) * Math.PI) / 180;
      return [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)];
    });
  return [
    ...corner(radius, radius, 180),
    ...corner(width - radius, radius, 270),
    [width, height],
    [0, height],
  ];
}

/** A gusset: tapers to one side, so that it has a hand. */
export const GUSSET: Ring = [
  [0, 0],
  [320, 0],
  [320, 90],
  [60, 160],
  [0, 160],
];

export function piece(id: string, name: string, outline: Ring, more: Partial<Piece> = {}): Piece {
  return pieceSchema.parse({ id, name, outline, ...more });
}

/** Places a piece as the engine would: mirrored, turned about the origin, shifted. */
export function place(
  source: Piece,
  at: {
    x: number;
    y: number;
    rotation?: number;
    hand?: Hand;
    copy?: number;
    of?: number;
    mirrored?: boolean;
  },
): Placed {
  const rotation = at.rotation ?? 0;
  const hand = at.hand ?? 'plain';
  const mirrored = at.mirrored ?? hand === 'mirrored';
  const angle = (rotation * Math.PI) / 180;
  const quarter = rotation % 90 === 0;
  const cos = quarter ? Math.round(Math.cos(angle)) : Math.cos(angle);
  const sin = quarter ? Math.round(Math.sin(angle)) : Math.sin(angle);
  const move = (ring: Ring) =>
    ring.map(([px, py]): [number, number] => {
      const x = mirrored ? -px : px;
      return [x * cos - py * sin + at.x, x * sin + py * cos + at.y];
    });
  const direction = (degrees: number) => (mirrored ? 180 - degrees : degrees) + rotation;
  const outline = move(source.outline);
  return {
    pieceId: source.id,
    copy: at.copy ?? 1,
    of: at.of ?? 1,
    hand,
    rotation,
    mirrored,
    x: at.x,
    y: at.y,
    outline: mirrored ? [...outline].reverse() : outline,
    holes: source.holes.map(move),
    grainDeg: direction(source.grainDeg),
    topDeg: direction(source.topDeg),
  };
}

/** Places so that the lower left corner of the placed piece's box is at (x, y). */
export function placeAtCorner(source: Piece, at: Parameters<typeof place>[1]): Placed {
  const trial = place(source, { ...at, x: 0, y: 0 });
  const minX = Math.min(...trial.outline.map(([x]) => x));
  const minY = Math.min(...trial.outline.map(([, y]) => y));
  return place(source, { ...at, x: at.x - minX, y: at.y - minY });
}

export function project(
  name: string,
  pieces: readonly Piece[],
  cutList: readonly Partial<CutRow>[],
  cloth: Record<string, unknown>,
  material: Record<string, unknown> = { id: 'main', name: 'Main', role: 'main' },
): Project {
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name,
    pieces,
    materials: [material],
    cutList: cutList.map((row) => ({ materialId: material.id, ...row })),
    cloths: [{ materialId: material.id, ...cloth }],
  });
}

export function area(ring: Ring): number {
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    twice += x * ny - nx * y;
  });
  return Math.abs(twice / 2);
}

export function lay(of: Project, segments: readonly Segment[], more: Partial<ClothLay> = {}): ClothLay {
  const cloth = of.cloths[0] as Cloth;
  const placed = segments.flatMap((s) => s.placed);
  const pieceAreaMm2 = placed.reduce(
    (sum, p) => sum + area(p.outline) * (p.hand === 'pair' || p.hand === 'fold' ? 2 : 1),
    0,
  );
  const used =
    cloth.kind === 'roll'
      ? segments.reduce((sum, s) => sum + s.lengthMm, 0) + cloth.squaringMm + 2 * cloth.edgeMarginMm
      : 0;
  const clothAreaMm2 = cloth.kind === 'roll' ? used * cloth.widthMm : area(cloth.outline);
  return {
    materialId: cloth.materialId,
    clothId: cloth.id,
    spread: segments[0]?.spread ?? 'single',
    verdict: 'fits',
    segments,
    unplaced: [],
    usedMm: used,
    buyMm: cloth.kind === 'roll' ? Math.ceil(used / cloth.shopStepMm) * cloth.shopStepMm : 0,
    usePercent: clothAreaMm2 === 0 ? 0 : (100 * pieceAreaMm2) / clothAreaMm2,
    piecesToTrace: placed.length,
    pieceAreaMm2,
    clothAreaMm2,
    costCents: null,
    ...more,
  };
}

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

/** A batch of tool-roll parts: many tabs and loops, most too small for words on a sheet. */
export function manySmall(): Sample {
  const tab = piece('tab', 'Pull tab', rect(50, 25));
  const loop = piece('loop', 'Loop', rect(30, 20));
  const dot = piece('dot', 'Rivet backing', rect(12, 12));
  const pocket = piece('pocket', 'Spoke-key pocket', rect(120, 90));
  const placed: Placed[] = [];
  for (let i = 0; i < 12; i++) {
    placed.push(
      placeAtCorner(pocket, {
        x: Math.floor(i / 6) * 94,
        y: (i % 6) * 124,
        rotation: 90,
        copy: i + 1,
        of: 12,
      }),
    );
  }
  for (let i = 0; i < 48; i++) {
    placed.push(
      placeAtCorner(tab, { x: 190 + Math.floor(i / 12) * 52, y: (i % 12) * 27, copy: i + 1, of: 48 }),
    );
  }
  for (let i = 0; i < 24; i++) {
    placed.push(
      placeAtCorner(loop, {
        x: 190 + Math.floor(i / 12) * 32,
        y: 340 + (i % 12) * 22,
        hand: i % 2 ? 'mirrored' : 'plain',
        copy: Math.floor(i / 2) + 1,
        of: 12,
      }),
    );
  }
  for (let i = 0; i < 6; i++) {
    placed.push(placeAtCorner(dot, { x: 190 + i * 14, y: 640, hand: 'either', copy: i + 1, of: 6 }));
  }
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
  const placed: Placed[] = [];
  for (let i = 0; i < 3; i++) {
    placed.push(placeAtCorner(strap, { x: 0, y: i * 50, rotation: 270, copy: i + 1, of: 3 }));
  }
  for (let i = 0; i < 6; i++) {
    placed.push(
      placeAtCorner(panel, {
        x: i * 790,
        y: 160,
        rotation: i % 2 ? 90 : 270,
        copy: i + 1,
        of: 6,
      }),
    );
  }
  for (let i = 0; i < 3; i++) {
    placed.push(placeAtCorner(short, { x: i * 1510, y: 1380, rotation: 270, copy: i + 1, of: 3 }));
  }
  for (let i = 0; i < 12; i++) {
    placed.push(
      placeAtCorner(gusset, {
        x: i * 330,
        y: 800 + (i % 2) * 170,
        hand: i % 2 ? 'mirrored' : 'plain',
        copy: Math.floor(i / 2) + 1,
        of: 6,
      }),
    );
  }
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
  const placed: Placed[] = [];
  for (let i = 0; i < 10; i++) {
    placed.push(
      placeAtCorner(panel, { x: i * 1085, y: 0, rotation: 0, copy: i + 1, of: 10, hand: 'either' }),
    );
    placed.push(
      placeAtCorner(flap, {
        x: i * 1085,
        y: 905,
        hand: i % 2 ? 'mirrored' : 'plain',
        copy: 1 + (i >> 1),
        of: 5,
      }),
    );
  }
  for (let i = 0; i < 2; i++)
    placed.push(placeAtCorner(edge, { x: i * 5300, y: 1320, rotation: 270, copy: i + 1, of: 2 }));
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
