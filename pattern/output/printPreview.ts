import type { ClothLay, Placed, Project } from '../exchange/project.ts';
import { clothFrame } from '../plan/clothFrame.ts';
import type { DrawnPoint } from '../plan/index.ts';
import { type Bounds, bounds, type Ring, turned } from '../plan/intervals.ts';
import { layRowId, layRows } from '../plan/layRows.ts';
import { type Layer, openedOut } from '../plan/openedOut.ts';
import { cleanText } from '../plan/text.ts';
import { type PrintTile, tileOf } from './printTile.ts';

/** A piece as it will look: its place on the print, and how it is turned to stand upright. */
export interface PrintedPiece {
  readonly tag: string;
  readonly name: string;
  /** On doubled cloth a placement gives one of each. */
  readonly hand: Exclude<Placed['hand'], 'pair'>;
  /** Outline and holes on the stretch, mm, y down. */
  readonly rings: readonly Ring[];
  /** Degrees clockwise that bring its top up. */
  readonly turn: number;
  /** Box around it once it is turned about the stretch's corner. */
  readonly box: Bounds;
  /** How the print stands on it, where the cloth says which way is up. */
  readonly print: 'up' | 'upsideDown' | 'sideways' | 'unknown';
}

/** A stretch of cloth opened out, right side up, cut end at the left. */
export interface PrintedStretch {
  readonly segment: number;
  /** Whether it lies doubled when it is cut. */
  readonly isDoubled: boolean;
  readonly width: number;
  readonly height: number;
  /** Of a remnant; missing where the cloth is all of the rectangle. */
  readonly outline?: Ring;
  readonly tile: PrintTile;
  readonly pieces: readonly PrintedPiece[];
}

const UP_DEG = { none: null, away: 0, left: 90, back: 180, right: 270 } as const;

/**
 * What the cut pieces of a lay will look like, stretch by stretch, where the cloth has a picture of its repeat: a
 * picture as the cloth lies on the plan, cut end at the left. Doubled stretches are opened out, so that the pieces of
 * both layers are seen; of cloth that is cut from the back the right side is shown.
 */
export function printedStretches(lay: ClothLay, project: Project): PrintedStretch[] {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  const repeat = cloth?.repeat;
  const picture = cloth?.printPicture;
  if (!cloth || !repeat || picture === undefined || repeat.alongMm <= 0 || repeat.acrossMm <= 0) return [];
  // Pictures are tiled along the cloth: of a print that runs off the grain they would show something else.
  if (repeat.skewDeg !== 0) return [];
  const frame = clothFrame(lay, { ...cloth, cutFromBack: false });
  const names = new Map(project.pieces.map((piece) => [piece.id, cleanText(piece.name)]));
  const keys = new Map(layRows(lay, project).map((row) => [row.id, row.key]));
  const up = UP_DEG[cloth.printUp];
  return frame.stretches.flatMap((stretch): PrintedStretch[] => {
    const { segment } = stretch;
    if (segment.placed.length === 0) return [];
    const { fromMm, toMm, lowMm, highMm, layers } = openedOut(frame, stretch);
    const toView = ([along, across]: readonly [number, number]): DrawnPoint => [
      along - fromMm,
      highMm - across,
    ];
    const pieceOf = (placed: Placed, rings: readonly Ring[], layer: Layer): PrintedPiece => {
      const top = layer.toClothDeg(placed.topDeg);
      const turn = top - 90;
      return {
        tag: `${keys.get(layRowId(placed)) ?? ''}${placed.copy}`,
        name: names.get(placed.pieceId) ?? placed.pieceId,
        hand: handOn(placed, layer),
        rings,
        turn,
        box: bounds(turned(rings[0] as Ring, turn)),
        print: up === null ? 'unknown' : standing(top - up),
      };
    };
    return [
      {
        segment: stretch.index,
        isDoubled: layers.length > 1,
        width: toMm - fromMm,
        height: highMm - lowMm,
        ...(segment.outline ? { outline: segment.outline.map(toView) } : {}),
        tile: tileOf(repeat, picture, fromMm, highMm),
        pieces: segment.placed.flatMap((placed) => {
          const under = layers.filter(({ covers }) => covers(middleOf(placed)));
          const seen = under.map((layer) =>
            [placed.outline, ...placed.holes].map((ring) => ring.map((at) => toView(layer.toCloth(at)))),
          );
          if (placed.hand !== 'fold' || seen.length < 2) {
            return seen.map((rings, i) => pieceOf(placed, rings, under[i] as Layer));
          }
          const [[half, ...holes], [other, ...others]] = [seen[0] as Ring[], seen[1] as Ring[]];
          const whole = joinedAtFold(half as Ring, other as Ring);
          return [pieceOf(placed, [...whole, ...holes, ...others], under[0] as Layer)];
        }),
      },
    ];
  });
}

/** The hand of what a layer gives: of a pair the layer that lies face down gives the other one. */
function handOn({ hand, mirrored }: Placed, { isFaceDown }: Layer): PrintedPiece['hand'] {
  if (hand !== 'pair') return hand;
  return mirrored === isFaceDown ? 'plain' : 'mirrored';
}

function middleOf({ outline }: Placed): readonly [number, number] {
  const { minX, maxX, minY, maxY } = bounds(outline);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}

/** Points of both layers closer than this are one point on the fold, mm. */
const ON_FOLD_MM = 0.05;

/** Both halves of a piece as one outline, the edge on the fold gone. Corners of both are in the same order. */
function joinedAtFold(half: Ring, other: Ring): Ring[] {
  const count = half.length;
  const isOnFold = half.map(([x, y], i) => {
    const [u, v] = other[i] as DrawnPoint;
    return Math.hypot(x - u, y - v) < ON_FOLD_MM;
  });
  // From the end of the edge on the fold all the way round to where it begins.
  const start = isOnFold.findIndex((is, i) => is && !isOnFold[(i + 1) % count]);
  const open = isOnFold.filter((is) => !is).length;
  if (start < 0 || open > count - 2) return [half, other];
  const way = Array.from({ length: open + 2 }, (_, i) => (start + i) % count);
  const back = way.slice(1, -1).reverse();
  return [[...way.map((i) => half[i] as DrawnPoint), ...back.map((i) => other[i] as DrawnPoint)]];
}

/** Closer than this to upright or upside down, a print is seen as that, degrees. */
const SEEN_SO_DEG = 45;

function standing(degrees: number): PrintedPiece['print'] {
  const off = Math.abs(((((degrees + 180) % 360) + 360) % 360) - 180);
  if (off < SEEN_SO_DEG) return 'up';
  return off > 180 - SEEN_SO_DEG ? 'upsideDown' : 'sideways';
}
