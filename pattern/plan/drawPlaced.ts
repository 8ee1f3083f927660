import type { Placed, Segment } from '../exchange/project.ts';
import { clipEdges, clipRing, clipSegment } from './clipToBand.ts';
import type { DrawingItem, DrawnPoint, GroupItem } from './drawing.ts';
import { hatchLines } from './hatch.ts';
import { bounds, type Ring, turned } from './intervals.ts';
import { moved } from './moved.ts';
import { fitLabel, LAST_TIER, type LabelFit, type LabelWords, setLabel } from './pieceLabel.ts';
import { grainLine, topMark } from './pieceMarks.ts';
import type { SmallPiece } from './tags.ts';
import { HATCHES, type Role, TEXT } from './tokens.ts';
import type { Hand } from './words/index.ts';

const PIECE_FILLS: Readonly<Record<Hand, Role>> = {
  plain: 'piece-plain',
  mirrored: 'piece-mirrored',
  pair: 'piece-pair',
  fold: 'piece-fold',
  either: 'piece-either',
};

const PIECE_HATCHES = { mirrored: HATCHES.mirrored, pair: HATCHES.pair, fold: HATCHES.fold } as const;

/** Hatch and fill of a hand, for a piece and for the key of signs. */
export function handFill(hand: Hand, rings: readonly Ring[], keepOut: readonly Ring[]): DrawingItem[] {
  const items: DrawingItem[] = [{ kind: 'path', role: PIECE_FILLS[hand], lines: rings, closed: true }];
  if (hand === 'mirrored' || hand === 'pair' || hand === 'fold') {
    const hatch = PIECE_HATCHES[hand];
    const lines = hatchLines(rings, hatch, keepOut);
    if (lines.length > 0) items.push({ kind: 'path', role: hatch.role, lines, closed: false });
  }
  return items;
}

/** From the segment's axes (y up) to the page. */
export type ToPage = (point: readonly [number, number]) => DrawnPoint;

export interface PlacedDrawing {
  readonly group: GroupItem;
  /** What the label takes, as a box; missing if nothing fitted. */
  readonly labelBox?: Ring;
  /** Where a tag may stand for a piece in which nothing fitted; missing if it bears its label. */
  readonly unlabelled?: SmallPiece;
}

/** A point counts as on the fold at y = 0 to this, mm: the engine's own tolerance is far below. */
const ON_FOLD_MM = 0.05;
/**
 * Labels tried in turn until grain line and top mark have room beside one: the largest font size, and the tier of
 * words to begin with (2: without the size, which the table gives too).
 */
const LABEL_TRIES = [
  [TEXT.most, 0],
  [3.6, 0],
  [2.8, 0],
  [2.4, 0],
  [TEXT.least, 0],
  [2.6, 2],
  [TEXT.least, 2],
] as const;
/** Where a tag stands alone. */
const TAG_MOST_MM = 4.2;
/** Tiers that name the piece; only among these is a shorter label taken for the sake of the grain line. */
const NAMING_TIERS = 2;
const ON_PAGE_EDGE_MM = 0.01;

/** What was found for one copy, about its own origin, for the next copy that lies the same way. */
interface Inside {
  readonly fit: LabelFit | null;
  readonly marks: readonly DrawingItem[];
}

export interface PlacedContext {
  readonly segment: number;
  readonly toPage: ToPage;
  /** Where the stretch is folded. */
  readonly folds: readonly FoldLine[];
  /** The row's ends on the page. */
  readonly fromX: number;
  readonly toX: number;
  /** One for all pieces that are drawn in the same scale. */
  readonly known: PlacedMemory;
  /** Nothing but the tag, as large as it may be. */
  readonly tagsOnly?: boolean;
}

/** What has been found for the pieces of one drawing so far. */
export type PlacedMemory = Map<string, Inside>;

/**
 * One placed piece as far as it lies between `fromX` and `toX` on the page: fill and hatch of its hand, its
 * edges, label, top mark and grain line. `null` if nothing of it lies there.
 */
