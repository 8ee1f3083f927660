import type { Box } from '../../nesting/geometry/points.ts';
import type { DrawingLine, DrawingOutline, DrawingText, ReadDrawing } from './drawing.ts';
import { type FitToPage, recogniseFit } from './paperSizes.ts';
import { isLengthAlone, type StatedLength, saysChecking, statedLengths, unitAlone } from './statedLengths.ts';

/** Sizes that differ by no more than this share are true: about what can be measured on a 10 cm square. */
export const TRUE_SIZE_TOLERANCE = 0.005;

/** What the size of a drawing or print turned out to be. */
export interface SizeVerdict {
  readonly trueToSize: boolean;
  /** What lengths across and up must be multiplied by to be true. */
  readonly factorX: number;
  readonly factorY: number;
  /** Their mean: for `scaleReading`. Null if across and up differ too much for one factor to put it right. */
  readonly factor: number | null;
  /** Print again at this scale, in per cent of the scale it was printed at; null as for `factor`. */
  readonly reprintPercent: number | null;
  readonly fit: FitToPage | null;
  /** Longest side of any piece, as it is and how much it is off (positive: comes out too short). */
  readonly longestMm: number | null;
  readonly longestOffMm: number | null;
  /** A sentence or more for the maker. */
  readonly text: string;
}

/** A square or bar drawn to check the size by. */
export interface TestSquare {
  readonly kind: 'square' | 'bar';
  /** Id of the outline or the open line. */
  readonly id: string;
  readonly pageNumber: number | null;
  readonly statedMm: number;
  /** The words that say its size. */
  readonly statedText: string;
  /** Size along the middle of the drawn line; a bar has one direction, the other is null. */
  readonly widthMm: number | null;
  readonly heightMm: number | null;
  readonly strokeMm: number;
  /** Where its stated size is reached: at the outer or inner edge of its line, or in the middle. */
  readonly edge: 'outer' | 'middle' | 'inner';
  /** Size at that edge. */
  readonly measuredXMm: number | null;
  readonly measuredYMm: number | null;
  /** Words beside it say that it is there to check by; else it is a square with a size written to it. */
  readonly sure: boolean;
  readonly verdict: SizeVerdict;
}

/** Smaller ones are too coarse to check by, larger ones are pieces. */
const LEAST_MM = 4;
const LARGEST_MM = 310;
/** How far beside a square the words about it stand. */
const NEAR_MM = 25;
/** Without words that say so, only what nearly fits its written size is taken for a test square. */
const UNSURE_FACTOR = 0.12;
/** Units mistaken for each other (mm for inches) are the largest error there is. */
const SURE_FACTOR = 30;
/** A bar is at least so many times longer than wide. */
const SLENDER = 5;
const MOST_TEXTS = 2_000;
/** Of more texts near one candidate the nearest are looked at. */
const MOST_NEAR = 40;
const MOST_CANDIDATES = 2_000;

/** The likeliest test square or scale bar of a drawing, or null. */
export const findTestSquare = (reading: ReadDrawing): TestSquare | null =>
  findTestSquares(reading)[0] ?? null;

/** All test squares and scale bars of a drawing by the words near them, the likeliest and largest first. */
export function findTestSquares(reading: ReadDrawing): readonly TestSquare[] {
  const known = squares.get(reading);
  if (known) return known;
  const found = lookFor(reading);
  squares.set(reading, found);
  return found;
}

const squares = new WeakMap<ReadDrawing, readonly TestSquare[]>();

