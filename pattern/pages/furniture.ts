import type { Box } from '../../nesting/geometry/points.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Scene } from '../reading/scenes.ts';
import type { DrawnShape } from '../reading/walk.ts';

/** What stands on nearly every page at the same place (frames, corner marks) belongs to the sheets, not to the pattern. */
export interface Furniture {
  /** Whether this shape of a page is such. */
  readonly has: (shape: DrawnShape) => boolean;
  /** Frames drawn on the pages, the largest first, with the numbers of the pages that have them. */
  readonly frames: readonly { readonly box: Box; readonly pages: ReadonlySet<number> }[];
}

/** Programs round what they repeat on each page to about this. Millimetres. */
const SAME_MM = 0.2;
/** On so many of the pages, and at least two. */
const NEARLY_ALL = 0.7;
/** A frame takes up at least this share of the page's width and height. */
const FRAME_PART = 0.5;
/** A rectangle as large as this share of its page is the page's own ground. */
const GROUND_PART = 0.998;

/** What stands on nearly all pages in the same place: frames, grounds and marks of the sheets, not of the drawing. */
export function findFurniture(scenes: readonly Scene[]): Furniture {
  const pagesOf = new Map<string, Set<number>>();
  for (const scene of scenes)
    for (const shape of scene.shapes) {
      const key = keyOf(shape);
      const pages = pagesOf.get(key);
      if (pages) pages.add(scene.number);
      else pagesOf.set(key, new Set([scene.number]));
    }
  const withLines = scenes.filter(({ shapes }) => shapes.length > 0).length;
  const least = Math.max(2, Math.ceil(NEARLY_ALL * withLines));
  const common = new Set([...pagesOf].filter(([, pages]) => pages.size >= least).map(([key]) => key));
  const frames = new Map<string, { box: Box; pages: ReadonlySet<number> }>();
  for (const scene of scenes)
    for (const shape of scene.shapes) {
      const key = keyOf(shape);
      if (!common.has(key) || frames.has(key)) continue;
      const box = frameOf(shape, scene);
      if (box) frames.set(key, { box, pages: pagesOf.get(key) ?? new Set() });
    }
  const area = ({ box }: { box: Box }): number => (box.maxX - box.minX) * (box.maxY - box.minY);
  return {
    has: (shape) => common.has(keyOf(shape)),
    frames: [...frames.values()].sort((a, b) => area(b) - area(a)),
  };
}

const keysOf = new WeakMap<DrawnShape, string>();

function keyOf(shape: DrawnShape): string {
  const known = keysOf.get(shape);
  if (known !== undefined) return known;
  const round = (value: number): number => Math.round(value / SAME_MM);
  let key = '';
  for (const { points, closed } of shape.polylines) {
    const { minX, minY, maxX, maxY } = boundingBox(points);
    key += `${points.length}${closed ? 'c' : ' '}${round(minX)} ${round(minY)} ${round(maxX)} ${round(maxY)}/`;
  }
  keysOf.set(shape, key);
  return key;
}

/** The box of an upright rectangle that frames most of its page; null for anything else. */
function frameOf({ polylines }: DrawnShape, { widthMm, heightMm }: Scene): Box | null {
  const [line] = polylines;
  if (!line || polylines.length !== 1) return null;
  const box = boundingBox(line.points);
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  if (width < FRAME_PART * widthMm || height < FRAME_PART * heightMm) return null;
  if (width > GROUND_PART * widthMm && height > GROUND_PART * heightMm) return null;
  const isRectangle = Math.abs(Math.abs(signedArea(line.points)) - width * height) < 1e-3 * width * height;
  return isRectangle ? box : null;
}
