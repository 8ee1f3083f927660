import type { Box } from '../../nesting/geometry/points.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { parentsOf } from './containment.ts';
import type { DrawingLine, DrawingOutline, DrawingText, Mending, RefusedOutline } from './drawing.ts';
import { joinLines } from './joinLines.ts';
import { lettering } from './lettering.ts';
import { CLOSING_MM, READING_LIMITS } from './limits.ts';
import { likeliestName, type NameCandidate } from './pieceName.ts';
import { Refusal } from './refusal.ts';
import { MOST_CROSSINGS, mendRing, selfContact } from './selfCrossing.ts';
import { simplifyLine, simplifyRing, type WorkBudget } from './simplify.ts';
import type { DrawnShape } from './walk.ts';
import type { Warnings } from './warnings.ts';
import type { ReadingWords } from './words/index.ts';

/** Outlines narrower than this either way are specks of the drawing program, no pieces. */
const SPECK_MM = 0.05;
/** Gaps at the ends of a line that are worth a word to the maker. */
const GAP_WORTH_SAYING_MM = 0.01;
/** Comparisons, distances and the like, over a whole drawing: about a second each at the very most. */
const WORK = {
  simplifying: 50_000_000,
  crossings: 15_000_000,
  containment: 100_000_000,
  words: 30_000_000,
} as const;
/** What cutting a crossing ring clear costs, in comparisons a vertex. */
const MENDING_WORK = 500;

export interface Sorted {
  readonly outlines: DrawingOutline[];
  readonly openLines: DrawingLine[];
  readonly refused: RefusedOutline[];
}

/** Comparisons left for each step, over all calls for one drawing. */
export interface SortingWork {
  readonly simplifying: WorkBudget;
  readonly crossings: WorkBudget;
  readonly containment: WorkBudget;
  readonly words: WorkBudget;
}

/** The work allowed for a drawing; for one of many pages some times as much. */
export const sortingWork = (times = 1): SortingWork => ({
  simplifying: { left: WORK.simplifying * times },
  crossings: { left: WORK.crossings * times },
  containment: { left: WORK.containment * times },
  words: { left: WORK.words * times },
});

export interface SortingOptions {
  /** What may still be done for this drawing, if it is sorted out in several calls. */
  readonly work?: SortingWork;
  /** Lines that lead nowhere don't keep those they touch from closing: drawings made of single strokes have such. */
  readonly stubsAside?: boolean;
}

interface Closed {
  readonly id: string;
  readonly shape: DrawnShape;
  readonly kind: DrawingOutline['shape'];
  readonly ring: Outline;
  readonly mending: Mending | null;
}

interface Open {
  readonly id: string;
  readonly shape: DrawnShape;
  readonly points: readonly Point[];
}

/**
 * Sorts what is drawn into closed outlines and open lines: closes small gaps, joins lines that meet end to end,
 * mends or refuses what crosses itself, finds what lies in what and which words belong to which.
 */
