import { boxesApart, type Edge, type Shape } from './shapes.ts';

/**
 * Area common to two shapes in mm². At height y the common chord has some length; between two neighbouring heights
 * at which a vertex lies or two edges cross, that length is linear in y, so height × length at the middle is exact.
 */
export function commonArea(p: Shape, q: Shape): number {
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
