import type * as PdfEngine from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Box } from '../../../nesting/geometry/points.ts';
import type { DrawingText } from '../drawing.ts';
import { flatten } from '../flatten.ts';
import { READING_LIMITS } from '../limits.ts';
import { compose, type Matrix } from '../matrix.ts';
import type { DrawnShape } from '../walk.ts';
import { type Budget, spend } from './budget.ts';
import { boxOf, isEmpty, mappedBox, meets, shared } from './clip.ts';
import { colourOf, firstState, type GraphicsState, isDash, setEntries } from './graphicsState.ts';
import { type Glyph, type Run, TextPen, textsOf } from './lettering.ts';
import { commandsOf } from './packedPath.ts';
import { Painter } from './painter.ts';

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

/** Follows the operators of one page. Throws `Refusal` or `TooManyPoints` where a limit is passed. */
export function drawPage(list: OperatorList, around: PageSurroundings): PageContent {
  const drawer = new PageDrawer(around);
  drawer.follow(list);
  return drawer.content();
}

class PageDrawer {
  private readonly around: PageSurroundings;
  private readonly painter: Painter;
  private readonly runs: Run[] = [];
  private readonly hiddenParts = new Map<string, number>();
  private readonly stack: GraphicsState[] = [];
  private readonly text = new TextPen();
  /** Marked content around what is drawn now: layers, or null for other marks. */
  private readonly marks: ({ readonly id: string; readonly shown: boolean } | null)[] = [];
  private state: GraphicsState;
  private clipPending = false;
  private groupBox: readonly number[] | null = null;

  constructor(around: PageSurroundings) {
    this.around = around;
    const page = { minX: 0, minY: 0, maxX: around.widthMm, maxY: around.heightMm };
    this.painter = new Painter(page, around.prefix, around.budget);
    this.state = firstState(around.matrix, page);
  }

  content(): PageContent {
    return {
      shapes: this.painter.shapes,
      texts: textsOf(this.runs),
      clippedAway: this.painter.clippedAway,
      clippedInPart: this.painter.clippedInPart,
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
        setEntries(state, args[0]);
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
    if (!clips && this.painter.hides(packed, state)) return;
    const commands = commandsOf(packed);
    spend(budget, 'segments', commands.length);
    const layer = this.layer();
    const strokes = state.strokeSeen && strokings(ops).includes(painting);
    const fills = state.fillSeen && fillings(ops).includes(painting);
    if (!layer.shown && (strokes || fills)) {
      this.hiddenParts.set(layer.id, (this.hiddenParts.get(layer.id) ?? 0) + 1);
      if (!clips) return;
    }
    const polylines = flatten(commands, state.matrix, around.tolerance, budget).filter(({ points }) =>
      points.every(([x, y]) => Math.abs(x) < 1e9 && Math.abs(y) < 1e9),
    );
    if (layer.shown && (strokes || fills))
      this.painter.paint(polylines, state, { strokes, fills, layer: layer.id });
    if (clips) state.clip = shared(state.clip, boxOf(polylines.flatMap(({ points }) => points)));
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

/** The operators that paint along a path. */
const strokings = (ops: Ops): number[] => [ops.stroke, ops.closeStroke, ...bothWays(ops)];

/** The operators that paint within a path. */
const fillings = (ops: Ops): number[] => [ops.fill, ops.eoFill, ...bothWays(ops)];

const bothWays = (ops: Ops): number[] => [
  ops.fillStroke,
  ops.eoFillStroke,
  ops.closeFillStroke,
  ops.closeEOFillStroke,
];
