import type { Point, Ring } from '../geometry/points.ts';
import { compareDirections, turn } from '../geometry/predicates.ts';

/**
 * The convolution of two closed rings: closed curves around which every point x is wound as often as there are
 * components in the common part of `a` and of `x − c` (Guibas, Ramshaw & Stolfi 1983; Wein 2006). Of two
 * counter-clockwise rings, the points wound at least once form the inside of their Minkowski sum a + c.
 *
 * An edge of one ring goes with each vertex of the other through whose turn the edge's direction passes; at a
 * concave vertex the turn goes the other way round, and so does the edge. Parallel edges are told apart by
 * turning all of `a` by an infinitely small angle. The curve has about as many edges as both rings together if
 * these are nearly convex, at worst their product.
 *
 * `aShifted` and `cShifted` give the coordinates to build with, vertex for vertex: combinatorics come from the
 * true rings, so that a tiny inset cannot upset them.
 */
export function convolution(a: Ring, c: Ring, aShifted: Ring = a, cShifted: Ring = c): Point[][] {
  const edges = pairEdges(a, c);
  return trace(edges, c.length).map((cycle) =>
    cycle.map((state) => {
      const p = aShifted[Math.floor(state / c.length)] as Point;
      const q = cShifted[state % c.length] as Point;
      return [p[0] + q[0], p[1] + q[1]] as const;
    }),
  );
}

/** Directed edges between states; state i·m + j stands for vertex i of `a` with vertex j of `c`. */
interface StateEdges {
  readonly from: number[];
  readonly to: number[];
}

function pairEdges(a: Ring, c: Ring): StateEdges {
  const n = a.length;
  const m = c.length;
  const edges: StateEdges = { from: [], to: [] };
  const { rankA, rankC, total } = rankDirections(a, c);
  const add = (start: number, end: number, forwards: boolean) => {
    edges.from.push(forwards ? start : end);
    edges.to.push(forwards ? end : start);
  };
  const byRankA = ownerByRank(rankA, total);
  const byRankC = ownerByRank(rankC, total);
  for (let j = 0; j < m; j++)
    forEachInTurn(c, j, rankC, byRankA, total, (i, forwards) =>
      add(i * m + j, ((i + 1) % n) * m + j, forwards),
    );
  for (let i = 0; i < n; i++)
    forEachInTurn(a, i, rankA, byRankC, total, (j, forwards) =>
      add(i * m + j, i * m + ((j + 1) % m), forwards),
    );
  return edges;
}

/** Positions of all edge directions in one order by angle; of parallel ones, those of `c` come first. */
function rankDirections(a: Ring, c: Ring) {
  const list: { x: number; y: number; edge: number; ofA: boolean }[] = [];
  for (const [ring, ofA] of [
    [a, true],
    [c, false],
  ] as const)
    ring.forEach(([x, y], edge) => {
      const next = ring[(edge + 1) % ring.length] as Point;
      list.push({ x: next[0] - x, y: next[1] - y, edge, ofA });
    });
  list.sort((p, q) => compareDirections(p.x, p.y, q.x, q.y) || Number(p.ofA) - Number(q.ofA));
  const rankA = new Int32Array(a.length);
  const rankC = new Int32Array(c.length);
  list.forEach(({ edge, ofA }, rank) => {
    (ofA ? rankA : rankC)[edge] = rank;
  });
  return { rankA, rankC, total: list.length };
}

/**
 * For every rank the edge of this ring that has it or is the next above: index into `edges`, which is sorted.
 */
function ownerByRank(rank: Int32Array, total: number) {
  const edges = Array.from(rank.keys()).sort((i, j) => (rank[i] as number) - (rank[j] as number));
  const firstAtOrAbove = new Int32Array(total + 1);
  let k = edges.length;
  for (let r = total; r >= 0; r--) {
    while (k > 0 && (rank[edges[k - 1] as number] as number) >= r) k--;
    firstAtOrAbove[r] = k;
  }
  return { edges, firstAtOrAbove };
}

/** Calls back for each edge of the other ring whose direction the turn at a vertex passes through. */
function forEachInTurn(
  ring: Ring,
  vertex: number,
  rank: Int32Array,
  others: { edges: number[]; firstAtOrAbove: Int32Array },
  total: number,
  found: (edge: number, forwards: boolean) => void,
): void {
  const n = ring.length;
  const before = ring[(vertex + n - 1) % n] as Point;
  const here = ring[vertex] as Point;
  const after = ring[(vertex + 1) % n] as Point;
  const come = rank[(vertex + n - 1) % n] as number;
  const leave = rank[vertex] as number;
  const sign = turn(here[0] - before[0], here[1] - before[1], after[0] - here[0], after[1] - here[1]);
  // Straight on (or back): either way round will do, as long as it does not run through the seam at 0°.
  const forwards = sign > 0 || (sign === 0 && come < leave);
  const start = forwards ? come : leave;
  const end = forwards ? leave : come;
  const { edges, firstAtOrAbove } = others;
  const run = (from: number, below: number) => {
    for (let k = firstAtOrAbove[from] as number; k < (firstAtOrAbove[below] as number); k++)
      found(edges[k] as number, forwards);
  };
  if (start < end) run(start + 1, end);
  else {
    run(start + 1, total);
    run(0, end);
  }
}

/** Closed walks that use every edge once; each state has as many edges in as out. */
function trace({ from, to }: StateEdges, columns: number): number[][] {
  if (columns === 0) return [];
  const first = new Map<number, number>();
  const next = new Int32Array(from.length);
  for (let e = 0; e < from.length; e++) {
    const state = from[e] as number;
    next[e] = first.get(state) ?? -1;
    first.set(state, e);
  }
  const cycles: number[][] = [];
  for (const start of first.keys()) {
    for (;;) {
      const cycle: number[] = [];
      let state = start;
      for (;;) {
        const edge = first.get(state) ?? -1;
        if (edge < 0) break;
        first.set(state, next[edge] as number);
        cycle.push(state);
        state = to[edge] as number;
      }
      if (cycle.length === 0) break;
      cycles.push(cycle);
    }
  }
  return cycles;
}