function lookFor(reading: ReadDrawing): TestSquare[] {
  const told = reading.texts
    .slice(0, 50_000)
    .map(
      (text): Told => ({
        text,
        lengths: statedLengths(text.text),
        checking: saysChecking(text.text),
        alone: isLengthAlone(text.text),
        unit: unitAlone(text.text),
      }),
    )
    .filter(({ lengths, checking, unit }) => lengths.length > 0 || checking || unit !== null)
    .slice(0, MOST_TEXTS);
  if (told.length === 0) return [];
  const found: Finding[] = [];
  for (const candidate of candidatesOf(reading)) {
    // The nearest, in order; a text farther than all of a full list is passed over at once.
    const near: (Told & { readonly away: number })[] = [];
    for (const each of told) {
      if ((each.text.pageNumber ?? null) !== candidate.pageNumber) continue;
      const away = distance(candidate.box, each.text.box);
      if (away > Math.max(NEAR_MM, 3 * each.text.sizeMm)) continue;
      if (near.length === MOST_NEAR && away >= (near.at(-1)?.away ?? 0)) continue;
      const at = near.findIndex((other) => other.away > away);
      near.splice(at < 0 ? near.length : at, 0, { ...each, away });
      if (near.length > MOST_NEAR) near.pop();
    }
    const checking = near.some((each) => each.checking);
    let best: Likely | null = null;
    for (const { text, lengths, away, alone: isLength, checking: ownWords, unit } of near)
      for (const stated of candidate.segment && unit ? [unit] : lengths) {
        const alone = isLength || (candidate.segment === true && unit !== null);
        const measured = fitted(candidate, stated);
        const off = Math.abs(Math.log(measured.factor));
        const sure = checking && (candidate.kind === 'square' || ownWords || alone);
        if (off > (sure ? Math.log(SURE_FACTOR) : UNSURE_FACTOR) || (!sure && !(alone && candidate.even)))
          continue;
        const score =
          (sure ? 4 : 0) +
          (candidate.kind === 'square' ? 1 : 0) +
          (off < TRUE_SIZE_TOLERANCE ? 3 : off < UNSURE_FACTOR ? 2 : 0) -
          away / NEAR_MM +
          Math.min(1, stated.mm / 100);
        if (best && best.score >= score) continue;
        best = { stated, measured, sure, score, text };
      }
    if (best) {
      const { stated, measured, sure, score, text } = best;
      found.push({ square: testSquare(candidate, stated, measured, sure, reading), score, text });
    }
  }
  // What a text says it says of one thing: the piece around the square is not meant.
  const spent = new Set<DrawingText>();
  return found
    .sort((p, q) => q.score - p.score)
    .filter(({ text }) => !spent.has(text) && spent.add(text))
    .map(({ square }) => square);
}

/** What a text says of a candidate, and how likely it is meant so. */
interface Likely {
  readonly stated: StatedLength;
  readonly measured: Fitted;
  readonly sure: boolean;
  readonly score: number;
  readonly text: DrawingText;
}

interface Finding {
  readonly square: TestSquare;
  readonly score: number;
  readonly text: DrawingText;
}

interface Told {
  readonly text: DrawingText;
  readonly lengths: readonly StatedLength[];
  readonly checking: boolean;
  readonly alone: boolean;
  /** One of the unit that it names and nothing else. */
  readonly unit: StatedLength | null;
}

interface Candidate {
  readonly kind: TestSquare['kind'];
  readonly id: string;
  readonly pageNumber: number | null;
  readonly box: Box;
  readonly widthMm: number | null;
  readonly heightMm: number | null;
  readonly strokeMm: number;
  /** As wide as high to a hundredth or so, or a bar. */
  readonly even: boolean;
  /** One of several alike in a row: each is one of the unit written to it. */
  readonly segment?: true;
}

function candidatesOf(reading: ReadDrawing): Candidate[] {
  const found: Candidate[] = [];
  for (const outline of reading.outlines) {
    const candidate = outlineCandidate(outline);
    if (candidate) found.push(candidate);
  }
  found.push(...segments(reading));
  for (const line of reading.openLines) {
    const candidate = lineCandidate(line);
    if (candidate) found.push(candidate);
  }
  return found.slice(0, MOST_CANDIDATES);
}

function outlineCandidate(outline: DrawingOutline): Candidate | null {
  const { widthMm, heightMm, areaMm2, id, box, strokeMm } = outline;
  // A rectangle that stands straight fills its box.
  if (areaMm2 < 0.98 * widthMm * heightMm) return null;
  const long = Math.max(widthMm, heightMm);
  const short = Math.min(widthMm, heightMm);
  if (long < LEAST_MM || long > LARGEST_MM * SURE_FACTOR) return null;
  const common = { id, box, strokeMm, pageNumber: outline.pageNumber ?? null };
  if (long / short < 1.1) return { ...common, kind: 'square', even: long / short < 1.02, widthMm, heightMm };
  if (long / short < SLENDER) return null;
  return {
    ...common,
    kind: 'bar',
    even: true,
    widthMm: widthMm > heightMm ? widthMm : null,
    heightMm: heightMm > widthMm ? heightMm : null,
  };
}

