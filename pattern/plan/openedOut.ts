import { lengthsTaken } from '../cloths/measures.ts';
import type { ClothFrame, Stretch } from './clothFrame.ts';

/** A point of a stretch in its own axes, or of a cloth opened out: along and across, mm. */
type Point = readonly [number, number];

/** One layer of cloth as it lies on the table, and where it comes from. */
export interface Layer {
  /** Lies with its right side down, so that what is drawn on the stretch comes out mirrored. */
  readonly isFaceDown: boolean;
  /** Which part of the stretch it covers, in the stretch's own axes. */
  readonly covers: (point: Point) => boolean;
  /** From the stretch's axes onto the cloth opened out: along from its cut end, across from its lower selvedge. */
  readonly toCloth: (point: Point) => Point;
  /** The same for a direction, degrees counter-clockwise from along. */
  readonly toClothDeg: (degrees: number) => number;
}

/** A stretch of cloth with its layers opened out, right side up. */
export interface OpenedStretch {
  /** The part along the cloth that it takes. */
  readonly fromMm: number;
  readonly toMm: number;
  /** The part across. */
  readonly lowMm: number;
  readonly highMm: number;
  /** The lowest first. */
  readonly layers: readonly Layer[];
}

const everywhere = (): boolean => true;

/**
 * Where what lies on a stretch comes from on the cloth opened out. Cloth is doubled right sides together: the lower layer
 * lies right side up, the upper one is its mirror image at the fold. Of cloth folded crosswise the upper layer is the
 * second half of the length; cut apart at the fold and turned end for end, its selvedges change places too.
 */
export function openedOut(frame: ClothFrame, stretch: Stretch): OpenedStretch {
  const { segment, originMm, lowMm, highMm, aheadMm } = stretch;
  const { spread, lengthMm, outline } = segment;
  if (outline) {
    // Sheets of a remnant are cloths of their own, each in the axes of its outline.
    const [fromMm, low] = [stretch.fromMm - originMm[0], -originMm[1]];
    return {
      fromMm,
      toMm: stretch.toMm - originMm[0],
      lowMm: low,
      highMm: low + highMm - lowMm,
      layers: [
        {
          isFaceDown: false,
          covers: everywhere,
          toCloth: (point) => point,
          toClothDeg: (degrees) => degrees,
        },
      ],
    };
  }
  const width = frame.widthMm;
  const along = (x: number): number => x + originMm[0] + aheadMm;
  /** From the lowest edge of the cloth as it lies. */
  const up = (y: number): number => y + originMm[1] - lowMm;
  const lower = (rises: number): Layer => ({
    isFaceDown: false,
    covers: everywhere,
    toCloth: ([x, y]) => [along(x), rises + up(y)],
    toClothDeg: (degrees) => degrees,
  });
  /** Mirrored across: y on the table is `from` − y on the cloth. */
  const folded = (from: number, covers: Layer['covers'] = everywhere, further = 0): Layer => ({
    isFaceDown: true,
    covers,
    toCloth: ([x, y]) => [along(x) + further, from - up(y)],
    toClothDeg: (degrees) => -degrees,
  });
  const layersOf = (): Layer[] => {
    switch (spread) {
      case 'single':
        return [lower(0)];
      case 'folded':
      case 'sequence':
        return [lower(width / 2), folded(width / 2)];
      case 'middle': {
        const quarter = width / 4;
        return [
          lower(quarter),
          folded(quarter, ([, y]) => up(y) < quarter),
          folded(width + quarter, ([, y]) => up(y) >= quarter),
        ];
      }
      case 'partial': {
        const deep = width - (highMm - lowMm);
        return [lower(deep), folded(deep, ([, y]) => up(y) < deep)];
      }
      case 'crosswise': {
        const fold = along(lengthMm);
        return [
          lower(0),
          {
            isFaceDown: true,
            covers: everywhere,
            toCloth: ([x, y]) => [2 * fold - along(x), up(y)],
            toClothDeg: (degrees) => 180 - degrees,
          },
        ];
      }
      case 'turned':
        return [lower(0), folded(width, everywhere, lengthMm)];
    }
  };
  return {
    fromMm: stretch.fromMm + aheadMm,
    toMm: stretch.toMm + aheadMm + (lengthsTaken(spread) === 2 ? lengthMm : 0),
    lowMm: 0,
    highMm: width,
    layers: layersOf(),
  };
}
