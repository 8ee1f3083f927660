/**
 * Is a layout legal? The checker that every layout passes before it leaves the engine.
 *
 * It shares no code and no idea with the packer: no no-fit polygons, no typed arrays, no convex parts. Two shapes
 * are held against each other by two questions that need only points, segments and distances:
 *
 *  1. *Does the boundary of one run deeper than the tolerance inside the other?* Around each edge of B lies a
 *     stadium, all points no farther than `tolerance` from it. The stretch of an edge of A inside a stadium is one
 *     interval (a stadium is convex), so what no stadium covers is known exactly, and a single point of each bare
 *     stretch, well away from B's boundary, tells whether the stretch is inside B or outside.
 *
 *         B ───────────────╮ ╭──────      ╳ bare stretch of A's edge: farther than the
 *           A ══════════╪══╳═╪═════         tolerance from B's boundary, so its side is certain
 *
 *  2. *Do they share area although their boundaries hug each other?* One outline exactly on another passes the first
 *     question. The common area, integrated chord by chord, can be no more than the tolerance times the
 *     boundary's length where two shapes only touch.
 *
 * Touching is legal; so is anything smaller than the tolerance. Orientation of outlines does not matter here.
 */
import type {
  Container,
  Item,
  Lattice,
  Layout,
  Outline,
  Placement,
  Point,
  Problem,
  StripContainer,
} from './packing/types.ts';

/**
 * Largest depth still called touching, as a share of the container's smaller extent. It must exceed what rounding
 * does to coordinates (about 1e-12 of them) and stay far under anything a cutter can see: 1.5 µm on a cloth 1.5 m wide.
 */
export const TOUCH_TOLERANCE_SHARE = 1e-6;

/**
 * The same as a share of the longest extent at hand, which counts where it is greater: on a strip of leather 40 mm
 * wide, straps of 3 m lie end to end, and rounding grows with the greater of the two.
 */
export const LONG_TOUCH_TOLERANCE_SHARE = 2.5e-7;

/** Degrees by which a rotation may differ from an admissible one: rounding of sums of angles, nothing more. */
export const ANGLE_TOLERANCE_DEG = 1e-9;

export type FaultKind =
  /** A number of the layout or the problem isn't finite, or an outline has fewer than three points. */
  | 'malformed'
  /** The layout names an item, or a copy of it, that the problem doesn't have. */
  | 'unknown-copy'
  /** It names a container, or a copy of one, that the problem doesn't have. */
  | 'unknown-container'
  /** A copy is placed or listed as unplaced more than once. */
  | 'twice'
  /** A copy is neither placed nor listed as unplaced. */
  | 'missing'
  /** The rotation or the hand isn't admissible. */
  | 'pose'
  /** The item may not go into this container. */
  | 'wrong-container'
  /** A piece reaches out of its container. */
  | 'outside'
  /** A piece enters a hole or a flaw. */
  | 'blocked'
  /** Two pieces overlap. */
  | 'overlap'
  /** Two pieces are closer than the gap. */
  | 'gap'
  /** A piece that belongs on the fold doesn't touch it. */
  | 'fold'
  /** A piece lies beside the lattice that its pose is confined to. */
  | 'lattice'
  /** A copy that is fixed lies elsewhere, or nowhere. */
  | 'fixed'
  /** The stated length isn't the length of the layout. */
  | 'length';

/** One broken rule. */
export interface Fault {
  readonly kind: FaultKind;
  /** The copies concerned: one or two; none for `length`. */
  readonly copies: readonly { readonly item: string; readonly copy: number }[];
  /** By how much, in mm (degrees for `pose`); 0 where no amount makes sense. */
  readonly amountMm: number;
  /** An English sentence for logs and tests. */
  readonly text: string;
}

interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

interface Edge extends Box {
  readonly a: Point;
  readonly b: Point;
}

/** An outline where it lies, with what the tests ask again and again. */
interface Shape {
  readonly outline: Outline;
  readonly edges: readonly Edge[];
  readonly box: Box;
  readonly perimeter: number;
}

