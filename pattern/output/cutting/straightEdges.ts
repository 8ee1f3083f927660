import type { Outline } from '../../../nesting/packing/types.ts';

/** An edge of a piece that runs straight across the cloth (`axis` x: at one place along it) or straight along it. */
export interface StraightEdge {
  readonly axis: 'x' | 'y';
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

/** An edge that strays less than this from its line is cut along a ruler, mm. */
const STRAIGHT_MM = 0.3;
/** A ruler isn't laid on for less, mm; of a small piece not for less than a part of its side. */
const LEAST_EDGE_MM = 20;
const LEAST_SHARE = 0.4;

/** The edges of an outline that a ruler is laid along. Edges in one line that follow each other are one. */
export function straightEdges(outline: Outline): StraightEdge[] {
  const found: StraightEdge[] = [];
  for (const axis of ['x', 'y'] as const) {
    const at = (point: readonly [number, number]) => (axis === 'x' ? point[0] : point[1]);
    const along = (point: readonly [number, number]) => (axis === 'x' ? point[1] : point[0]);
    const side = extent(outline.map(along));
    const least = Math.min(LEAST_EDGE_MM, side * LEAST_SHARE);
    const lines: { at: number; from: number; to: number }[] = [];
    outline.forEach((a, i) => {
      const b = outline[(i + 1) % outline.length] as readonly [number, number];
      if (Math.abs(at(a) - at(b)) > STRAIGHT_MM) return;
      const [from, to] = along(a) < along(b) ? [along(a), along(b)] : [along(b), along(a)];
      if (to - from < STRAIGHT_MM) return;
      const middle = (at(a) + at(b)) / 2;
      const joined = lines.find(
        (line) =>
          Math.abs(line.at - middle) <= STRAIGHT_MM &&
          from <= line.to + STRAIGHT_MM &&
          to >= line.from - STRAIGHT_MM,
      );
      if (joined) {
        joined.from = Math.min(joined.from, from);
        joined.to = Math.max(joined.to, to);
      } else lines.push({ at: middle, from, to });
    });
    for (const line of lines) if (line.to - line.from >= least) found.push({ axis, ...line });
  }
  return found;
}

function extent(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
