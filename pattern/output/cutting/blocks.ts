import type { Outline } from '../../../nesting/packing/types.ts';
import type { Placed } from '../../exchange/project.ts';
import { type Bounds, bounds } from '../../plan/intervals.ts';
import { type StraightEdge, straightEdges } from './straightEdges.ts';

/** Straight cuts through everything that lies side by side (guillotine cuts), found from the pieces' places alone. */

/** A placed piece on its stretch: x along from the cut end, y across from the edge that is measured from, mm. */
export interface CutPiece {
  readonly tag: string;
  /** Tells it from every other placement of the lay, see `placementKey`. */
  readonly key: string;
  readonly pieceId: string;
  readonly hand: Placed['hand'];
  /** Cut later: its place is kept whole. */
  readonly held: boolean;
  readonly outline: Outline;
}

/** A ruler's line through a block. */
export interface CutLine {
  readonly at: number;
  /** Where the block begins and ends along the line. */
  readonly from: number;
  readonly to: number;
  /** Tags of the pieces with an edge on it; none: it only parts them, anywhere between. */
  readonly edges: readonly string[];
  /** It is the fold that is cut open, because no half piece lies on it there. */
  readonly fold?: boolean;
}

/** What comes of a straight cut, from its beginning on: a finished piece, or a block that is cut further. */
export type Part =
  | { readonly kind: 'piece'; readonly tag: string; readonly held: boolean }
  | { readonly kind: 'block'; readonly number: number };

export type BlockCut =
  | {
      readonly kind: 'straight';
      /** 0: the cloth itself. */
      readonly block: number;
      /** What lies in the block, in order along the cloth. */
      readonly inside: readonly string[];
      /** The ruler lies across the cloth, from selvedge to selvedge, and `at` is along it. */
      readonly across: boolean;
      /** Where measuring begins: the block's own edge, as it is once it lies apart. */
      readonly startMm: number;
      readonly lines: readonly CutLine[];
      readonly parts: readonly Part[];
    }
  | {
      readonly kind: 'outline';
      readonly block: number;
      readonly tags: readonly string[];
      /** Ruler lines that two or more of these share. */
      readonly shared: readonly SharedLine[];
    };

export interface SharedLine {
  readonly across: boolean;
  readonly at: number;
  readonly tags: readonly string[];
}

/** Lines closer than this are one cut, mm: chalk is no finer. */
const SAME_CUT_MM = 0.5;

interface Known extends CutPiece {
  readonly box: Bounds;
  readonly edges: readonly StraightEdge[];
  readonly isRectangle: boolean;
}

/** Whether the edges at `minY` and `maxY` are folds. */
interface Folds {
  readonly onFold: boolean;
  readonly onFoldHigh: boolean;
}

interface Block extends Bounds, Folds {
  readonly number: number;
}

/**
 * In which order a stretch is cut: straight through all of it as long as that meets no piece, then the parts one by
 * one, then by outline what straight cuts can't reach. Every piece is in one part or one outline, none twice.
 * @param whole the stretch: its box, and which of its edges along the cloth are folds
 */
export function blockCuts(
  pieces: readonly CutPiece[],
  whole: Bounds & { readonly onFold: boolean; readonly onFoldHigh?: boolean },
): BlockCut[] {
  const known = pieces.map((piece): Known => {
    const box = bounds(piece.outline);
    const edges = straightEdges(piece.outline);
    return { ...piece, box, edges, isRectangle: fills(edges, box) };
  });
  const cuts: BlockCut[] = [];
  let blocks = 0;

  const cutBlock = (block: Block, inside: readonly Known[], preferAcross: boolean): void => {
    for (const across of [preferAcross, !preferAcross]) {
      const groups = groupsOf(inside, across);
      if (groups.length < 2) continue;
      const { lines, bands } = linesThrough(block, groups, across);
      const parts: Part[] = [];
      const further: { block: Block; group: readonly Known[] }[] = [];
      groups.forEach((group, i) => {
        const [low, high] = bands[i] as readonly [number, number];
        const box = across ? { ...block, minX: low, maxX: high } : { ...block, minY: low, maxY: high };
        const folds = across ? block : foldsLeft(block, lines, low, high);
        const { onFold, onFoldHigh } = folds;
        const [only] = group;
        if (group.length === 1 && only && isDone(only, { ...box, onFold, onFoldHigh })) {
          parts.push({ kind: 'piece', tag: only.tag, held: only.held });
          return;
        }
        blocks += 1;
        parts.push({ kind: 'block', number: blocks });
        further.push({ block: { ...box, number: blocks, onFold, onFoldHigh }, group });
      });
      const startMm = across ? block.minX : block.minY;
      cuts.push({
        kind: 'straight',
        block: block.number,
        inside: tagsOf(inside),
        across,
        startMm,
        lines,
        parts,
      });
      for (const next of further) cutBlock(next.block, next.group, !across);
      return;
    }
    trimBlock(block, inside, cuts);
  };

  if (known.length > 0) cutBlock({ onFoldHigh: false, ...whole, number: 0 }, known, true);
  return cuts;
}

