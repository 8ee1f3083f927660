import type * as PdfEngine from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Box } from '../../../nesting/geometry/points.ts';
import { signedArea } from '../../../nesting/geometry/rings.ts';
import type { Point } from '../../../nesting/packing/types.ts';
import type { DrawingText } from '../drawing.ts';
import { flatten, type PointBudget, type Polyline } from '../flatten.ts';
import { READING_LIMITS } from '../limits.ts';
import { compose, type Matrix, meanScale } from '../matrix.ts';
import { Refusal } from '../refusal.ts';
import type { DrawnShape } from '../walk.ts';
import { boxOf, holds, isEmpty, mappedBox, meets, shared } from './clip.ts';
import { type Glyph, type Run, TextPen, textsOf } from './lettering.ts';
import { commandsOf, hullBox } from './packedPath.ts';
import { type PenStrip, penShapes } from './penShapes.ts';
import { penLines } from './strips.ts';

type Ops = (typeof PdfEngine)['OPS'];

/** What pdf.js makes of a page's content: codes of operators and what they apply to. */
export interface OperatorList {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly unknown[];
}

export interface PageSurroundings {
  readonly ops: Ops;
  /** Default user space to mm on the page, y up, from its lower left corner. */
  readonly matrix: Matrix;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Whether marked content with these properties is shown; its layer's id and name. */
  readonly layerOf: (properties: unknown) => { readonly id: string; readonly shown: boolean };
  readonly tolerance: number;
  readonly budget: Budget;
  /** Begins every id. */
  readonly prefix: string;
}

/** Counted over all pages. */
export interface Budget extends PointBudget {
  shapes: number;
  segments: number;
  texts: number;
  operators: number;
}

export interface PageContent {
  readonly shapes: readonly DrawnShape[];
  readonly texts: readonly DrawingText[];
  /** Lines left out because a clip or the page's edge hides them wholly. */
  readonly clippedAway: number;
  /** Lines read whole although a clip hides part of them. */
  readonly clippedInPart: number;
  /** Parts left out with the layer they are on, by its id. */
  readonly onHiddenLayers: ReadonlyMap<string, number>;
}

interface State {
  matrix: Matrix;
  lineWidth: number;
  stroke: string | null;
  fill: string | null;
  strokeSeen: boolean;
  fillSeen: boolean;
  dashed: boolean;
  clip: Box;
}

/** Rounding of 32-bit coordinates on a page. */
const SLACK_MM = 0.05;
const COVERS_PAGE_MM = 1;

/** Follows the operators of one page. Throws `Refusal` or `TooManyPoints` where a limit is passed. */
export function drawPage(list: OperatorList, around: PageSurroundings): PageContent {
  const drawer = new PageDrawer(around);
  drawer.follow(list);
  return drawer.content();
}

class PageDrawer {
  private readonly around: PageSurroundings;
  private readonly shapes: DrawnShape[] = [];
  private readonly strips: PenStrip[] = [];
  private readonly runs: Run[] = [];
  private readonly hiddenParts = new Map<string, number>();
  private readonly stack: State[] = [];
  private readonly text = new TextPen();
  /** Marked content around what is drawn now: layers, or null for other marks. */
  private readonly marks: ({ readonly id: string; readonly shown: boolean } | null)[] = [];
  private state: State;
  private clipPending = false;
  private groupBox: readonly number[] | null = null;
  private clippedAway = 0;
  private clippedInPart = 0;
  private count = 0;
  private readonly page: Box;

  constructor(around: PageSurroundings) {
    this.around = around;
    this.page = { minX: 0, minY: 0, maxX: around.widthMm, maxY: around.heightMm };
    this.state = {
      matrix: around.matrix,
      lineWidth: 1,
      stroke: '#000000',
      fill: '#000000',
      strokeSeen: true,
      fillSeen: true,
      dashed: false,
      clip: this.page,
    };
  }

  content(): PageContent {
    return {
      shapes: [...this.shapes, ...penShapes(this.strips, this.around.prefix, this.count)],
      texts: textsOf(this.runs),
      clippedAway: this.clippedAway,
      clippedInPart: this.clippedInPart,
      onHiddenLayers: this.hiddenParts,
    };
  }

  follow({ fnArray, argsArray }: OperatorList): void {
    const { ops } = this.around;
    /** Inside a soft mask's own drawing, which is not shown itself. */
    let masks = 0;
    for (let i = 0; i < fnArray.length; i++) {
      const fn = fnArray[i] as number;
      const args = (argsArray[i] ?? []) as readonly unknown[];
      if (fn === ops.beginGroup) {
        const group = args[0] as { readonly smask?: unknown; readonly bbox?: ArrayLike<number> | null };
        if (masks > 0 || group?.smask) masks += 1;
        this.groupBox = group?.bbox ? Array.from(group.bbox) : null;
        continue;
      }
      if (fn === ops.endGroup) {
        if (masks > 0) masks -= 1;
        continue;
      }
      if (masks > 0 && (fn === ops.constructPath || fn === ops.showText)) continue;
      this.one(fn, args, ops);
    }
  }