export function sortOut(
  shapes: readonly DrawnShape[],
  texts: readonly DrawingText[],
  page: { readonly widthMm: number; readonly heightMm: number },
  simplifyMm: number,
  warnings: Warnings,
  { work = sortingWork(), stubsAside = false }: SortingOptions = {},
): Sorted {
  const sorter = new Sorter(simplifyMm, warnings, work, stubsAside);
  for (const shape of shapes) sorter.take(shape);
  sorter.joinAcross();
  const { closed, open, refused } = sorter;
  if (closed.length > READING_LIMITS.outlines)
    throw new Refusal(({ tooManyOutlines }) => tooManyOutlines(READING_LIMITS.outlines));

  const measured = [
    ...closed.map(({ ring }) => ({
      points: ring,
      closed: true,
      box: boundingBox(ring),
      area: signedArea(ring),
    })),
    ...open.map(({ points }) => ({ points, closed: false, box: boundingBox(points), area: 0 })),
  ];
  const parents = parentsOf(measured, work.containment);
  if (!parents)
    warnings.once(
      'limit',
      'The drawing is so intricate that it was not worked out which outlines lie inside which.',
    );
  const parentOf = (i: number): number => parents?.[i] ?? -1;
  const depthOf = (i: number): number => {
    let depth = 0;
    for (let up = parentOf(i); up >= 0; up = parentOf(up)) depth += 1;
    return depth;
  };
  const words = lettering(
    measured.slice(0, closed.length),
    closed.map((_, i) => parentOf(i)),
    texts,
    work.words,
  );

  const outlines = closed.map(({ id, shape, kind, ring, mending }, i): DrawingOutline => {
    const { box, area } = measured[i] as (typeof measured)[number];
    const widthMm = box.maxX - box.minX;
    const heightMm = box.maxY - box.minY;
    const { inside, beside, names } = words[i] ?? { inside: [], beside: [], names: [] };
    return {
      id,
      elementId: shape.elementId,
      label: shape.label || shape.groupLabel,
      suggestedName: suggestName(shape, names, widthMm, heightMm),
      shape: kind,
      ring,
      widthMm,
      heightMm,
      areaMm2: area,
      box,
      strokeMm: shape.strokeMm,
      outerWidthMm: widthMm + shape.strokeMm,
      outerHeightMm: heightMm + shape.strokeMm,
      strokeColour: shape.strokeColour,
      fillColour: shape.fillColour,
      dashed: shape.dashed,
      clone: shape.clone,
      parent: closed[parentOf(i)]?.id ?? null,
      depth: depthOf(i),
      onPage: placeOn(page, box),
      textInside: inside,
      textBeside: beside,
      mending,
      ...onLayer(shape),
    };
  });
  const openLines = open.map(({ id, shape, points }, i): DrawingLine => {
    const at = closed.length + i;
    return {
      id,
      elementId: shape.elementId,
      label: shape.label || shape.groupLabel,
      points,
      lengthMm: lengthOf(points),
      box: measured[at]?.box ?? boundingBox(points),
      strokeMm: shape.strokeMm,
      strokeColour: shape.strokeColour,
      dashed: shape.dashed,
      parent: closed[parentOf(at)]?.id ?? null,
      ...(shape.markers ? { markers: shape.markers } : {}),
      ...onLayer(shape),
    };
  });
  return { outlines, openLines, refused };
}

/** Takes shapes one by one; what stays open is joined within its group at the end. */
class Sorter {
  readonly closed: Closed[] = [];
  readonly refused: RefusedOutline[] = [];
  open: Open[] = [];
  private readonly ids = new Map<string, number>();
  private readonly simplifyMm: number;
  private readonly simplifying: WorkBudget;
  private readonly crossings: WorkBudget;
  private readonly warnings: Warnings;
  private readonly words: ReadingWords;

  private readonly stubsAside: boolean;

  constructor(simplifyMm: number, warnings: Warnings, work: SortingWork, stubsAside: boolean) {
    this.simplifyMm = simplifyMm;
    this.stubsAside = stubsAside;
    this.simplifying = work.simplifying;
    this.crossings = work.crossings;
    this.warnings = warnings;
    this.words = warnings.words;
  }

  take(shape: DrawnShape): void {
    const left: (readonly Point[])[] = [];
    for (const { points, closed } of shape.polylines) {
      const gap = distance(points[0] as Point, points[points.length - 1] as Point);
      if (closed || (gap <= CLOSING_MM && lengthOf(points) > 2 * CLOSING_MM)) {
        const mending: Mending | null =
          closed || gap <= GAP_WORTH_SAYING_MM
            ? null
            : { kind: 'gap closed', text: this.words.gapClosed(gap.toFixed(2)) };
        this.close(shape, shape.shape, points, mending);
      } else left.push(points);
    }
    const joined = joinLines(left, CLOSING_MM);
    const gone = new Set<number>();
    for (const { ring, from } of joined) {
      if (Math.abs(signedArea(ring)) < SPECK_MM) continue;
      for (const line of from) gone.add(line);
      this.close(shape, shape.shape, ring, {
        kind: 'halves joined',
        text: this.words.halvesJoined(from.length),
      });
    }
    left.forEach((points, i) => {
      if (gone.has(i)) return;
      if (shape.filled && Math.abs(signedArea(points)) >= SPECK_MM)
        this.close(shape, shape.shape, points, {
          kind: 'fill closed',
          text: this.words.fillClosed,
        });
      else if (lengthOf(points) < SPECK_MM) this.sayTiny();
      else
        this.open.push({
          id: this.nextId(shape.id),
          shape,
          points: simplifyLine(points, this.simplifyMm, this.simplifying),
        });
    });
  }