/** What no straight line parts: the straight sides of the whole, then the outlines. */
function trimBlock(block: Block, inside: readonly Known[], cuts: BlockCut[]): void {
  let left = block;
  for (const across of [true, false]) {
    const { lines, bands } = linesThrough(left, [inside], across);
    if (lines.length === 0) continue;
    const [low, high] = bands[0] as readonly [number, number];
    left = across
      ? { ...left, minX: low, maxX: high }
      : { ...left, minY: low, maxY: high, ...foldsLeft(left, lines, low, high) };
    const done = inside.filter((piece) => inside.length === 1 && isDone(piece, left));
    cuts.push({
      kind: 'straight',
      block: block.number,
      inside: tagsOf(inside),
      across,
      startMm: across ? block.minX : block.minY,
      lines,
      parts: done.map(({ tag, held }): Part => ({ kind: 'piece', tag, held })),
    });
    if (done.length > 0) return;
  }
  const tags = tagsOf(inside);
  cuts.push({ kind: 'outline', block: block.number, tags, shared: sharedLines(inside, left) });
}

function tagsOf(pieces: readonly Known[]): string[] {
  return [...pieces].sort((a, b) => a.box.minX - b.box.minX || a.box.minY - b.box.minY).map(({ tag }) => tag);
}

/** Which folds of a block what lies from `low` to `high` still has for an edge once these lines are cut. */
function foldsLeft(block: Block, lines: readonly CutLine[], low: number, high: number): Folds {
  const isWhole = (edge: number, at: number) =>
    Math.abs(edge - at) <= SAME_CUT_MM &&
    !lines.some((line) => line.fold && Math.abs(line.at - edge) <= SAME_CUT_MM);
  return {
    onFold: block.onFold && isWhole(block.minY, low),
    onFoldHigh: block.onFoldHigh && isWhole(block.maxY, high),
  };
}

/** Pieces that no line in this direction can part, in order. */
function groupsOf(pieces: readonly Known[], across: boolean): Known[][] {
  const low = ({ box }: Known) => (across ? box.minX : box.minY);
  const high = ({ box }: Known) => (across ? box.maxX : box.maxY);
  const other = ({ box }: Known) => (across ? box.minY : box.minX);
  const sorted = [...pieces].sort((a, b) => low(a) - low(b) || other(a) - other(b));
  const groups: Known[][] = [];
  let reach = Number.NEGATIVE_INFINITY;
  for (const piece of sorted) {
    if (low(piece) >= reach - SAME_CUT_MM && groups.length > 0) groups.push([piece]);
    else if (groups.length === 0) groups.push([piece]);
    else groups.at(-1)?.push(piece);
    reach = Math.max(reach, high(piece));
  }
  return groups;
}

/**
 * The ruler lines that part the groups and straighten their outer sides, and between which lines each group then
 * lies. In a gap there is a line on each side that is straight; where none is, one in its middle.
 */