  private one(fn: number, args: readonly unknown[], ops: Ops): void {
    const { state, text } = this;
    const number = (i: number): number => (typeof args[i] === 'number' ? (args[i] as number) : 0);
    switch (fn) {
      case ops.save:
        this.save();
        break;
      case ops.restore:
        this.restore();
        break;
      case ops.transform:
        this.transform(args);
        break;
      case ops.paintFormXObjectBegin: {
        this.save();
        if (args[0]) this.transform(Array.from(args[0] as ArrayLike<number>));
        const box = args[1] ? Array.from(args[1] as ArrayLike<number>) : this.groupBox;
        this.groupBox = null;
        if (box) this.state.clip = shared(this.state.clip, mappedBox(box, this.state.matrix));
        break;
      }
      case ops.paintFormXObjectEnd:
        this.restore();
        break;
      case ops.setLineWidth:
        state.lineWidth = Math.abs(number(0));
        break;
      case ops.setDash:
        state.dashed = isDash(args[0]);
        break;
      case ops.setStrokeRGBColor:
        state.stroke = colourOf(args[0]);
        state.strokeSeen = true;
        break;
      case ops.setFillRGBColor:
        state.fill = colourOf(args[0]);
        state.fillSeen = true;
        break;
      case ops.setStrokeColorN:
        state.stroke = null;
        break;
      case ops.setFillColorN:
        state.fill = null;
        break;
      case ops.setStrokeTransparent:
        state.strokeSeen = false;
        break;
      case ops.setFillTransparent:
        state.fillSeen = false;
        break;
      case ops.setGState:
        this.setGraphics(args[0]);
        break;
      case ops.clip:
      case ops.eoClip:
        this.clipPending = true;
        break;
      case ops.constructPath:
        this.path(args, ops);
        break;
      case ops.beginMarkedContentProps:
        this.marks.push(args[0] === 'OC' ? this.around.layerOf(args[1]) : null);
        break;
      case ops.beginMarkedContent:
        this.marks.push(null);
        break;
      case ops.endMarkedContent:
        this.marks.pop();
        break;
      case ops.beginText:
        text.begin();
        break;
      case ops.setTextMatrix: {
        const matrix = Array.from((args[0] ?? []) as ArrayLike<number>);
        if (matrix.length === 6) text.set(matrix as unknown as Matrix);
        break;
      }
      case ops.moveText:
        text.move(number(0), number(1));
        break;
      case ops.setLeadingMoveText:
        text.leading = -number(1);
        text.move(number(0), number(1));
        break;
      case ops.nextLine:
        text.nextLine();
        break;
      case ops.setLeading:
        text.leading = number(0);
        break;
      case ops.setCharSpacing:
        text.charSpacing = number(0);
        break;
      case ops.setWordSpacing:
        text.wordSpacing = number(0);
        break;
      case ops.setHScale:
        text.stretch = number(0) / 100;
        break;
      case ops.setTextRise:
        text.rise = number(0);
        break;
      case ops.setTextRenderingMode:
        // 3 draws nothing (the words behind a scan), 7 only clips.
        text.invisible = number(0) === 3 || number(0) === 7;
        break;
      case ops.setFont:
        text.size = number(1);
        break;
      case ops.showText:
        this.write(args[0]);
        break;
      default:
        break;
    }
  }

  private save(): void {
    if (this.stack.length < 10_000) this.stack.push({ ...this.state });
  }

  private restore(): void {
    const before = this.stack.pop();
    if (before) this.state = before;
    this.clipPending = false;
  }

  private transform(args: readonly unknown[]): void {
    const numbers = args.slice(0, 6);
    if (numbers.length === 6 && numbers.every((value) => typeof value === 'number'))
      this.state.matrix = compose(this.state.matrix, numbers as unknown as Matrix);
  }

  private setGraphics(entries: unknown): void {
    if (!Array.isArray(entries)) return;
    for (const entry of entries) {
      if (!Array.isArray(entry)) continue;
      const [key, value] = entry as [unknown, unknown];
      if (key === 'LW' && typeof value === 'number') this.state.lineWidth = Math.abs(value);
      else if (key === 'D' && Array.isArray(value)) this.state.dashed = isDash(value[0]);
      else if (key === 'CA') this.state.strokeSeen = value !== 0;
      else if (key === 'ca') this.state.fillSeen = value !== 0;
    }
  }

  /** The innermost layer, and whether all around are shown. */
  private layer(): { id: string; shown: boolean } {
    let id = '';
    for (const mark of this.marks) {
      if (!mark) continue;
      id = mark.id;
      if (!mark.shown) return { id, shown: false };
    }
    return { id, shown: true };
  }