  /** Joins open lines of different elements that stand in one group and are drawn alike. */
  joinAcross(): void {
    const groups = new Map<string, Open[]>();
    for (const line of this.open) {
      const { groupKey, strokeColour, dashed } = line.shape;
      const key = `${groupKey} ${strokeColour} ${dashed}`;
      const group = groups.get(key);
      if (group) group.push(line);
      else groups.set(key, [line]);
    }
    const gone = new Set<Open>();
    for (const group of groups.values()) {
      if (group.length < 2) continue;
      for (const { ring, from } of joinLines(
        group.map(({ points }) => points),
        CLOSING_MM,
        this.stubsAside,
      )) {
        const first = group[from[0] ?? 0];
        if (!first || Math.abs(signedArea(ring)) < SPECK_MM) continue;
        for (const line of from) gone.add(group[line] as Open);
        this.close(first.shape, 'lines', ring, {
          kind: 'halves joined',
          text: this.words.halvesJoined(from.length),
        });
      }
    }
    this.open = this.open.filter((line) => !gone.has(line));
  }

  private close(
    shape: DrawnShape,
    kind: Closed['kind'],
    points: readonly Point[],
    mending: Mending | null,
  ): void {
    const ring = simplifyRing(withoutRepeats(points), this.simplifyMm, this.simplifying);
    const box = boundingBox(ring);
    const width = box.maxX - box.minX;
    const height = box.maxY - box.minY;
    if (ring.length < 3 || width < SPECK_MM || height < SPECK_MM) {
      this.sayTiny();
      return;
    }
    const id = this.nextId(shape.id);
    if (Math.max(width, height) > READING_LIMITS.sizeMm) {
      this.refuse(id, shape, this.words.isHuge(READING_LIMITS.sizeMm / 1000));
      return;
    }
    const contact = selfContact(ring, this.crossings);
    if (contact === 'tangled') {
      this.refuse(id, shape, this.words.isTangled(MOST_CROSSINGS));
      return;
    }
    if (contact !== 'none') this.crossings.left -= MENDING_WORK * ring.length;
    if (contact === 'too much' || this.crossings.left < 0) {
      this.refuse(id, shape, this.words.isIntricate);
      return;
    }
    if (contact === 'none') {
      this.keep({ id, shape, kind, ring: counterClockwise(ring), mending });
      return;
    }
    const mended = mendRing(ring);
    if (!mended.ok) {
      const sizes = mended.parts.slice(0, 3).map(sizeInWords);
      if (mended.parts.length > 3) sizes.push('…');
      this.refuse(
        id,
        shape,
        mended.parts.length === 0
          ? this.words.holdsNothing
          : this.words.fallsApart(mended.parts.length, sizes.join(', ')),
      );
      return;
    }
    if (selfContact(mended.ring, this.crossings) === 'crossing') {
      this.refuse(id, shape, this.words.isUnmendable);
      return;
    }
    const where = `The outline "${shape.id.slice(0, 60)}"`;
    if (contact === 'crossing')
      this.warnings.each('crossing', `${where} crosses itself; it was mended by following its outer edge.`);
    this.keep({
      id,
      shape,
      kind,
      ring: mended.ring,
      mending: {
        kind: 'crossing mended',
        text: contact === 'crossing' ? this.words.crossingMended : this.words.touchMended,
      },
    });
    for (const hole of mended.holes) {
      const holeBox = boundingBox(hole);
      if (holeBox.maxX - holeBox.minX < SPECK_MM || holeBox.maxY - holeBox.minY < SPECK_MM) continue;
      this.keep({ id: this.nextId(shape.id), shape, kind, ring: hole, mending: null });
    }
  }

