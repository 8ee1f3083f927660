import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { DrawingOutline, ReadDrawing } from '../reading/drawing.ts';
import { type Corners, homographyOf, throughHomography } from './homography.ts';
import { photoFault as fault } from './photoFault.ts';

/** What is seen of a photo: positions in its pixels, x to the right, y down. */
export interface PhotoTrace {
  /** Corners of the thing of known size: top left, top right, bottom right, bottom left as it lies in the photo. */
  readonly corners: Corners;
  /** Its size as it lies in the photo: along the side from the first corner to the second, and down. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** The outline, corner by corner, in order either way round. */
  readonly outline: readonly Point[];
}

/** An outline in true size. */
export interface MeasuredOutline {
  /** Counter-clockwise, y up, its box at the origin. */
  readonly ring: Outline;
  readonly widthMm: number;
  readonly heightMm: number;
  /** How far any of its points may be off, at worst, when every click may be off by `CLICK_PX`. */
  readonly errorMm: number;
  /** It reaches so many times the size of the known thing: errors grow with that. */
  readonly reach: number;
}

/** A steady hand sets a corner to about this, in pixels of the photo; a blurred edge is no better. */
export const CLICK_PX = 2;

/**
 * The traced outline in millimetres, as if seen straight from above. What lies flat with the known thing comes out
 * true; what stands up from it, and what the lens bends, does not.
 * @throws RangeError with a sentence for the maker
 */
export function measurePhoto(trace: PhotoTrace): MeasuredOutline {
  const { corners, widthMm, heightMm, outline } = trace;
  if (!(widthMm > 0 && heightMm > 0)) throw fault(({ noSize }) => noSize);
  if (outline.length < 3) throw fault(({ fewCorners }) => fewCorners);
  if (!isConvex(corners)) throw fault(({ crossed }) => crossed);
  const flat = flattened(trace, corners);
  if (!flat.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)) || beyondHorizon(trace))
    throw fault(({ horizon }) => horizon);
  const box = boundingBox(flat);
  const moved = flat.map(([x, y]): Point => [x - box.minX, y - box.minY]);
  if (Math.abs(signedArea(moved)) < 1) throw fault(({ empty }) => empty);
  return {
    ring: signedArea(moved) < 0 ? moved.reverse() : moved,
    widthMm: box.maxX - box.minX,
    heightMm: box.maxY - box.minY,
    errorMm: worstError(trace, flat),
    reach: Math.max((box.maxX - box.minX) / widthMm, (box.maxY - box.minY) / heightMm),
  };
}

/** Millimetres on the table, y up. */
function flattened({ widthMm, heightMm, outline }: PhotoTrace, corners: Corners): readonly Point[] {
  const h = homographyOf(corners, [
    [0, heightMm],
    [widthMm, heightMm],
    [widthMm, 0],
    [0, 0],
  ]);
  return outline.map((point) => throughHomography(h, point));
}

/**
 * Largest shift of any point if the corners and the point itself are each moved by `CLICK_PX` along x and y: shifts of
 * single corners add up at worst, so they are added.
 */
function worstError(trace: PhotoTrace, flat: readonly Point[]): number {
  const sum = new Float64Array(flat.length);
  const add = (changed: readonly Point[]): void =>
    changed.forEach(([x, y], i) => {
      const [x0, y0] = flat[i] as Point;
      sum[i] = (sum[i] as number) + Math.hypot(x - x0, y - y0);
    });
  const steps: readonly Point[] = [
    [CLICK_PX, 0],
    [0, CLICK_PX],
  ];
  for (const [dx, dy] of steps) {
    for (let corner = 0; corner < 4; corner++) {
      const moved = trace.corners.map(
        ([x, y], i): Point => (i === corner ? [x + dx, y + dy] : [x, y]),
      ) as unknown as Corners;
      add(flattened(trace, moved));
    }
    add(flattened({ ...trace, outline: trace.outline.map(([x, y]) => [x + dx, y + dy]) }, trace.corners));
  }
  return Math.max(...sum);
}

/** Whether some of the outline lies on the other side of the horizon than the known thing. */
function beyondHorizon({ corners, widthMm, heightMm, outline }: PhotoTrace): boolean {
  const h = homographyOf(corners, [
    [0, heightMm],
    [widthMm, heightMm],
    [widthMm, 0],
    [0, 0],
  ]);
  const side = ([x, y]: Point): number => (h[6] ?? 0) * x + (h[7] ?? 0) * y + (h[8] ?? 1);
  const sign = Math.sign(side(corners[0]));
  return outline.some((point) => Math.sign(side(point)) !== sign);
}

function isConvex(corners: Corners): boolean {
  const turns = corners.map(([x, y], i) => {
    const [bx, by] = corners[(i + 1) % 4] as Point;
    const [cx, cy] = corners[(i + 2) % 4] as Point;
    return Math.sign((bx - x) * (cy - by) - (by - y) * (cx - bx));
  });
  return turns.every((turn) => turn !== 0 && turn === turns[0]);
}

/** The traced outline as a drawing of its own, to be taken as a piece like any other. */
export function photoDrawing(fileName: string, name: string, measured: MeasuredOutline): ReadDrawing {
  const { ring, widthMm, heightMm } = measured;
  const outline: DrawingOutline = {
    id: 'photo-outline',
    elementId: '',
    label: name,
    suggestedName: name,
    shape: 'polygon',
    ring,
    widthMm,
    heightMm,
    areaMm2: signedArea(ring),
    box: { minX: 0, minY: 0, maxX: widthMm, maxY: heightMm },
    strokeMm: 0,
    outerWidthMm: widthMm,
    outerHeightMm: heightMm,
    strokeColour: null,
    fillColour: null,
    dashed: false,
    clone: false,
    parent: null,
    depth: 0,
    onPage: 'inside',
    textInside: [],
    textBeside: [],
    mending: null,
  };
  return {
    ok: true,
    fileName,
    page: { widthMm, heightMm },
    scale: {
      known: true,
      basis: 'physical',
      factor: 1,
      mmPerUnitX: 1,
      mmPerUnitY: 1,
      doubt: null,
      guesses: [],
    },
    outlines: [outline],
    openLines: [],
    texts: [],
    refused: [],
    warnings: [],
    source: '',
  };
}