interface Placed {
  readonly placement: Placement;
  readonly shape: Shape;
}

/** A container with what all its pieces are held against. */
interface Place {
  readonly container: Container;
  readonly tolerance: number;
  /** Empty for a strip, which is judged by its bounding box alone. */
  readonly outline: readonly Shape[];
  readonly blocked: readonly Shape[];
}

/**
 * Checks a layout against its problem and returns every broken rule; an empty list means legal. Never throws: what
 * can't be judged is a fault. Takes a few milliseconds for fifty pieces of twenty vertices.
 */
export function verify(problem: Problem, layout: Layout): Fault[] {
  const faults: Fault[] = [];
  const items = new Map(problem.items.map((item) => [item.id, item]));
  const places = new Map<string, Place>();
  const longestPiece = longestOf(problem.items);
  for (const container of problem.containers) {
    if (isWellFormed(container)) places.set(container.id, placeOf(container, longestPiece));
    else faults.push(fault('malformed', [], 0, `${container.id} is not a usable container`));
  }
  if (new Set(problem.containers.map(({ id }) => id)).size !== problem.containers.length)
    faults.push(fault('malformed', [], 0, 'two containers have the same id'));
  if (items.size !== problem.items.length)
    faults.push(fault('malformed', [], 0, 'two items have the same id'));
  if (!(problem.gap >= 0 && Number.isFinite(problem.gap)))
    faults.push(fault('malformed', [], 0, `the gap is ${problem.gap} mm`));

  checkCounts(problem, items, layout, faults);
  checkFixed(problem, layout, places, faults);

  const together = new Map<string, { place: Place; placed: Placed[] }>();
  for (const placement of layout.placements) {
    const item = items.get(placement.item);
    if (!item) continue; // reported by checkCounts
    const place = places.get(placement.container);
    const shape = checkAlone(placement, item, place, faults);
    if (!shape || !place) continue;
    const key = JSON.stringify([placement.container, placement.containerCopy]);
    const group = together.get(key) ?? { place, placed: [] };
    group.placed.push({ placement, shape });
    together.set(key, group);
  }
  let length = 0;
  for (const { place, placed } of together.values()) {
    checkPairs(placed, problem.gap, place.tolerance, faults);
    if (place.container.kind !== 'strip') continue;
    for (const { shape } of placed) length = Math.max(length, shape.box.maxX);
  }
  checkLength(problem, length, longestPiece, layout, faults);
  return faults;
}

/** The depth in mm that still counts as touching in this container, with pieces no longer than `longestPiece`. */
export function toleranceOf(container: Container, longestPiece = 0): number {
  const [shorter, longer] =
    container.kind === 'strip' ? [container.width, longestPiece] : extentsOf(container.outline);
  return Math.max(TOUCH_TOLERANCE_SHARE * shorter, LONG_TOUCH_TOLERANCE_SHARE * longer);
}

/** The smaller and the greater extent of an outline along the axes. */
function extentsOf(outline: Outline): [number, number] {
  const box = boxOf(outline);
  const [along, across] = [box.maxX - box.minX, box.maxY - box.minY];
  return [Math.min(along, across), Math.max(along, across)];
}

// ---------------------------------------------------------------------------------------------------------------
// Counts, poses, places

/** Each copy exactly once, placed or listed as unplaced, and nothing else. */
function checkCounts(problem: Problem, items: ReadonlyMap<string, Item>, layout: Layout, faults: Fault[]) {
  const seen = new Set<string>();
  for (const copy of [...layout.placements, ...layout.unplaced]) {
    const quantity = items.get(copy.item)?.quantity ?? 0;
    const known = Number.isInteger(copy.copy) && copy.copy >= 0 && copy.copy < quantity;
    const key = keyOf(copy);
    if (!known) faults.push(fault('unknown-copy', [copy], 0, `there is no ${nameOf(copy)}`));
    else if (seen.has(key)) faults.push(fault('twice', [copy], 0, `${nameOf(copy)} is listed twice`));
    seen.add(key);
  }
  for (const item of problem.items) {
    for (let copy = 0; copy < item.quantity; copy++) {
      const one = { item: item.id, copy };
      if (!seen.has(keyOf(one)))
        faults.push(fault('missing', [one], 0, `${nameOf(one)} is neither placed nor listed as unplaced`));
    }
  }
}

