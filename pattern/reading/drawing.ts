import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { SheetLayout } from '../pages/layout.ts';

/**
 * What reading a drawing gives. All lengths are millimetres on the page, x to the right, y up, the origin in the
 * page's lower left corner. Rings run counter-clockwise, first vertex not repeated.
 */

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** What was done to an outline before it could be cut along. */
export interface Mending {
  readonly kind: 'crossing mended' | 'halves joined' | 'gap closed' | 'fill closed';
  /** One sentence for the maker. */
  readonly text: string;
}

/** A closed line of the drawing: a cut line, a sew line, a hole, a webbing … the maker says which. */
export interface DrawingOutline {
  /** Stable for one file, unique in it, made from the ids of the elements (clones carry their `use` in it). */
  readonly id: string;
  /** Id of the element, '' if it has none. */
  readonly elementId: string;
  /** What the draughtsman called it (label or title of the element or the group around it), '' if nothing. */
  readonly label: string;
  /** The best name we can offer: label, text inside, text beside, a telling id, else size. */
  readonly suggestedName: string;
  readonly shape: 'rect' | 'circle' | 'ellipse' | 'polygon' | 'polyline' | 'path' | 'lines';
  readonly ring: Outline;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly areaMm2: number;
  readonly box: Box;
  /** Width of the drawn line, 0 if there is none. Drawn true-size squares often measure to its outer edge. */
  readonly strokeMm: number;
  /** Size to the outer edge of the drawn line: width and height plus `strokeMm`. */
  readonly outerWidthMm: number;
  readonly outerHeightMm: number;
  readonly strokeColour: string | null;
  readonly fillColour: string | null;
  readonly dashed: boolean;
  /** Drawn by a `use` clone. */
  readonly clone: boolean;
  /** Id of the smallest outline this one lies in, null at the top. */
  readonly parent: string | null;
  /** 0 at the top, 1 inside one outline … */
  readonly depth: number;
  readonly onPage: 'inside' | 'partly' | 'outside';
  /** Text inside, that of inner outlines too if none directly inside can name it; at most `READING_LIMITS.textsPerOutline`. */
  readonly textInside: readonly string[];
  /** Text just beside it that lies in no outline of its own. */
  readonly textBeside: readonly string[];
  readonly mending: Mending | null;
  /** Layer it is drawn on, in files that have layers. */
  readonly layer?: string;
  /** Number of the page it stands on, from 1, in files that have pages. */
  readonly pageNumber?: number;
}

/** A line that does not close: a slit, a fold line, a grain arrow, a measure line. */
export interface DrawingLine {
  readonly id: string;
  readonly elementId: string;
  readonly label: string;
  readonly points: readonly Point[];
  readonly lengthMm: number;
  readonly box: Box;
  readonly strokeMm: number;
  readonly strokeColour: string | null;
  readonly dashed: boolean;
  /** Id of the smallest outline it lies in wholly, or null. */
  readonly parent: string | null;
  /** Ends that the file draws with an arrow head of its own making, besides what else is drawn there. */
  readonly markers?: { readonly start: boolean; readonly end: boolean };
  readonly layer?: string;
  readonly pageNumber?: number;
}

/** A single point that was drawn: a notch, a drill hole, a corner marked as such. */
export interface DrawingPoint {
  readonly id: string;
  readonly at: Point;
  readonly layer: string;
}

export interface DrawingText {
  readonly elementId: string;
  /** Its lines joined by a line break; never empty. */
  readonly text: string;
  /** Where the first line starts (or its middle or end, see `anchor`). */
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Height of the letters (font size). */
  readonly sizeMm: number;
  /** Rough box of the lettering: no font is at hand. */
  readonly box: Box;
  readonly layer?: string;
  readonly pageNumber?: number;
}

/** A layer of the file: in patterns often a size or a kind of line. */
export interface DrawingLayer {
  /** What to hand back to choose it. */
  readonly id: string;
  readonly name: string;
  /** Shown when the file is opened by itself. */
  readonly shownByFile: boolean;
  /** Read this time. What is not read is left out of the drawing altogether. */
  readonly read: boolean;
}

/** A page of the file, or a piece that stands by itself in it; several are set side by side in one drawing. */
export interface DrawingPage {
  /** From 1. */
  readonly number: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Where its lower left corner was put in the drawing. */
  readonly at: Point;
  readonly outlines: number;
  readonly openLines: number;
  readonly texts: number;
  /** It holds no lines to read: a scan, a photo, text alone, or nothing. */
  readonly content: 'lines' | 'text' | 'picture' | 'empty';
}

/** How the pages of a PDF were put together to one drawing. */
export interface AssembledSheets {
  /** In mm of the file, whatever factor it was read with. */
  readonly layout: SheetLayout;
  readonly sheets: number;
  /** Lines that go on across a border, and ends at one that meet nothing. */
  readonly met: number;
  readonly loose: number;
  /** The widest gap between two ends that were brought together. */
  readonly widestGapMm: number;
  /** Lines over a border that were taken from one page which holds the whole of them. */
  readonly whole: number;
}

