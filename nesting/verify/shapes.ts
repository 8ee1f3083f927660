import type { Outline, Point } from '../packing/types.ts';

/** Extents along the axes, in mm. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** A straight side of an outline, from `a` to `b`, with its own extents. */
export interface Edge extends Box {
  readonly a: Point;
  readonly b: Point;
}

/** An outline where it lies, with what the tests ask again and again. */
export interface Shape {
  readonly outline: Outline;
  readonly edges: readonly Edge[];
  readonly box: Box;
  /** In mm. */
  readonly perimeter: number;
}

/** An outline as a shape, its last vertex joined to its first. */
export function shapeOf(outline: Outline): Shape {
  const edges = outline.map((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    return { a, b, ...boxOf([a, b]) };
  });
  const perimeter = edges.reduce((sum, { a, b }) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);
  return { outline, edges, box: boxOf(outline), perimeter };
}

/** Extents of some points along the axes; turned inside out where there are none. */
export function boxOf(points: Outline): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** The smaller and the greater extent of an outline along the axes, in mm. */
export function extentsOf(outline: Outline): [number, number] {
  const box = boxOf(outline);
  const [along, across] = [box.maxX - box.minX, box.maxY - box.minY];
  return [Math.min(along, across), Math.max(along, across)];
}

/** Whether two boxes lie more than `distance` mm apart along one of the axes. */
export function boxesApart(p: Box, q: Box, distance: number): boolean {
  return (
    p.minX > q.maxX + distance ||
    q.minX > p.maxX + distance ||
    p.minY > q.maxY + distance ||
    q.minY > p.maxY + distance
  );
}

/** Whether an outline can be judged: three points or more, all of them finite. */
export function isOutline(outline: Outline): boolean {
  return outline.length >= 3 && outline.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y));
}

/** Area in mm², whichever way the outline runs. */
export function areaOf(outline: Outline): number {
  const [ox, oy] = outline[0]!; // from the first vertex, so that far-off coordinates don't cancel each other
  let twice = 0;
  for (const [i, [x, y]] of outline.entries()) {
    const [u, v] = outline[(i + 1) % outline.length]!;
    twice += (x - ox) * (v - oy) - (u - ox) * (y - oy);
  }
  return Math.abs(twice) / 2;
}

/** Even–odd rule along a ray to the right. Only asked about points that are clear of the boundary. */
export function isInside(x: number, y: number, { box, edges }: Shape): boolean {
  if (x < box.minX || x > box.maxX || y < box.minY || y > box.maxY) return false;
  let inside = false;
  for (const { a, b, minY, maxY, maxX } of edges) {
    if (y < minY || y >= maxY || x > maxX) continue; // half open: a vertex on the ray counts once
    if (x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
  }
  return inside;
}

/** Distance of a point from an edge in mm; an edge without length counts as a point. */
export function distanceToSegment(x: number, y: number, { a, b }: Edge): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  const t = squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / squared));
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
}