/** Fixed copies lie where they are fixed. */
function checkFixed(
  { fixed = [] }: Problem,
  layout: Layout,
  places: ReadonlyMap<string, Place>,
  faults: Fault[],
) {
  for (const wanted of fixed) {
    const found = layout.placements.find((p) => p.item === wanted.item && p.copy === wanted.copy);
    const off = found ? Math.hypot(found.x - wanted.x, found.y - wanted.y) : 0;
    const isThere =
      found !== undefined &&
      found.container === wanted.container &&
      found.containerCopy === wanted.containerCopy &&
      found.mirrored === wanted.mirrored &&
      Math.abs(turnBetween(found.rotation, wanted.rotation)) <= ANGLE_TOLERANCE_DEG &&
      off <= (places.get(wanted.container)?.tolerance ?? 0);
    if (!isThere) faults.push(fault('fixed', [wanted], off, `${nameOf(wanted)} is fixed and lies elsewhere`));
  }
}

/** What can be said about one placement without the others. Returns its shape if others can be held against it. */
function checkAlone(
  placement: Placement,
  item: Item,
  place: Place | undefined,
  faults: Fault[],
): Shape | null {
  const name = nameOf(placement);
  const { containerCopy } = placement;
  if (![placement.x, placement.y, placement.rotation].every(Number.isFinite)) {
    const text = `${name}: x ${placement.x}, y ${placement.y}, rotation ${placement.rotation}`;
    faults.push(fault('malformed', [placement], 0, text));
    return null;
  }
  if (!isOutline(item.outline)) {
    faults.push(fault('malformed', [placement], 0, `${name} has no usable outline`));
    return null;
  }
  const quantity = place?.container.kind === 'sheet' ? place.container.quantity : 1;
  if (!place || !Number.isInteger(containerCopy) || containerCopy < 0 || containerCopy >= quantity) {
    const text = `${name}: there is no container ${placement.container}, number ${containerCopy}`;
    faults.push(fault('unknown-container', [placement], 0, text));
    return null;
  }
  const { id } = place.container;
  if (item.containers && !item.containers.includes(id))
    faults.push(fault('wrong-container', [placement], 0, `${name} may not go into ${id}`));
  checkPose(placement, item, faults);
  checkLattice(placement, item, place.tolerance, faults);
  const shape = shapeOf(placeOutline(item.outline, placement));
  checkPlace(placement, item, shape, place, faults);
  return shape;
}

function checkPose(placement: Placement, item: Item, faults: Fault[]) {
  const sameHand = item.poses.filter((pose) => pose.mirrored === placement.mirrored);
  if (sameHand.length === 0) {
    const hand = placement.mirrored ? 'mirrored' : 'as drawn';
    faults.push(fault('pose', [placement], 0, `${nameOf(placement)} may not be laid ${hand}`));
    return;
  }
  if (item.anyAngle) return;
  const offBy = Math.min(
    ...sameHand.map(({ rotation, tilt = 0 }) =>
      Math.max(0, Math.abs(turnBetween(rotation, placement.rotation)) - tilt),
    ),
  );
  if (!(offBy <= ANGLE_TOLERANCE_DEG)) {
    const text = `${nameOf(placement)} may not be turned by ${placement.rotation}°, the nearest admissible angle is ${offBy}° away`;
    faults.push(fault('pose', [placement], offBy, text));
  }
}