function lineCandidate(line: DrawingLine): Candidate | null {
  const { points, lengthMm, id, box } = line;
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const long = Math.max(width, height);
  // Straight and along the page, or nearly.
  if (long < LEAST_MM || points.length > 6 || lengthMm > long * 1.3 || Math.min(width, height) > 0.15 * long)
    return null;
  return {
    kind: 'bar',
    even: true,
    id,
    box,
    pageNumber: line.pageNumber ?? null,
    strokeMm: 0,
    widthMm: width >= height ? width : null,
    heightMm: height > width ? height : null,
  };
}

/** A bar is divided into at least so many parts of one size. */
const FEWEST_SEGMENTS = 3;
/** … that follow each other without a gap, but for what files round off. Millimetres. */
const SEGMENT_GAP_MM = 0.1;

/** Scale bars drawn as a row of rectangles of one size: the first of each row, with the box of all. */
function segments(reading: ReadDrawing): Candidate[] {
  const rectangles = reading.outlines.filter(
    ({ areaMm2, widthMm, heightMm, depth }) =>
      depth === 0 && areaMm2 >= 0.98 * widthMm * heightMm && Math.max(widthMm, heightMm) <= LARGEST_MM,
  );
  const found: Candidate[] = [];
  const taken = new Set<DrawingOutline>();
  const rows = rectangles
    .slice(0, MOST_CANDIDATES)
    .sort((a, b) => a.box.minY - b.box.minY || a.box.minX - b.box.minX);
  for (const first of rows) {
    if (taken.has(first)) continue;
    let last = first;
    let count = 1;
    for (const next of rows) {
      const follows =
        Math.abs(next.box.minX - last.box.maxX) <= SEGMENT_GAP_MM &&
        Math.abs(next.box.minY - last.box.minY) <= SEGMENT_GAP_MM &&
        Math.abs(next.widthMm - first.widthMm) <= SEGMENT_GAP_MM &&
        Math.abs(next.heightMm - first.heightMm) <= SEGMENT_GAP_MM;
      if (!follows || next.pageNumber !== first.pageNumber) continue;
      taken.add(next);
      last = next;
      count += 1;
    }
    if (count < FEWEST_SEGMENTS) continue;
    found.push({
      kind: 'bar',
      id: first.id,
      pageNumber: first.pageNumber ?? null,
      box: { ...first.box, maxX: last.box.maxX },
      // The mean of all is more exact than any.
      widthMm: (last.box.maxX - first.box.minX) / count,
      heightMm: null,
      strokeMm: first.strokeMm,
      even: true,
      segment: true,
    });
  }
  return found;
}

interface Fitted {
  readonly edge: TestSquare['edge'];
  readonly x: number | null;
  readonly y: number | null;
  /** Mean of stated over measured. */
  readonly factor: number;
}

/** The edge of the drawn line at which the stated size is reached best; its middle if none is near. */
function fitted(candidate: Candidate, stated: StatedLength): Fitted {
  const at = (edge: TestSquare['edge'], more: number): Fitted => {
    const x = candidate.widthMm === null ? null : candidate.widthMm + more;
    const y = candidate.heightMm === null ? null : candidate.heightMm + more;
    const sizes = [x, y].filter((size): size is number => size !== null && size > 0);
    const mean = sizes.reduce((sum, size) => sum + size, 0) / Math.max(1, sizes.length);
    return { edge, x, y, factor: mean > 0 ? stated.mm / mean : 0 };
  };
  const middle = at('middle', 0);
  const error = ({ factor }: Fitted): number =>
    factor > 0 ? Math.abs(Math.log(factor)) : Number.POSITIVE_INFINITY;
  // Drawing programs measure the outer edge; a wide pen alone makes no wrong size right.
  const edges = [middle, at('outer', candidate.strokeMm), at('inner', -candidate.strokeMm)];
  const best = edges.reduce((least, each) => (error(each) < error(least) - 1e-6 ? each : least));
  return error(best) <= TRUE_SIZE_TOLERANCE ? best : middle;
}

function testSquare(
  candidate: Candidate,
  stated: StatedLength,
  { edge, x, y }: Fitted,
  sure: boolean,
  reading: ReadDrawing,
): TestSquare {
  const { kind, id, pageNumber, widthMm, heightMm, strokeMm } = candidate;
  return {
    kind,
    id,
    pageNumber,
    statedMm: stated.mm,
    statedText: stated.text,
    widthMm,
    heightMm,
    strokeMm,
    edge,
    measuredXMm: x,
    measuredYMm: y,
    sure,
    verdict: judgeSize({
      statedMm: stated.mm,
      measuredXMm: x,
      measuredYMm: y,
      longestMm: longestOf(reading, id),
      what: sure
        ? kind === 'square'
          ? 'test square'
          : 'scale bar'
        : `${kind === 'square' ? 'square' : 'line'} marked "${stated.text}"`,
      edge,
    }),
  };
}

