import { boxesApart, distanceToSegment, type Edge, isInside, type Shape } from './shapes.ts';

/**
 * The greatest distance from `other`'s boundary of any boundary point of `shape` that lies inside `other` (or
 * outside, as asked), in mm; 0 if at most `tolerance`. Found by widening the stadiums until nothing is left bare.
 */
export function deepestStretch(shape: Shape, other: Shape, tolerance: number, inside: boolean): number {
  if (!hasBareStretch(shape, other, tolerance, inside)) return 0;
  let bare = tolerance;
  let covered = 2 * tolerance;
  while (hasBareStretch(shape, other, covered, inside)) {
    bare = covered;
    covered *= 2;
  }
  while (covered - bare > 1e-3 * bare) {
    const middle = (bare + covered) / 2;
    if (hasBareStretch(shape, other, middle, inside)) bare = middle;
    else covered = middle;
  }
  return bare;
}

/** Is any stretch of `shape`'s boundary farther than `distance` from `other`'s and inside (or outside) `other`? */
function hasBareStretch(shape: Shape, other: Shape, distance: number, inside: boolean): boolean {
  const near = other.edges.filter((edge) => !boxesApart(edge, shape.box, distance));
  for (const edge of shape.edges) {
    if (boxesApart(edge, other.box, distance)) {
      if (!inside) return true; // wholly beyond the other's bounding box
      continue;
    }
    const covered: [number, number][] = [];
    for (const wall of near) {
      if (boxesApart(edge, wall, distance)) continue;
      const interval = stretchInStadium(edge, wall, distance);
      if (interval) covered.push(interval);
    }
    covered.sort((s, t) => s[0] - t[0]);
    let from = 0;
    for (const [start, end] of [...covered, [1, 1] as const]) {
      if (start > from) {
        const t = (from + start) / 2;
        const x = edge.a[0] + t * (edge.b[0] - edge.a[0]);
        const y = edge.a[1] + t * (edge.b[1] - edge.a[1]);
        if (isInside(x, y, other) === inside) return true;
      }
      from = Math.max(from, end);
    }
  }
  return false;
}

/**
 * The interval of t in [0, 1] for which the point a + t (b − a) of `edge` is within `radius` of the segment `wall`,
 * or null. A stadium is two discs and a rectangle; its cut with a line is the hull of its cuts with the three.
 */
function stretchInStadium(edge: Edge, wall: Edge, radius: number): [number, number] | null {
  const [ax, ay] = edge.a;
  const dx = edge.b[0] - ax;
  const dy = edge.b[1] - ay;
  const length = Math.hypot(dx, dy);
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  const add = (start: number, end: number) => {
    if (Math.max(start, 0) > Math.min(end, 1)) return;
    from = Math.min(from, Math.max(start, 0));
    to = Math.max(to, Math.min(end, 1));
  };
  if (length === 0) {
    if (distanceToSegment(ax, ay, wall) <= radius) add(0, 1);
    return from <= to ? [from, to] : null;
  }

  // The discs round the wall's two ends: half a chord on either side of the foot of the perpendicular.
  for (const [cx, cy] of [wall.a, wall.b]) {
    const off = Math.abs((cx - ax) * dy - (cy - ay) * dx) / length;
    if (off > radius) continue;
    const foot = ((cx - ax) * dx + (cy - ay) * dy) / length;
    const halfChord = Math.sqrt(radius * radius - off * off);
    add((foot - halfChord) / length, (foot + halfChord) / length);
  }

  // The rectangle along the wall: clip by "between its ends" and by "no farther than the radius from its line".
  const wallX = wall.b[0] - wall.a[0];
  const wallY = wall.b[1] - wall.a[1];
  const wallLength = Math.hypot(wallX, wallY);
  if (wallLength > 0) {
    const ux = wallX / wallLength;
    const uy = wallY / wallLength;
    const along = (ax - wall.a[0]) * ux + (ay - wall.a[1]) * uy;
    const across = (ay - wall.a[1]) * ux - (ax - wall.a[0]) * uy;
    const first = whereBetween(along, dx * ux + dy * uy, 0, wallLength);
    const second = whereBetween(across, dy * ux - dx * uy, -radius, radius);
    add(Math.max(first[0], second[0]), Math.min(first[1], second[1]));
  }
  return from <= to ? [from, to] : null;
}

/** The interval of t for which low ≤ start + t · slope ≤ high; empty intervals run backwards. */
function whereBetween(start: number, slope: number, low: number, high: number): [number, number] {
  if (slope === 0) {
    const always = start >= low && start <= high;
    return always ? [-Infinity, Infinity] : [Infinity, -Infinity];
  }
  const t = (low - start) / slope;
  const u = (high - start) / slope;
  return t < u ? [t, u] : [u, t];
}