  private sayTiny(): void {
    this.warnings.counted('tiny', (count) => `Specks without any width were left out: ${count}.`);
  }

  private keep(closed: Closed): void {
    if (closed.ring.length > READING_LIMITS.pointsPerOutline)
      this.refuse(closed.id, closed.shape, this.words.hasManyCorners(READING_LIMITS.pointsPerOutline));
    else this.closed.push(closed);
  }

  private refuse(id: string, shape: DrawnShape, why: string): void {
    const name = (shape.label || shape.id).slice(0, 60);
    const text = this.words.notUsed(name, why);
    this.refused.push({ id, elementId: shape.elementId, label: shape.label, text });
    this.warnings.each('refused', text);
  }

  /** `rect5`, then `rect5.2`, `rect5.3` … for more lines of one element or elements that share an id. */
  private nextId(base: string): string {
    const count = (this.ids.get(base) ?? 0) + 1;
    this.ids.set(base, count);
    const id = count === 1 ? base : `${base}.${count}`;
    if (count === 1) return id;
    // An element may itself be called "rect5.2".
    if (this.ids.has(id)) return this.nextId(base);
    this.ids.set(id, 1);
    return id;
  }
}

const onLayer = ({ layer }: DrawnShape): { layer?: string } => (layer === undefined ? {} : { layer });

const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

function lengthOf(points: readonly Point[]): number {
  let length = 0;
  for (let i = 1; i < points.length; i++) length += distance(points[i - 1] as Point, points[i] as Point);
  return length;
}

/** Points nearer than a micrometre to the one before are one; neither is the first repeated at the end. */
function withoutRepeats(points: readonly Point[]): readonly Point[] {
  const kept: Point[] = [];
  for (const point of points) {
    const last = kept[kept.length - 1];
    if (!last || distance(last, point) > 1e-3) kept.push(point);
  }
  // The line's ends may lie a little apart: its last corner goes.
  while (kept.length > 3 && distance(kept[0] as Point, kept[kept.length - 1] as Point) <= CLOSING_MM)
    kept.pop();
  return kept;
}

const counterClockwise = (ring: Outline): Outline => (signedArea(ring) < 0 ? [...ring].reverse() : ring);

function sizeInWords(ring: Outline): string {
  const box = boundingBox(ring);
  return `${(box.maxX - box.minX).toFixed(0)} × ${(box.maxY - box.minY).toFixed(0)} mm`;
}

function placeOn(
  page: { readonly widthMm: number; readonly heightMm: number },
  box: Box,
): DrawingOutline['onPage'] {
  const slack = CLOSING_MM;
  if (
    box.minX >= -slack &&
    box.minY >= -slack &&
    box.maxX <= page.widthMm + slack &&
    box.maxY <= page.heightMm + slack
  )
    return 'inside';
  return box.maxX <= 0 || box.maxY <= 0 || box.minX >= page.widthMm || box.minY >= page.heightMm
    ? 'outside'
    : 'partly';
}

/** Ids that say something: letters, and not the kind of name that programs number through. */
const TELLING_ID =
  /^(?!(?:path|rect|circle|ellipse|line|polyline|polygon|use|g|text|tspan|svg|layer)[-_]?\d)[A-Za-z][\w -]*$/;

function suggestName(
  shape: DrawnShape,
  names: readonly NameCandidate[],
  widthMm: number,
  heightMm: number,
): string {
  const id = TELLING_ID.test(shape.elementId) && /[a-z]{3}/i.test(shape.elementId) ? shape.elementId : '';
  return (
    shape.label ||
    likeliestName(names.filter(({ stands }) => stands !== 'beside')) ||
    id.replace(/[-_]+/g, ' ').trim() ||
    likeliestName(names) ||
    shape.groupLabel ||
    `${widthMm.toFixed(0)} × ${heightMm.toFixed(0)} mm`
  ).slice(0, 80);
}