/** On the lattice of one of the poses that look like this one; a pose without a lattice may lie anywhere. */
function checkLattice(placement: Placement, item: Item, tolerance: number, faults: Fault[]) {
  const alike = item.poses.filter(
    ({ mirrored, rotation }) =>
      mirrored === placement.mirrored &&
      Math.abs(turnBetween(rotation, placement.rotation)) <= ANGLE_TOLERANCE_DEG,
  );
  if (alike.length === 0 || alike.some(({ lattice }) => lattice === undefined)) return;
  const off = Math.min(...alike.map(({ lattice }) => (lattice ? missOf(lattice, placement) : 0)));
  if (!(off <= tolerance)) {
    const text = `${nameOf(placement)} lies ${off} mm beside its lattice`;
    faults.push(fault('lattice', [placement], off, text));
  }
}

/** How far a position is beyond what a lattice allows, in mm. */
function missOf({ origin, u, v, tolerance = 0 }: Lattice, { x, y }: Placement): number {
  const [dx, dy] = [x - origin[0], y - origin[1]];
  if (v === null) {
    const length = Math.hypot(u[0], u[1]);
    const along = (dx * u[0] + dy * u[1]) / length;
    return Math.abs(along - Math.round(along / length) * length) - tolerance;
  }
  // The nearest points are among those whose steps, counted in real numbers, are nearest; a skew lattice needs a few more.
  const det = u[0] * v[1] - u[1] * v[0];
  const a = Math.round((dx * v[1] - dy * v[0]) / det);
  const b = Math.round((u[0] * dy - u[1] * dx) / det);
  let least = Number.POSITIVE_INFINITY;
  for (let i = a - 3; i <= a + 3; i++)
    for (let j = b - 3; j <= b + 3; j++) {
      const offX = Math.abs(dx - i * u[0] - j * v[0]) - tolerance;
      const offY = Math.abs(dy - i * u[1] - j * v[1]) - tolerance;
      least = Math.min(least, Math.max(offX, offY));
    }
  return least;
}

/** Inside the container, clear of what is blocked, on the fold. */
function checkPlace(placement: Placement, item: Item, shape: Shape, place: Place, faults: Fault[]) {
  const name = nameOf(placement);
  const { container, tolerance } = place;
  const { box } = shape;
  const out = container.kind === 'strip' ? reachOutsideStrip(box, container) : 0;
  const reach = Math.max(out, ...place.outline.map((outline) => reachOutside(shape, outline, tolerance)));
  if (!(reach <= tolerance))
    faults.push(fault('outside', [placement], reach, `${name} reaches ${reach} mm out of ${container.id}`));
  for (const blocked of place.blocked) {
    const depth = overlapDepth(shape, blocked, tolerance);
    const text = `${name} lies ${depth} mm deep in a blocked place of ${container.id}`;
    if (depth > 0) faults.push(fault('blocked', [placement], depth, text));
  }
  if (item.onFold && !(Math.abs(box.minY) <= tolerance)) {
    const text = `${name} belongs on the fold and lies ${box.minY} mm from it`;
    faults.push(fault('fold', [placement], Math.abs(box.minY), text));
  }
}

function checkPairs(placed: readonly Placed[], gap: number, tolerance: number, faults: Fault[]) {
  const clearance = Math.max(0, gap - tolerance);
  const byLeft = [...placed].sort((p, q) => p.shape.box.minX - q.shape.box.minX);
  for (const [i, p] of byLeft.entries()) {
    for (let j = i + 1; j < byLeft.length; j++) {
      const q = byLeft[j]!;
      if (q.shape.box.minX >= p.shape.box.maxX + clearance) break; // all further ones lie still more to the right
      const copies = [p.placement, q.placement];
      const both = `${nameOf(p.placement)} and ${nameOf(q.placement)}`;
      const depth = overlapDepth(p.shape, q.shape, tolerance);
      if (depth > 0) faults.push(fault('overlap', copies, depth, `${both} overlap by ${depth} mm`));
      else if (clearance > 0) {
        const distance = boundaryDistance(p.shape, q.shape, clearance);
        const text = `${both} are ${distance} mm apart, ${gap} mm is the least`;
        if (distance < clearance) faults.push(fault('gap', copies, gap - distance, text));
      }
    }
  }
}

