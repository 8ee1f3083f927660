import type { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../../nesting/packing/types.ts';
import type { DrawingLine, DrawingOutline, DrawingPoint, DrawingText, PieceProposal } from '../drawing.ts';
import { distanceToSegment } from '../flatten.ts';
import type { DxfBlock, DxfDocument } from './document.ts';
import { textOf } from './records.ts';

/**
 * Layers of ASTM D6673 (and of the AAMA rules it grew from), "Standard Practice for Sewn Products Pattern Data
 * Interchange": the layer's number says what a line is.
 */
export const CUT_LAYER = '1';
const LAYERS = {
  cut: [CUT_LAYER],
  notches: ['4', '80', '81', '82', '83'],
  mirror: ['6'],
  grain: ['7'],
  internal: ['8'],
  stripes: ['9', '10'],
  cutOuts: ['11'],
  drillHoles: ['13'],
  sew: ['14'],
} as const;

/** A mirror line lies on an edge if both its ends are no farther from it than this. */
const ON_EDGE_MM = 0.5;

const PIECE_NAME = /^\s*piece\s*name\s*:/i;

/** Whether a block describes one piece by the texts of D6673. */
export const isPieceBlock = (block: DxfBlock): boolean =>
  block.entities.some((entity) => entity.kind === 'TEXT' && PIECE_NAME.test(textOf(entity, 1) ?? ''));

/** Whether any block of the file is a piece. */
export const hasPieceBlocks = (document: DxfDocument): boolean =>
  [...document.blocks.values()].some(isPieceBlock);

/** Values of "Key: value" texts, by key in small letters. */
export function keyedTexts(texts: readonly DrawingText[]): Map<string, string> {
  const found = new Map<string, string>();
  for (const { text } of texts)
    for (const line of text.split('\n')) {
      const [, key, value] = /^\s*([A-Za-z][A-Za-z ]{0,30}?)\s*:\s*(.{0,200})$/.exec(line) ?? [];
      if (key !== undefined && !found.has(key.toLowerCase()))
        found.set(key.toLowerCase(), (value ?? '').trim());
    }
  return found;
}

/** What belongs to one piece, all of it in the same coordinates. */
export interface PieceParts {
  readonly outlines: readonly DrawingOutline[];
  readonly openLines: readonly DrawingLine[];
  readonly texts: readonly DrawingText[];
  readonly points: readonly DrawingPoint[];
}

/** The piece a block describes; null if it holds no closed outline. */
export function proposePiece({ outlines, openLines, texts, points }: PieceParts): PieceProposal | null {
  const on = <Each extends { readonly layer?: string }>(
    list: readonly Each[],
    layers: readonly string[],
  ): Each[] => list.filter(({ layer }) => layer !== undefined && layers.includes(layer));
  const largest = (list: readonly DrawingOutline[]): DrawingOutline | undefined =>
    list.reduce<DrawingOutline | undefined>(
      (best, each) => (best && best.areaMm2 >= each.areaMm2 ? best : each),
      undefined,
    );
  const outline = largest(on(outlines, LAYERS.cut)) ?? largest(outlines);
  if (!outline) return null;
  const said = keyedTexts(texts);
  const ids = (list: readonly { readonly id: string }[]): string[] =>
    list.map(({ id }) => id).filter((id) => id !== outline.id);
  const grain = on(openLines, LAYERS.grain)[0];
  const mirror = on(openLines, LAYERS.mirror)[0];
  // "1,1" is one and its mirror image (from memory; seen in no public copy of the standard).
  const [, quantity, images] = /(\d+)(?:\s*,\s*(\d+))?/.exec(said.get('quantity') ?? '') ?? [];
  return {
    outlineId: outline.id,
    name: said.get('piece name') || outline.suggestedName,
    size: said.get('size') || null,
    quantity: quantity === undefined ? null : Number(quantity),
    mirroredQuantity: Number(images ?? 0),
    material: said.get('material') || null,
    notes: texts.map(({ text }) => text),
    grainLineId: grain?.id ?? null,
    grainDeg: grain ? directionOf(grain.points) : null,
    mirrorLineId: mirror?.id ?? null,
    foldEdge: mirror ? edgeOn(outline.ring, mirror.points) : null,
    sewLineIds: ids([...on(outlines, LAYERS.sew), ...on(openLines, LAYERS.sew)]),
    holeIds: ids([...on(outlines, LAYERS.cutOuts), ...on(outlines, LAYERS.drillHoles)]),
    internalIds: ids([...on(outlines, LAYERS.internal), ...on(openLines, LAYERS.internal)]),
    stripeIds: ids(on(openLines, LAYERS.stripes)),
    notches: [
      ...on(points, LAYERS.notches).map(({ at }) => at),
      ...on(openLines, LAYERS.notches).map((line) => endOn(outline.ring, line.points)),
    ],
    drillHoles: on(points, LAYERS.drillHoles).map(({ at }) => at),
  };
}

function directionOf(points: readonly Point[]): number {
  const [x0, y0] = points[0] as Point;
  const [x1, y1] = points[points.length - 1] as Point;
  const degrees = (Math.atan2(y1 - y0, x1 - x0) * 180) / Math.PI;
  const turned = ((degrees % 180) + 180) % 180;
  return Math.round(turned * 1e6) / 1e6 === 180 ? 0 : turned;
}

/** The edge of the ring that runs along the mirror line, null if the line is no edge of it. */
function edgeOn(ring: Outline, line: readonly Point[]): number | null {
  const from = line[0] as Point;
  const to = line[line.length - 1] as Point;
  let best: number | null = null;
  let longest = 0;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i] as Point;
    const b = ring[(i + 1) % ring.length] as Point;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length <= longest) continue;
    if (distanceToSegment(a, from, to) > ON_EDGE_MM || distanceToSegment(b, from, to) > ON_EDGE_MM) continue;
    longest = length;
    best = i;
  }
  // A fold shorter than half the line is a corner that happens to lie on it.
  return longest > Math.hypot(to[0] - from[0], to[1] - from[1]) / 2 ? best : null;
}

/** The end of a notch drawn as a short line that lies on the outline. */
function endOn(ring: Outline, line: readonly Point[]): Point {
  const away = (point: Point): number =>
    ring.reduce(
      (least, a, i) => Math.min(least, distanceToSegment(point, a, ring[(i + 1) % ring.length] as Point)),
      Number.POSITIVE_INFINITY,
    );
  const from = line[0] as Point;
  const to = line[line.length - 1] as Point;
  return away(from) <= away(to) ? from : to;
}

/** The box around what a scene holds; null if it holds nothing. */
export function boxAround(
  shapes: readonly { readonly polylines: readonly { readonly points: readonly Point[] }[] }[],
  points: readonly DrawingPoint[],
): ReturnType<typeof boundingBox> | null {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  const take = ([x, y]: Point): void => {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  };
  for (const { polylines } of shapes) for (const line of polylines) line.points.forEach(take);
  for (const { at } of points) take(at);
  return maxX >= minX ? { minX, minY, maxX, maxY } : null;
}
