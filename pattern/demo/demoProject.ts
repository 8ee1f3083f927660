import type { z } from 'zod';
import { emptyProject } from '../exchange/emptyProject.ts';
import {
  type Cloth,
  type CutRow,
  clothSchema,
  type LayChoice,
  type Material,
  type Piece,
  type PieceMark,
  type Project,
} from '../exchange/project.ts';
import { pieceFromRectangle } from '../measurements/index.ts';
import { addAllowance } from '../pieces/index.ts';
import { bodyPanel, flap, frontPocket, LINING_FOLD_EDGE, liningBodyHalf, sideGusset } from './shapes.ts';

/**
 * The project that a new installation opens on, our own invention: two saddle rolls with a picnic pocket and the cushion
 * that goes with them, from a small workshop that makes cycling and picnic gear. Six materials, each with another
 * rule: cloth by the roll, a costly vinyl remnant with a flaw, a lining with a half piece on the fold, a narrow
 * interfacing, a foam that may lie anyhow, and a corduroy with a pile.
 */
export function demoProject(): Project {
  return {
    ...emptyProject('Saddle roll with picnic pocket'),
    notes:
      'A batch of two saddle rolls and one seat cushion. Cut lines include an allowance of 1 cm. Keep blades closed when ' +
      'they are put down, and follow the makers’ instructions for vinyl and foam: heated, both give off harmful fumes.',
    pieces: pieces(),
    materials: MATERIALS,
    cutList: CUT_LIST,
    cloths: CLOTHS,
    layChoices: LAY_CHOICES,
  };
}

const ALLOWANCE_MM = 10;
const FILE = 'saddle-roll.svg';

function pieces(): Piece[] {
  return [
    drawn('body', 'Body panel', 'body', bodyPanel()),
    drawn('gusset', 'Side gusset', 'side-gusset', sideGusset(), {
      notes: 'Low end to the front: one left and one right for each roll.',
    }),
    drawn('pocket', 'Front pocket', 'front-pocket', frontPocket(), {
      notes: 'The cut-off corner is the hand opening. The lining is its mirror image.',
    }),
    drawn('flap', 'Flap', 'flap', flap()),
    drawn('lining-body', 'Lining body, half', 'lining-half', liningBodyHalf(), {
      foldEdge: LINING_FOLD_EDGE,
      marks: [],
    }),
    measured('strap', 'Lashing strap', 60, 620),
    measured('tab', 'Buckle tab', 50, 110),
    measured('guard', 'Bottom guard', 260, 90),
    measured('keeper', 'Strap keeper', 25, 80),
    measured('back-pad', 'Back pad', 280, 190),
    measured('bottom-pad', 'Bottom pad', 240, 80),
    measured('cushion', 'Cushion panel', 420, 380),
    measured('cushion-gusset', 'Cushion gusset', 70, 390),
  ];
}

function drawn(
  id: string,
  name: string,
  element: string,
  outline: Piece['outline'],
  more: Partial<Piece> = {},
): Piece {
  const sewn = addAllowance(outline, -ALLOWANCE_MM).map(
    ({ outer }): PieceMark => ({ kind: 'sewLine', points: outer, closed: true }),
  );
  return {
    id,
    name,
    outline,
    holes: [],
    marks: sewn,
    grainDeg: 90,
    topDeg: 90,
    foldEdge: null,
    line: 'cut',
    allowanceMm: 0,
    source: { kind: 'drawing', file: FILE, element },
    notes: '',
    ...more,
  };
}

function measured(id: string, name: string, acrossMm: number, alongMm: number): Piece {
  return pieceFromRectangle({ id, name, acrossMm, alongMm });
}

const MATERIALS: readonly Material[] = [
  { id: 'canvas', name: 'Waxed canvas', role: 'main' },
  { id: 'vinyl', name: 'Vinyl', role: 'contrast' },
  { id: 'lining', name: 'Lining', role: 'lining' },
  { id: 'interfacing', name: 'Interfacing', role: 'interfacing' },
  { id: 'foam', name: 'Foam', role: 'foam' },
  { id: 'corduroy', name: 'Corduroy', role: 'other' },
];

function row(pieceId: string, materialId: string, counts: Partial<CutRow>): CutRow {
  return { pieceId, materialId, plain: 0, mirrored: 0, onFold: 0, ...counts };
}