/** The length is the largest x of any placed point on a strip, and 0 for sheets or an empty strip. */
function checkLength(
  problem: Problem,
  length: number,
  longestPiece: number,
  layout: Layout,
  faults: Fault[],
) {
  const strip = problem.containers.find((container) => container.kind === 'strip');
  const offBy = Math.abs(length - layout.length);
  if (offBy <= (strip ? toleranceOf(strip, longestPiece) : 0)) return;
  const text = `the length is ${length} mm, not ${layout.length} mm`;
  if (Number.isFinite(offBy)) faults.push(fault('length', [], offBy, text));
  else faults.push(fault('malformed', [], 0, text));
}

// ---------------------------------------------------------------------------------------------------------------
// Two shapes

/**
 * How deep two shapes overlap, in mm; 0 if at most `tolerance`. Where boundaries cross it is the greatest depth of
 * either boundary inside the other shape; where the boundaries lie on one another, the mean width of the common area.
 */
function overlapDepth(p: Shape, q: Shape, tolerance: number): number {
  if (boxesApart(p.box, q.box, tolerance)) return 0;
  const depth = Math.max(deepestStretch(p, q, tolerance, true), deepestStretch(q, p, tolerance, true));
  if (depth > 0) return depth;
  return meanWidth(commonArea(p, q), Math.min(p.perimeter, q.perimeter), tolerance);
}

/** How far a shape reaches over the edges of a strip, in mm. */
function reachOutsideStrip(box: Box, { width, maxLength }: StripContainer): number {
  return Math.max(-box.minX, -box.minY, box.maxY - width, box.maxX - (maxLength ?? Infinity));
}

/** How far a shape reaches out of a container's outline, in mm; 0 if at most `tolerance`. */
function reachOutside(shape: Shape, container: Shape, tolerance: number): number {
  const out = Math.max(
    deepestStretch(shape, container, tolerance, false),
    deepestStretch(container, shape, tolerance, true), // a notch of the container cuts into the shape
  );
  if (out > 0) return out;
  return meanWidth(areaOf(shape.outline) - commonArea(shape, container), shape.perimeter, tolerance);
}

/** An area spread along a boundary as a width; 0 if no wider than touching shapes may share. */
function meanWidth(area: number, perimeter: number, tolerance: number): number {
  return area > 2 * tolerance * perimeter ? area / perimeter : 0;
}

/**
 * The greatest distance from `other`'s boundary of any boundary point of `shape` that lies inside `other` (or
 * outside, as asked), in mm; 0 if at most `tolerance`. Found by widening the stadiums until nothing is left bare.
 */