  private path(args: readonly unknown[], ops: Ops): void {
    const [painting, data] = args as [number, readonly (ArrayLike<number> | null)[]];
    const { state, around } = this;
    const { budget } = around;
    const clips = this.clipPending;
    this.clipPending = false;
    const packed = data?.[0] ?? null;
    if (!packed || packed.length === 0) {
      if (clips) state.clip = EMPTY;
      return;
    }
    if (!clips && this.liesOutside(packed)) {
      this.clippedAway += 1;
      return;
    }
    const commands = commandsOf(packed);
    budget.segments += commands.length;
    if (budget.segments > READING_LIMITS.segments) throw new Refusal(({ tooManyLines }) => tooManyLines);
    const layer = this.layer();
    const strokes =
      state.strokeSeen &&
      [
        ops.stroke,
        ops.closeStroke,
        ops.fillStroke,
        ops.eoFillStroke,
        ops.closeFillStroke,
        ops.closeEOFillStroke,
      ].includes(painting);
    const fills =
      state.fillSeen &&
      [
        ops.fill,
        ops.eoFill,
        ops.fillStroke,
        ops.eoFillStroke,
        ops.closeFillStroke,
        ops.closeEOFillStroke,
      ].includes(painting);
    if (!layer.shown && (strokes || fills)) {
      this.hiddenParts.set(layer.id, (this.hiddenParts.get(layer.id) ?? 0) + 1);
      if (!clips) return;
    }
    const polylines = flatten(commands, state.matrix, around.tolerance, budget).filter(({ points }) =>
      points.every(([x, y]) => Math.abs(x) < 1e9 && Math.abs(y) < 1e9),
    );
    if (layer.shown && (strokes || fills)) this.paint(polylines, strokes, fills, layer.id);
    if (clips) state.clip = shared(state.clip, boxOf(polylines.flatMap(({ points }) => points)));
  }

  /** A page of a tiled pattern often holds the whole drawing, of which it shows a small part. */
  private liesOutside(packed: ArrayLike<number>): boolean {
    const { matrix, clip, lineWidth } = this.state;
    if (isEmpty(clip)) return true;
    const box = hullBox(packed, matrix);
    return box !== null && !meets(box, clip, (lineWidth * meanScale(matrix)) / 2);
  }

  private paint(polylines: readonly Polyline[], strokes: boolean, fills: boolean, layer: string): void {
    const { state, around } = this;
    const strokeMm = strokes ? state.lineWidth * meanScale(state.matrix) : 0;
    const seen = polylines.filter((line) => this.isSeen(line, strokeMm));
    if (seen.length === 0) return;
    if (!strokes) {
      const rings = seen.map(({ points }) => withoutRepeat(points));
      if (this.isBackground(rings)) return;
      const lines = penLines(rings);
      if (lines) {
        for (const line of lines) this.strips.push({ line, layer, colour: state.fill });
        return;
      }
    }
    const before = this.shapes[this.shapes.length - 1];
    if (
      before &&
      strokes &&
      !fills &&
      before.strokeMm === 0 &&
      before.layer === layer &&
      isSame(before, seen)
    ) {
      // Filled first and stroked after: one shape, painted twice.
      this.shapes[this.shapes.length - 1] = {
        ...before,
        groupKey: `${layer} ${strokeMm.toFixed(3)}`,
        polylines: seen,
        strokeMm,
        strokeColour: state.stroke,
        dashed: state.dashed,
      };
      return;
    }
    around.budget.shapes += 1;
    if (around.budget.shapes > READING_LIMITS.shapes) throw new Refusal(({ tooManyLines }) => tooManyLines);
    this.count += 1;
    this.shapes.push({
      id: `${around.prefix}${this.count}`,
      elementId: '',
      label: '',
      groupLabel: '',
      groupKey: `${layer} ${strokeMm.toFixed(3)}`,
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

  private isSeen({ points }: Polyline, strokeMm: number): boolean {
    const { clip } = this.state;
    const box = boxOf(points);
    if (isEmpty(clip) || !meets(box, clip, strokeMm / 2)) {
      this.clippedAway += 1;
      return false;
    }
    if (!holds(clip, box, SLACK_MM)) this.clippedInPart += 1;
    return true;
  }

  /** A white sheet laid under everything by the program that wrote the page. */
  private isBackground(rings: readonly (readonly Point[])[]): boolean {
    if (rings.length !== 1 || this.state.fill?.toLowerCase() !== '#ffffff') return false;
    return holds(boxOf(rings[0] as readonly Point[]), this.page, COVERS_PAGE_MM);
  }

  private write(glyphs: unknown): void {
    if (!Array.isArray(glyphs)) return;
    const layer = this.layer();
    const run = this.text.write(glyphs as Glyph[], this.state.matrix, layer.id);
    if (!run || !layer.shown) return;
    const { clip } = this.state;
    if (isEmpty(clip) || !meets(boxOf([run.start, run.end]), clip, 0)) return;
    this.around.budget.texts += 1;
    if (this.around.budget.texts <= READING_LIMITS.texts) this.runs.push(run);
  }
}

const EMPTY: Box = { minX: 1, minY: 1, maxX: 0, maxY: 0 };

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

const isDash = (array: unknown): boolean =>
  Array.isArray(array) && array.some((length) => typeof length === 'number' && length > 0);

const colourOf = (value: unknown): string | null =>
  typeof value === 'string' && /^#[0-9a-f]{6}$/i.test(value) ? value.toLowerCase() : null;