const CUT_LIST: readonly CutRow[] = [
  row('body', 'canvas', { plain: 2 }),
  row('gusset', 'canvas', { plain: 2, mirrored: 2 }),
  row('pocket', 'canvas', { plain: 2 }),
  row('strap', 'canvas', { plain: 4 }),
  row('tab', 'canvas', { plain: 6 }),
  row('flap', 'vinyl', { plain: 2 }),
  row('guard', 'vinyl', { plain: 2 }),
  row('keeper', 'vinyl', { plain: 4 }),
  row('lining-body', 'lining', { onFold: 2 }),
  row('pocket', 'lining', { mirrored: 2 }),
  row('flap', 'lining', { plain: 2 }),
  row('body', 'interfacing', { plain: 2 }),
  row('back-pad', 'foam', { plain: 2 }),
  row('bottom-pad', 'foam', { plain: 2 }),
  row('cushion', 'corduroy', { plain: 2 }),
  row('cushion-gusset', 'corduroy', { plain: 4 }),
];

const COMMON = {
  turn: 'grain',
  nap: 'none',
  printUp: 'none',
  reversible: false,
  gapMm: 0,
  edgeMarginMm: 0,
  priceCentsPerMetre: null,
  notes: '',
} as const;

const ROLL = {
  ...COMMON,
  kind: 'roll',
  selvedgeMm: 10,
  squaringMm: 15,
  shopStepMm: 100,
  foldable: true,
  availableMm: null,
} as const;

const CLOTHS: readonly Cloth[] = (
  [
    {
      ...ROLL,
      id: 'canvas-roll',
      name: 'Waxed canvas, olive, 142 cm',
      materialId: 'canvas',
      widthMm: 1420,
      gapMm: 2,
      priceCentsPerMetre: 2450,
    },
    {
      ...COMMON,
      kind: 'remnant',
      id: 'vinyl-remnant',
      name: 'Vinyl remnant, oxblood',
      materialId: 'vinyl',
      turn: 'free',
      outline: [
        [0, 0],
        [610, 0],
        [655, 85],
        [645, 330],
        [545, 415],
        [180, 425],
        [105, 370],
        [0, 375],
      ],
      flaws: [
        [
          [352, 210],
          [366, 202],
          [380, 212],
          [376, 230],
          [358, 232],
        ],
      ],
      gapMm: 2,
      edgeMarginMm: 3,
      notes: 'Scorched in one place.',
    },
    {
      ...ROLL,
      id: 'lining-roll',
      name: 'Cotton lining, checked, 112 cm',
      materialId: 'lining',
      widthMm: 1120,
      priceCentsPerMetre: 1190,
    },
    {
      ...ROLL,
      id: 'interfacing-roll',
      name: 'Sew-in interfacing, 90 cm',
      materialId: 'interfacing',
      widthMm: 900,
      selvedgeMm: 0,
      turn: 'quarter',
      reversible: true,
      priceCentsPerMetre: 640,
    },
    {
      ...COMMON,
      kind: 'remnant',
      id: 'foam-sheet',
      name: 'Foam sheet, 5 mm',
      materialId: 'foam',
      turn: 'free',
      reversible: true,
      outline: [
        [0, 0],
        [600, 0],
        [600, 400],
        [0, 400],
      ],
      flaws: [],
    },
    {
      ...ROLL,
      id: 'corduroy-roll',
      name: 'Corduroy, rust, 145 cm',
      materialId: 'corduroy',
      widthMm: 1450,
      nap: 'oneWay',
      priceCentsPerMetre: 1680,
      notes: 'The pile is brushed away from the cut end.',
    },
  ] satisfies readonly z.input<typeof clothSchema>[]
).map((cloth) => clothSchema.parse(cloth));

const LAY_CHOICES: readonly LayChoice[] = [
  { materialId: 'canvas', clothIds: ['canvas-roll'], spread: 'compare' },
  { materialId: 'vinyl', clothIds: ['vinyl-remnant'], spread: 'single' },
  { materialId: 'lining', clothIds: ['lining-roll'], spread: 'folded' },
  { materialId: 'interfacing', clothIds: ['interfacing-roll'], spread: 'single' },
  { materialId: 'foam', clothIds: ['foam-sheet'], spread: 'single' },
  { materialId: 'corduroy', clothIds: ['corduroy-roll'], spread: 'single' },
];