function deepestStretch(shape: Shape, other: Shape, tolerance: number, inside: boolean): number {
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

/** Least distance between two boundaries in mm, as far as it is under `limit`; otherwise `limit`. */
function boundaryDistance(p: Shape, q: Shape, limit: number): number {
  let least = limit;
  const near = q.edges.filter((edge) => !boxesApart(edge, p.box, limit));
  for (const e of p.edges) {
    if (boxesApart(e, q.box, limit)) continue;
    for (const f of near) {
      if (boxesApart(e, f, least)) continue;
      // Crossing boundaries were refused as an overlap before, so the least distance is at an end of one edge.
      least = Math.min(
        least,
        distanceToSegment(e.a[0], e.a[1], f),
        distanceToSegment(e.b[0], e.b[1], f),
        distanceToSegment(f.a[0], f.a[1], e),
        distanceToSegment(f.b[0], f.b[1], e),
      );
    }
  }
  return least;
}

/**
 * Area common to two shapes in mm². At height y the common chord has some length; between two neighbouring heights
 * at which a vertex lies or two edges cross, that length is linear in y, so height × length at the middle is exact.
 */
function commonArea(p: Shape, q: Shape): number {
  const low = Math.max(p.box.minY, q.box.minY);
  const high = Math.min(p.box.maxY, q.box.maxY);
  const left = Math.max(p.box.minX, q.box.minX);
  const right = Math.min(p.box.maxX, q.box.maxX);
  if (!(low < high) || !(left < right)) return 0;
  const between = { minX: left, minY: low, maxX: right, maxY: high };
  const edgesP = p.edges.filter((edge) => edge.maxY > low && edge.minY < high);
  const edgesQ = q.edges.filter((edge) => edge.maxY > low && edge.minY < high);

  const heights = [low, high];
  for (const edge of [...edgesP, ...edgesQ]) heights.push(edge.a[1], edge.b[1]);
  const crossingP = edgesP.filter((edge) => !boxesApart(edge, between, 0));
  const crossingQ = edgesQ.filter((edge) => !boxesApart(edge, between, 0));
  for (const e of crossingP) for (const f of crossingQ) heights.push(...crossingHeight(e, f));
  const sorted = heights.filter((y) => y >= low && y <= high).sort((s, t) => s - t);

  const chordsP = chordReader(edgesP);
  const chordsQ = chordReader(edgesQ);
  let area = 0;
  for (let i = 0; i + 1 < sorted.length; i++) {
    const height = sorted[i + 1]! - sorted[i]!;
    if (height === 0) continue;
    const y = sorted[i]! + height / 2;
    area += height * commonLength(chordsP(y), chordsQ(y));
  }
  return area;
}

/** Height at which two edges cross, if they do and are not parallel. */
function crossingHeight(e: Edge, f: Edge): number[] {
  if (boxesApart(e, f, 0)) return [];
  const [ex, ey] = [e.b[0] - e.a[0], e.b[1] - e.a[1]];
  const [fx, fy] = [f.b[0] - f.a[0], f.b[1] - f.a[1]];
  const denominator = ex * fy - ey * fx;
  if (denominator === 0) return [];
  const t = ((f.a[0] - e.a[0]) * fy - (f.a[1] - e.a[1]) * fx) / denominator;
  const u = ((f.a[0] - e.a[0]) * ey - (f.a[1] - e.a[1]) * ex) / denominator;
  return t > 0 && t < 1 && u >= 0 && u <= 1 ? [e.a[1] + t * ey] : [];
}

/** Gives the sorted x of all edges at height y, asked for in rising order of y. */
function chordReader(edges: readonly Edge[]): (y: number) => number[] {
  const waiting = edges.filter((edge) => edge.minY < edge.maxY).sort((e, f) => f.minY - e.minY);
  let active: Edge[] = [];
  return (y) => {
    active = active.filter((edge) => edge.maxY > y);
    while (waiting.length > 0 && waiting.at(-1)!.minY <= y) active.push(waiting.pop()!);
    return active
      .filter((edge) => edge.maxY > y)
      .map(({ a, b }) => a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]))
      .sort((s, t) => s - t);
  };
}

/** Length covered by both of two sets of intervals, each given as sorted ends. */
function commonLength(p: readonly number[], q: readonly number[]): number {
  let length = 0;
  for (let i = 0; i + 1 < p.length; i += 2) {
    for (let j = 0; j + 1 < q.length; j += 2) {
      length += Math.max(0, Math.min(p[i + 1]!, q[j + 1]!) - Math.max(p[i]!, q[j]!));
    }
  }
  return length;
}

// ---------------------------------------------------------------------------------------------------------------
// One shape, one container

function isOutline(outline: Outline): boolean {
  return outline.length >= 3 && outline.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y));
}

function isWellFormed(container: Container): boolean {
  const shorter = container.kind === 'strip' ? container.width : extentsOf(container.outline)[0];
  if (!(shorter > 0 && Number.isFinite(shorter))) return false;
  if (!(container.blocked ?? []).every(isOutline)) return false;
  if (container.kind === 'strip') return !Number.isNaN(container.maxLength ?? 0);
  return isOutline(container.outline);
}