/** A unit the numbers of the file may have been meant in, if it does not say. */
export interface UnitGuess {
  readonly unit: 'mm' | 'cm' | 'm' | 'in';
  /** Hand this to `scaleReading`. */
  readonly factor: number;
  readonly likely: boolean;
}

/** What the file itself says about a piece; the maker has the last word. */
export interface PieceProposal {
  /** Id of the outline to cut along. */
  readonly outlineId: string;
  readonly name: string;
  readonly size: string | null;
  readonly quantity: number | null;
  /** Mirror images besides. */
  readonly mirroredQuantity: number;
  readonly material: string | null;
  /** Everything written on it, as in the file. */
  readonly notes: readonly string[];
  readonly grainLineId: string | null;
  /** Direction of the grain line, 0 ≤ … < 180, counter-clockwise from x. */
  readonly grainDeg: number | null;
  /** The line it is mirrored at. */
  readonly mirrorLineId: string | null;
  /** Index of the edge of the outline's ring that lies on the mirror line: the edge to lay on a fold. */
  readonly foldEdge: number | null;
  /** Ids of outlines and open lines. */
  readonly sewLineIds: readonly string[];
  readonly holeIds: readonly string[];
  readonly internalIds: readonly string[];
  /** Lines that stripes or a plaid are matched at. */
  readonly stripeIds: readonly string[];
  readonly notches: readonly Point[];
  readonly drillHoles: readonly Point[];
}

/** A closed line that could not be used, and why. */
export interface RefusedOutline {
  readonly id: string;
  readonly elementId: string;
  readonly label: string;
  readonly text: string;
}

/** A true size the file may have been meant for, if it does not say. */
export interface ScaleGuess {
  readonly dpi: 90 | 72;
  /** Hand this to `scaleReading`. */
  readonly factor: number;
  /** The file itself hints at it (the program that wrote it drew at so many dots per inch). */
  readonly likely: boolean;
}

export interface DrawingScale {
  /** The file states its physical size (mm, cm, in, pt, pc, Q) on the page. */
  readonly known: boolean;
  /**
   * `pixels`: px, or numbers without unit, or no size at all; read as 96 to the inch.
   * `units`: numbers of a DXF that names no unit; read as `unitGuesses` says is likely, else as mm.
   */
  readonly basis: 'physical' | 'pixels' | 'units';
  /** What the user's correction multiplied everything by: 1 as read. */
  readonly factor: number;
  /** mm per unit of the drawing's outermost coordinates, along x and y, with `factor` in it. */
  readonly mmPerUnitX: number;
  readonly mmPerUnitY: number;
  /** Why the size may be wrong, in one or two sentences; null if there is no doubt (or it was corrected). */
  readonly doubt: string | null;
  readonly guesses: readonly ScaleGuess[];
  /** Other units a DXF may have been drawn in; missing or empty if it names its own. */
  readonly unitGuesses?: readonly UnitGuess[];
}

/** Something the maker should know about what was read. `text` is a plain sentence. */
export interface ReadingWarning {
  readonly code:
    | 'hidden'
    | 'invisible'
    | 'script'
    | 'external'
    | 'picture'
    | 'clip'
    | 'entities'
    | 'bad-path'
    | 'bad-number'
    | 'bad-transform'
    | 'clone-cycle'
    | 'clone-missing'
    | 'tiny'
    | 'crossing'
    | 'refused'
    | 'open'
    | 'off-page'
    | 'uneven-scale'
    | 'not-understood'
    | 'limit'
    | 'no-outlines'
    | 'layer'
    | 'pages'
    | 'approximated';
  readonly text: string;
}

export interface ReadDrawing {
  readonly ok: true;
  readonly fileName: string;
  readonly page: { readonly widthMm: number; readonly heightMm: number };
  readonly scale: DrawingScale;
  readonly outlines: readonly DrawingOutline[];
  readonly openLines: readonly DrawingLine[];
  readonly texts: readonly DrawingText[];
  readonly refused: readonly RefusedOutline[];
  readonly warnings: readonly ReadingWarning[];
  /**
   * The file itself, kept so that a corrected scale flattens curves as finely as the first reading did. Empty for PDF,
   * whose bytes are too many to keep: it is flattened finely enough to be scaled as it is.
   */
  readonly source: string;
  /** SVG where it is missing. */
  readonly format?: 'svg' | 'dxf' | 'pdf';
  /** Layers of a DXF or PDF, in the file's order. */
  readonly layers?: readonly DrawingLayer[];
  /** Pages of a PDF, or pieces of a DXF that lie on one another in the file and were set apart. */
  readonly pages?: readonly DrawingPage[];
  /** The pages were put together as sheets of one drawing; `pages` is empty then. */
  readonly sheets?: AssembledSheets;
  readonly points?: readonly DrawingPoint[];
  /** Pieces as the file itself describes them. */
  readonly proposals?: readonly PieceProposal[];
}

/** The file cannot be read at all; `message` is one sentence for the maker. */
export interface UnreadDrawing {
  readonly ok: false;
  readonly fileName: string;
  readonly message: string;
  /** It can be read with its password, or with another than was given. */
  readonly locked?: true;
}

export type Reading = ReadDrawing | UnreadDrawing;
export type SvgReading = Reading;