/** The longest side of any outline but one. */
function longestOf(reading: ReadDrawing, but: string): number | null {
  let longest = 0;
  for (const { id, widthMm, heightMm } of reading.outlines)
    if (id !== but) longest = Math.max(longest, widthMm, heightMm);
  return longest > 0 ? longest : null;
}

export interface MeasuredSize {
  readonly statedMm: number;
  /** Measured across and up, on the drawing or on a printed sheet; null where it was not. */
  readonly measuredXMm: number | null;
  readonly measuredYMm: number | null;
  /** Longest side of any piece, measured the same way. */
  readonly longestMm?: number | null;
  readonly what?: string;
  readonly edge?: TestSquare['edge'];
  readonly tolerance?: number;
}

/**
 * The verdict on a test square or bar that should measure `statedMm`. Throws RangeError if nothing was measured or a
 * length is not greater than zero.
 */
export function judgeSize(size: MeasuredSize): SizeVerdict {
  const {
    statedMm,
    measuredXMm,
    measuredYMm,
    longestMm = null,
    what = 'test square',
    edge = 'middle',
  } = size;
  const tolerance = size.tolerance ?? TRUE_SIZE_TOLERANCE;
  const measured = [measuredXMm, measuredYMm].filter((value): value is number => value !== null);
  if (measured.length === 0 || ![statedMm, ...measured].every((value) => value > 0 && Number.isFinite(value)))
    throw new RangeError('judgeSize: lengths must be greater than zero');
  const factorX = statedMm / (measuredXMm ?? (measuredYMm as number));
  const factorY = statedMm / (measuredYMm ?? (measuredXMm as number));
  const mean = (factorX + factorY) / 2;
  const uneven = Math.abs(factorX / factorY - 1) > tolerance;
  const trueToSize = [factorX, factorY].every((factor) => Math.abs(1 / factor - 1) <= tolerance + 1e-9);
  const worst = Math.abs(factorX - 1) > Math.abs(factorY - 1) ? factorX : factorY;
  const longestOffMm = longestMm === null ? null : longestMm * ((uneven ? worst : mean) - 1);
  const fit = trueToSize || uneven ? null : recogniseFit(1 / mean);
  const shown = measured.map(millimetres).join(' × ');
  const byEdge = edge === 'middle' ? '' : `, measured to the ${edge} edge of its line`;
  const should = `The ${what} should measure ${millimetres(statedMm)} mm`;
  const words = trueToSize
    ? [`True to size: the ${what} measures ${shown} mm${byEdge}; it should be ${millimetres(statedMm)} mm.`]
    : [`Not true to size. ${should} and measures ${shown} mm.`];
  if (!trueToSize) {
    if (uneven) words.push('Across and up differ, so no single scale puts it right.');
    else words.push(`Everything is ${percent(Math.abs(1 / mean - 1))} too ${mean > 1 ? 'small' : 'large'}.`);
    if (fit)
      words.push(
        `That is what comes of fitting a page made for ${fit.from} to ${fit.to}: print at 100 % ("actual size").`,
      );
    if (longestMm !== null && longestOffMm !== null)
      words.push(
        `The longest piece, ${millimetres(longestMm)} mm, is ${millimetres(Math.abs(longestOffMm))} mm too ${longestOffMm > 0 ? 'short' : 'long'}.`,
      );
    if (!uneven)
      words.push(`Scaled to ${percent(mean)} it is true; seam allowances drawn in it are scaled as well.`);
  }
  return {
    trueToSize,
    factorX,
    factorY,
    factor: uneven ? null : mean,
    reprintPercent: uneven ? null : mean * 100,
    fit,
    longestMm,
    longestOffMm,
    text: words.join(' '),
  };
}

const millimetres = (value: number): string => value.toFixed(1);
const percent = (share: number): string => `${(share * 100).toFixed(2)} %`;

/** How far apart two boxes are; 0 if they touch. */
const distance = (a: Box, b: Box): number =>
  Math.hypot(Math.max(0, a.minX - b.maxX, b.minX - a.maxX), Math.max(0, a.minY - b.maxY, b.minY - a.maxY));