/** The greatest extent of any piece along the axes it is drawn in, in mm; unusable outlines don't count. */
function longestOf(items: readonly Item[]): number {
  return items.reduce(
    (longest, { outline }) => Math.max(longest, isOutline(outline) ? extentsOf(outline)[1] : 0),
    0,
  );
}

function placeOf(container: Container, longestPiece: number): Place {
  const sheet = container.kind === 'sheet';
  return {
    container,
    tolerance: toleranceOf(container, longestPiece),
    outline: sheet ? [shapeOf(container.outline)] : [],
    blocked: (container.blocked ?? []).map(shapeOf),
  };
}

/** Mirror (x → −x), then turn counter-clockwise about the origin, then shift. Quarter turns are exact. */
function placeOutline(outline: Outline, { rotation, mirrored, x, y }: Placement): Point[] {
  const [cos, sin] = cosSin(rotation);
  return outline.map(([px, py]) => {
    const mx = mirrored ? -px : px;
    return [mx * cos - py * sin + x, mx * sin + py * cos + y];
  });
}

function cosSin(degrees: number): [cos: number, sin: number] {
  const turned = ((degrees % 360) + 360) % 360;
  if (turned === 0) return [1, 0];
  if (turned === 90) return [0, 1];
  if (turned === 180) return [-1, 0];
  if (turned === 270) return [0, -1];
  const radians = (turned * Math.PI) / 180;
  return [Math.cos(radians), Math.sin(radians)];
}

/** The turn from one angle to another in degrees, −180 to 180. */
function turnBetween(from: number, to: number): number {
  const turn = (((to - from) % 360) + 360) % 360;
  return turn > 180 ? turn - 360 : turn;
}

function shapeOf(outline: Outline): Shape {
  const edges = outline.map((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    return { a, b, ...boxOf([a, b]) };
  });
  const perimeter = edges.reduce((sum, { a, b }) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);
  return { outline, edges, box: boxOf(outline), perimeter };
}

function boxOf(points: Outline): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

function boxesApart(p: Box, q: Box, distance: number): boolean {
  return (
    p.minX > q.maxX + distance ||
    q.minX > p.maxX + distance ||
    p.minY > q.maxY + distance ||
    q.minY > p.maxY + distance
  );
}

/** Area in mm², whichever way the outline runs. */
function areaOf(outline: Outline): number {
  const [ox, oy] = outline[0]!; // from the first vertex, so that far-off coordinates don't cancel each other
  let twice = 0;
  for (const [i, [x, y]] of outline.entries()) {
    const [u, v] = outline[(i + 1) % outline.length]!;
    twice += (x - ox) * (v - oy) - (u - ox) * (y - oy);
  }
  return Math.abs(twice) / 2;
}

/** Even–odd rule along a ray to the right. Only asked about points that are clear of the boundary. */
function isInside(x: number, y: number, { box, edges }: Shape): boolean {
  if (x < box.minX || x > box.maxX || y < box.minY || y > box.maxY) return false;
  let inside = false;
  for (const { a, b, minY, maxY, maxX } of edges) {
    if (y < minY || y >= maxY || x > maxX) continue; // half open: a vertex on the ray counts once
    if (x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
  }
  return inside;
}

function distanceToSegment(x: number, y: number, { a, b }: Edge): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  const t = squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / squared));
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
}

// ---------------------------------------------------------------------------------------------------------------
// Words

type Copy = { readonly item: string; readonly copy: number };

function fault(kind: FaultKind, copies: readonly Copy[], amountMm: number, text: string): Fault {
  return { kind, copies: copies.map(({ item, copy }) => ({ item, copy })), amountMm, text };
}

const nameOf = ({ item, copy }: Copy) => `copy ${copy} of ${item}`;
const keyOf = ({ item, copy }: Copy) => JSON.stringify([item, copy]);
