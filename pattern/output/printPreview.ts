import type { ClothLay, Placed, Project, Repeat } from '../exchange/project.ts';
import { clothFrame } from '../plan/clothFrame.ts';
import { type Bounds, bounds, type Ring, turned } from '../plan/intervals.ts';
import { layRowId, layRows } from '../plan/layRows.ts';
import { cleanText } from '../plan/text.ts';

/** One tile of the print: pictures of the repeat in it, each by its upper left corner. All mm, y down. */
export interface PrintTile {
  readonly picture: string;
  readonly pictureWidth: number;
  readonly pictureHeight: number;
  readonly width: number;
  readonly height: number;
  /** Where a tile begins on the stretch. */
  readonly x: number;
  readonly y: number;
  readonly pictures: readonly (readonly [x: number, y: number])[];
}

/** A piece as it will look: its place on the print, and how it is turned to stand upright. */
export interface PrintedPiece {
  readonly tag: string;
  readonly name: string;
  readonly hand: Placed['hand'];
  /** Outline and holes on the stretch, mm, y down. */
  readonly rings: readonly Ring[];
  /** Degrees clockwise that bring its top up. */
  readonly turn: number;
  /** Box around it once it is turned about the stretch's corner. */
  readonly box: Bounds;
  /** How the print stands on it, where the cloth says which way is up. */
  readonly print: 'up' | 'upsideDown' | 'sideways' | 'unknown';
}

export interface PrintedStretch {
  readonly segment: number;
  readonly width: number;
  readonly height: number;
  readonly tile: PrintTile;
  readonly pieces: readonly PrintedPiece[];
}

const UP_DEG = { none: null, away: 0, left: 90, back: 180, right: 270 } as const;

/**
 * What the cut pieces of a lay will look like, stretch by stretch, where the cloth has a picture of its repeat: a
 * picture as the cloth lies on the plan, cut end at the left. Doubled stretches, on which the print can't be seen, are
 * left out; of cloth that is cut from the back the right side is shown.
 */
export function printedStretches(lay: ClothLay, project: Project): PrintedStretch[] {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  const repeat = cloth?.repeat;
  const picture = cloth?.printPicture;
  if (!cloth || !repeat || picture === undefined || repeat.alongMm <= 0 || repeat.acrossMm <= 0) return [];
  const frame = clothFrame(lay, { ...cloth, cutFromBack: false });
  const names = new Map(project.pieces.map((piece) => [piece.id, cleanText(piece.name)]));
  const keys = new Map(layRows(lay, project).map((row) => [row.id, row.key]));
  const up = UP_DEG[cloth.printUp];
  return frame.stretches.flatMap((stretch): PrintedStretch[] => {
    const { segment, originMm, lowMm, highMm } = stretch;
    if (segment.spread !== 'single' || segment.placed.length === 0) return [];
    const height = highMm - lowMm;
    // A sheet drawn behind another begins with a repeat of its own.
    const begin = segment.outline ? stretch.fromMm : 0;
    const toView = ([x, y]: readonly [number, number]): readonly [number, number] => [
      x + originMm[0] - begin,
      height - (y + originMm[1] - lowMm),
    ];
    return [
      {
        segment: stretch.index,
        width: stretch.toMm - begin,
        height,
        tile: tileOf(repeat, picture, height),
        pieces: segment.placed.map((placed): PrintedPiece => {
          const rings = [placed.outline, ...placed.holes].map((ring) => ring.map(toView));
          const turn = placed.topDeg - 90;
          return {
            tag: `${keys.get(layRowId(placed)) ?? ''}${placed.copy}`,
            name: names.get(placed.pieceId) ?? placed.pieceId,
            hand: placed.hand,
            rings,
            turn,
            box: bounds(turned(rings[0] as Ring, turn)),
            print: up === null ? 'unknown' : standing(placed.topDeg - up),
          };
        }),
      },
    ];
  });
}

/** Closer than this to upright or upside down, a print is seen as that, degrees. */
const SEEN_SO_DEG = 45;

function standing(degrees: number): PrintedPiece['print'] {
  const off = Math.abs(((((degrees + 180) % 360) + 360) % 360) - 180);
  if (off < SEEN_SO_DEG) return 'up';
  return off > 180 - SEEN_SO_DEG ? 'upsideDown' : 'sideways';
}

/** The lattice as one tile: of half drops and bricks two columns or rows. */
function tileOf(repeat: Repeat, picture: string, height: number): PrintTile {
  const { alongMm: w, acrossMm: h, kind, fromEndMm, fromSelvedgeMm } = repeat;
  const [columns, rows] = kind === 'brick' ? [2, 1] : kind === 'halfDrop' ? [1, 2] : [1, 1];
  const pictures: (readonly [number, number])[] = [[0, 0]];
  // The second of two is set off by half a repeat, so that its picture is cut by the tile's edge and shows on both sides.
  if (kind === 'halfDrop') pictures.push([w / 2, h], [-w / 2, h]);
  if (kind === 'brick') pictures.push([w, h / 2], [w, -h / 2]);
  return {
    picture,
    pictureWidth: w,
    pictureHeight: h,
    width: w * columns,
    height: h * rows,
    x: fromEndMm - w / 2,
    y: height - fromSelvedgeMm - h / 2,
    pictures,
  };
}