function linesThrough(
  block: Block,
  groups: readonly (readonly Known[])[],
  across: boolean,
): { lines: CutLine[]; bands: (readonly [number, number])[] } {
  const [low, high] = across ? (['minX', 'maxX'] as const) : (['minY', 'maxY'] as const);
  const [from, to] = across ? [block.minY, block.maxY] : [block.minX, block.maxX];
  const axis = across ? 'x' : 'y';
  const ends = groups.map((group) => ({
    low: Math.min(...group.map(({ box }) => box[low])),
    high: Math.max(...group.map(({ box }) => box[high])),
    group,
  }));
  const on = (group: readonly Known[], at: number) =>
    group.filter(({ edges }) => edges.some((e) => e.axis === axis && Math.abs(e.at - at) <= SAME_CUT_MM));
  const lines: CutLine[] = [];
  const bands = ends.map(({ low: a, high: b }): [number, number] => [a, b]);
  const line = (at: number, groupsOn: readonly (readonly Known[])[]): CutLine => ({
    at,
    from,
    to,
    edges: groupsOn.flatMap((group) => on(group, at).map(({ tag }) => tag)),
  });

  const first = ends[0];
  const last = ends.at(-1);
  if (!first || !last) return { lines, bands };
  const isFold = !across && block.onFold;
  if (first.low - block[low] > SAME_CUT_MM) {
    if (on(first.group, first.low).length > 0) lines.push(line(first.low, [first.group]));
    else (bands[0] as [number, number])[0] = block[low];
  } else {
    (bands[0] as [number, number])[0] = block[low];
    const lies = first.group.filter(({ box }) => box.minY - block.minY <= SAME_CUT_MM);
    if (isFold && lies.every(({ hand }) => hand !== 'fold')) {
      lines.push({ at: block.minY, from, to, edges: lies.map(({ tag }) => tag), fold: true });
    }
  }
  for (let i = 1; i < ends.length; i++) {
    const [a, b] = [ends[i - 1] as (typeof ends)[0], ends[i] as (typeof ends)[0]];
    const [bandA, bandB] = [bands[i - 1] as [number, number], bands[i] as [number, number]];
    const [straightA, straightB] = [on(a.group, a.high).length > 0, on(b.group, b.low).length > 0];
    if (b.low - a.high <= SAME_CUT_MM) lines.push(line(a.high, [a.group, b.group]));
    else if (straightA && straightB) lines.push(line(a.high, [a.group]), line(b.low, [b.group]));
    else if (straightA) {
      lines.push(line(a.high, [a.group]));
      bandB[0] = a.high;
    } else if (straightB) {
      lines.push(line(b.low, [b.group]));
      bandA[1] = b.low;
    } else {
      const middle = (a.high + b.low) / 2;
      lines.push({ at: middle, from, to, edges: [] });
      bandA[1] = middle;
      bandB[0] = middle;
    }
  }
  const lastBand = bands.at(-1) as [number, number];
  const rest = block[high] - last.high;
  if (rest > SAME_CUT_MM && on(last.group, last.high).length > 0) lines.push(line(last.high, [last.group]));
  else {
    lastBand[1] = block[high];
    const lies = last.group.filter(({ box }) => block.maxY - box.maxY <= SAME_CUT_MM);
    const isFoldHigh = !across && block.onFoldHigh && rest <= SAME_CUT_MM;
    if (isFoldHigh && lies.every(({ hand }) => hand !== 'fold')) {
      lines.push({ at: block.maxY, from, to, edges: lies.map(({ tag }) => tag), fold: true });
    }
  }
  return { lines, bands };
}

/** Whether straight cuts have already freed the piece on all sides. */
function isDone({ isRectangle, box, hand }: Known, block: Bounds & Folds): boolean {
  const same = (a: number, b: number) => Math.abs(a - b) <= SAME_CUT_MM;
  // On the fold a half piece's edge is none to cut; any other's is cut open by a line of its own.
  const isHalf = hand === 'fold';
  return (
    isRectangle &&
    same(box.minX, block.minX) &&
    same(box.maxX, block.maxX) &&
    same(box.minY, block.minY) &&
    same(box.maxY, block.maxY) &&
    isHalf === (block.onFold || block.onFoldHigh)
  );
}

function fills(edges: readonly StraightEdge[], box: Bounds): boolean {
  const has = (axis: 'x' | 'y', at: number, side: number) =>
    edges.some(
      (e) => e.axis === axis && Math.abs(e.at - at) <= SAME_CUT_MM && e.to - e.from >= side - SAME_CUT_MM,
    );
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  return (
    has('x', box.minX, height) &&
    has('x', box.maxX, height) &&
    has('y', box.minY, width) &&
    has('y', box.maxY, width)
  );
}

/** Straight edges of several pieces in one line, without the block's own sides. */
function sharedLines(pieces: readonly Known[], block: Bounds): SharedLine[] {
  const found: { across: boolean; at: number; tags: string[] }[] = [];
  for (const { tag, edges } of pieces) {
    for (const { axis, at } of edges) {
      const sides = axis === 'x' ? [block.minX, block.maxX] : [block.minY, block.maxY];
      if (sides.some((side) => Math.abs(side - at) <= SAME_CUT_MM)) continue;
      const across = axis === 'x';
      const line = found.find((l) => l.across === across && Math.abs(l.at - at) <= SAME_CUT_MM);
      if (!line) found.push({ across, at, tags: [tag] });
      else if (!line.tags.includes(tag)) line.tags.push(tag);
    }
  }
  return found
    .filter(({ tags }) => tags.length > 1)
    .sort((a, b) => Number(b.across) - Number(a.across) || a.at - b.at);
}
