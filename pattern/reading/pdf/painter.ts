import type { Box } from '../../../nesting/geometry/points.ts';
import { signedArea } from '../../../nesting/geometry/rings.ts';
import type { Point } from '../../../nesting/packing/types.ts';
import type { Polyline } from '../flatten.ts';
import { meanScale } from '../matrix.ts';
import type { DrawnShape } from '../walk.ts';
import { type Budget, spend } from './budget.ts';
import { boxOf, holds, isEmpty, meets } from './clip.ts';
import type { GraphicsState } from './graphicsState.ts';
import { hullBox } from './packedPath.ts';
import { type PenStrip, penShapes } from './penShapes.ts';
import { penLines } from './strips.ts';

/** Rounding of 32-bit coordinates on a page. */
const SLACK_MM = 0.05;
/** How far a sheet under everything may stay within the edge of the page. */
const COVERS_PAGE_MM = 1;

/** How a path is painted, and the layer it is on. */
export interface Painting {
  readonly strokes: boolean;
  readonly fills: boolean;
  readonly layer: string;
}

/** Keeps what is painted on a page, and counts what its clips hide. */
export class Painter {
  /** Lines left out because a clip or the page's edge hides them wholly. */
  clippedAway = 0;
  /** Lines taken whole although a clip hides part of them. */
  clippedInPart = 0;
  private readonly page: Box;
  private readonly prefix: string;
  private readonly budget: Budget;
  private readonly painted: DrawnShape[] = [];
  private readonly strips: PenStrip[] = [];
  private count = 0;
  private groupKey = '';

  /** @param prefix begins every id */
  constructor(page: Box, prefix: string, budget: Budget) {
    this.page = page;
    this.prefix = prefix;
    this.budget = budget;
  }

  /** All shapes so far, in the order they were painted; those put together from strips last. */
  get shapes(): DrawnShape[] {
    return [...this.painted, ...penShapes(this.strips, this.prefix, this.count)];
  }

  /**
   * Whether a path lies wholly outside what is shown, before it is worked through: a page of a tiled pattern often
   * holds the whole drawing, of which it shows a small part.
   */
  hides(packed: ArrayLike<number>, { matrix, clip, lineWidth }: GraphicsState): boolean {
    const box = isEmpty(clip) ? null : hullBox(packed, matrix);
    const hidden = isEmpty(clip) || (box !== null && !meets(box, clip, (lineWidth * meanScale(matrix)) / 2));
    if (hidden) this.clippedAway += 1;
    return hidden;
  }

  /** Takes what is seen of a painted path: as lines where a fill stands for them, or as a shape. */
  paint(polylines: readonly Polyline[], state: GraphicsState, { strokes, fills, layer }: Painting): void {
    const strokeMm = strokes ? state.lineWidth * meanScale(state.matrix) : 0;
    // A copy without room to grow, as there may be a hundred thousand single strokes.
    const seen = polylines.filter((line) => this.isSeen(line, state.clip, strokeMm)).slice();
    if (seen.length === 0) return;
    if (!strokes) {
      const rings = seen.map(({ points }) => withoutRepeat(points));
      if (this.isBackground(rings, state.fill)) return;
      const lines = penLines(rings);
      if (lines) {
        for (const line of lines) this.strips.push({ line, layer, colour: state.fill });
        return;
      }
    }
    const before = this.painted[this.painted.length - 1];
    if (
      before &&
      strokes &&
      !fills &&
      before.strokeMm === 0 &&
      before.layer === layer &&
      isSame(before, seen)
    ) {
      // Filled first and stroked after: one shape, painted twice.
      this.painted[this.painted.length - 1] = {
        ...before,
        groupKey: this.groupKeyOf(layer, strokeMm),
        polylines: seen,
        strokeMm,
        strokeColour: state.stroke,
        dashed: state.dashed,
      };
      return;
    }
    spend(this.budget, 'shapes', 1);
    this.count += 1;
    this.painted.push({
      id: `${this.prefix}${this.count}`,
      elementId: '',
      label: '',
      groupLabel: '',
      groupKey: this.groupKeyOf(layer, strokeMm),
      shape: 'path',
      polylines: seen,
      strokeMm,
      strokeColour: strokes ? state.stroke : null,
      fillColour: fills ? state.fill : null,
      dashed: strokes && state.dashed,
      filled: fills,
      clone: false,
      layer,
    });
  }

  /** Lines of one layer and width are drawn alike; the same text for all of them, as there may be very many. */
  private groupKeyOf(layer: string, strokeMm: number): string {
    const key = `${layer} ${strokeMm.toFixed(3)}`;
    if (key !== this.groupKey) this.groupKey = key;
    return this.groupKey;
  }

  private isSeen({ points }: Polyline, clip: Box, strokeMm: number): boolean {
    const box = boxOf(points);
    if (isEmpty(clip) || !meets(box, clip, strokeMm / 2)) {
      this.clippedAway += 1;
      return false;
    }
    if (!holds(clip, box, SLACK_MM)) this.clippedInPart += 1;
    return true;
  }

  /** A white sheet laid under everything by the program that wrote the page. */
  private isBackground(rings: readonly (readonly Point[])[], fill: string | null): boolean {
    if (rings.length !== 1 || fill !== '#ffffff') return false;
    return holds(boxOf(rings[0] as readonly Point[]), this.page, COVERS_PAGE_MM);
  }
}

const withoutRepeat = (points: readonly Point[]): readonly Point[] => {
  const first = points[0];
  const last = points[points.length - 1];
  const same =
    first && last && points.length > 1 && Math.hypot(first[0] - last[0], first[1] - last[1]) < 1e-3;
  return same ? points.slice(0, -1) : points;
};

/** Coordinates of a shape painted twice differ by rounding alone; it may begin at another corner. */
const SAME_MM = 0.05;

const isSame = (before: DrawnShape, polylines: readonly Polyline[]): boolean =>
  before.filled &&
  before.strokeColour === null &&
  before.polylines.length === polylines.length &&
  before.polylines.every((line, i) => {
    const other = polylines[i] as Polyline;
    const [p, q] = [boxOf(line.points), boxOf(other.points)];
    return (
      holds(p, q, SAME_MM) &&
      holds(q, p, SAME_MM) &&
      Math.abs(Math.abs(signedArea(line.points)) - Math.abs(signedArea(other.points))) <=
        2 * SAME_MM * (p.maxX - p.minX + p.maxY - p.minY)
    );
  });