export function drawPlaced(
  placed: Placed,
  words: LabelWords,
  title: string,
  context: PlacedContext,
): PlacedDrawing | null {
  const { fromX, toX, toPage } = context;
  const whole = [placed.outline, ...placed.holes].map((ring) => ring.map(toPage));
  const box = bounds(whole[0] as Ring);
  if (box.maxX <= fromX + ON_PAGE_EDGE_MM || box.minX >= toX - ON_PAGE_EDGE_MM) return null;
  const cut = box.minX < fromX - ON_PAGE_EDGE_MM || box.maxX > toX + ON_PAGE_EDGE_MM;
  const rings = cut
    ? whole.map((ring) => clipRing(ring, fromX, toX)).filter((ring) => ring.length > 0)
    : whole;
  if (rings.length === 0) return null;

  const inside = context.tagsOnly
    ? { fit: fitLabel(rings, words, TAG_MOST_MM, LAST_TIER), marks: [] }
    : cut
      ? insideOf(rings, placed, words, hasTop(rings[0] as Ring, whole[0] as Ring, placed))
      : remembered(rings, placed, words, context);
  const label = inside.fit && setLabel(words, inside.fit);
  const items: DrawingItem[] = handFill(placed.hand, rings, label?.lineBoxes ?? []);
  if (words.held) {
    const lines = hatchLines(rings, HATCHES.held, label?.lineBoxes ?? []);
    if (lines.length > 0) items.push({ kind: 'path', role: 'held-hatch', lines, closed: false });
  }
  items.push(
    cut
      ? {
          kind: 'path',
          role: 'piece-edge',
          lines: whole.flatMap((ring) => clipEdges(ring, fromX, toX)),
          closed: false,
        }
      : { kind: 'path', role: 'piece-edge', lines: rings, closed: true },
  );
  if (placed.hand === 'fold') {
    const lines = foldEdges(placed, context.folds).flatMap(([a, b]) => {
      const part = clipSegment(toPage(a), toPage(b), fromX, toX);
      return part ? [part] : [];
    });
    if (lines.length > 0) items.push({ kind: 'path', role: 'fold-edge', lines, closed: false });
  }
  items.push(...inside.marks, ...(label?.items ?? []));
  const group: GroupItem = {
    kind: 'group',
    role: 'piece',
    title,
    data: {
      pieceId: placed.pieceId,
      copy: String(placed.copy),
      hand: placed.hand,
      segment: String(context.segment),
    },
    items,
  };
  return label ? { group, labelBox: label.box } : { group, unlabelled: { tag: words.tag, rings } };
}

/** Label, top mark and grain line of a piece that is all there; copies that lie alike get the same. */
function remembered(
  rings: readonly Ring[],
  placed: Placed,
  words: LabelWords,
  { known, toPage }: PlacedContext,
): Inside {
  const key = [
    placed.pieceId,
    placed.hand,
    placed.rotation,
    placed.mirrored,
    placed.grainDeg,
    placed.topDeg,
    words.tag.length,
    words.copy.length,
    words.handShort,
  ].join(' ');
  const [x, y] = toPage(placed.outline[0] as readonly [number, number]);
  let inside = known.get(key);
  if (!inside) {
    inside = shifted(insideOf(rings, placed, words, true), -x, -y);
    known.set(key, inside);
  }
  return shifted(inside, x, y);
}

function shifted({ fit, marks }: Inside, dx: number, dy: number): Inside {
  return {
    fit: fit && { ...fit, x: fit.x + dx, y: fit.y + dy },
    marks: marks.map((item) => moved(item, dx, dy)),
  };
}

/** Whether the piece's top is in this part of it. */
function hasTop(part: Ring, whole: Ring, placed: Placed): boolean {
  const height = (ring: Ring) => -bounds(turned(ring, placed.topDeg - 90)).minY;
  return height(part) > height(whole) - ON_PAGE_EDGE_MM;
}

function insideOf(rings: readonly Ring[], placed: Placed, words: LabelWords, marksTop: boolean): Inside {
  let best: { fit: LabelFit; marks: DrawingItem[] } | null = null;
  for (const [most, fromTier] of LABEL_TRIES) {
    if (best && fromTier > 0 && best.fit.tier >= fromTier) break;
    const fit = fitLabel(rings, words, most, fromTier);
    // Where no word has room a mark would only hide the piece, and beside a mere tag it would crowd it.
    if (!fit) return { fit: null, marks: [] };
    if (fit.tier === LAST_TIER) return best ?? { fit, marks: [] };
    const taken = [setLabel(words, fit).box];
    const top = marksTop ? topMark(rings, -placed.topDeg, taken, words.top) : null;
    if (top) taken.push(top.box);
    const grain = grainLine(rings, -placed.grainDeg, taken);
    const found = { fit, marks: [...(grain ? [grain] : []), ...(top?.items ?? [])] };
    const shorter = best !== null && fit.tier > Math.max(best.fit.tier, NAMING_TIERS);
    if (grain && (top || !marksTop) && !shorter) return found;
    if (!best || (fit.tier <= best.fit.tier && found.marks.length > best.marks.length)) best = found;
  }
  return best ?? { fit: null, marks: [] };
}

/** A line on which a stretch is folded, in the segment's axes. */
export interface FoldLine {
  readonly axis: 'x' | 'y';
  readonly at: number;
}

/** Where a stretch is folded. */
export function foldsOf({ spread, widthMm, lengthMm }: Segment): readonly FoldLine[] {
  switch (spread) {
    case 'folded':
    case 'sequence':
    case 'partial':
      return [{ axis: 'y', at: 0 }];
    case 'middle':
      return [
        { axis: 'y', at: 0 },
        { axis: 'y', at: widthMm },
      ];
    case 'crosswise':
      return [{ axis: 'x', at: lengthMm }];
    default:
      return [];
  }
}

/** Edges of a piece that lie on a fold, in the segment's axes. */
function foldEdges(
  { outline }: Placed,
  folds: readonly FoldLine[],
): [readonly [number, number], readonly [number, number]][] {
  const isOn = ([x, y]: readonly [number, number], { axis, at }: FoldLine): boolean =>
    Math.abs((axis === 'x' ? x : y) - at) < ON_FOLD_MM;
  return outline.flatMap((a, i): [readonly [number, number], readonly [number, number]][] => {
    const b = outline[(i + 1) % outline.length] as readonly [number, number];
    return folds.some((fold) => isOn(a, fold) && isOn(b, fold)) ? [[a, b]] : [];
  });
}
