import { readdirSync, readFileSync } from 'node:fs';
import type { Outline } from '../../nesting/packing/types.ts';
import { DUIJVESTIJN_CODE, DUIJVESTIJN_SIDE } from '../support/duijvestijn.ts';
import { rectangle } from '../support/layouts.ts';
import { sharedFolder } from '../support/sharedFolder.ts';
import { type ProblemFile, problemFileSchema } from './format.ts';

export const OPEN_SETS = ['strips', 'remnants', 'sheets'] as const;
export type OpenSet = (typeof OPEN_SETS)[number];

/** The problems of an open set in the order of their names, or null where the folder isn't there. */
export function openSet(set: OpenSet): ProblemFile[] | null {
  const shared = sharedFolder();
  if (!shared) return null;
  const folder = `${shared}benchmarks/${set}/`;
  return readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => problemFileSchema.parse(JSON.parse(readFileSync(folder + name, 'utf8'))));
}

/** Problems of our own with a known best density, for machines without the open sets. */
export function ownStrips(): ProblemFile[] {
  const squares = DUIJVESTIJN_CODE.flat().map((side) => ownPiece(`square-${side}`, rectangle(side, side)));
  return [
    problemFileSchema.parse({ name: 'squared-square', stripWidth: DUIJVESTIJN_SIDE, pieces: squares }),
    bagStrip(50),
  ];
}

function ownPiece(id: string, outline: Outline, quantity = 1, rotations = [0]) {
  return { id, quantity, rotations, outline };
}

/** So many pieces of our own for panniers and roll bags, in equal shares, on cloth 1400 wide. */
function bagStrip(count: number): ProblemFile {
  const outlines: [string, Outline][] = [
    ['panel', rectangle(420, 330)],
    ['strap', rectangle(760, 60)],
    [
      'gusset',
      [
        [0, 0],
        [300, 0],
        [250, 180],
        [150, 210],
        [50, 180],
      ],
    ],
    [
      'flap',
      [
        [0, 0],
        [320, 0],
        [320, 150],
        [270, 220],
        [50, 220],
        [0, 150],
      ],
    ],
    [
      'yoke',
      [
        [0, 0],
        [260, 0],
        [260, 90],
        [170, 90],
        [170, 200],
        [90, 200],
        [90, 90],
        [0, 90],
      ],
    ],
  ];
  const pieces = outlines.map(([id, outline], i) =>
    ownPiece(
      id,
      outline,
      Math.floor(count / outlines.length) + (i < count % outlines.length ? 1 : 0),
      [0, 180],
    ),
  );
  return problemFileSchema.parse({ name: `bags-${count}`, stripWidth: 1_400, pieces });
}

/** A strip problem with its quantities multiplied so that `count` pieces are asked for, as nearly as equal shares allow. */
export function grown(count: number): ProblemFile {
  const shirts = openSet('strips')?.find(({ name }) => name === 'shirts');
  if (!shirts) return bagStrip(count);
  const total = shirts.pieces.reduce((sum, { quantity }) => sum + quantity, 0);
  let before = 0;
  let given = 0;
  const pieces = shirts.pieces.map((piece) => {
    before += piece.quantity;
    const upTo = Math.round((before * count) / total);
    const quantity = upTo - given;
    given = upTo;
    return { ...piece, quantity };
  });
  return { ...shirts, name: `shirts × ${count}`, pieces, publishedBestDensityPercent: undefined };
}
