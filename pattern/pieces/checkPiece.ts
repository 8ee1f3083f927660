import { difference, intersection } from '../../nesting/geometry/boolean.ts';
import type { Polygon } from '../../nesting/geometry/points.ts';
import { boundingBox, counterClockwise, signedArea } from '../../nesting/geometry/rings.ts';
import { ringProblems } from '../../nesting/geometry/validity.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import type { Piece } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { formatLength, type ShownUnits } from '../units/index.ts';
import { cutShape } from './cutShape.ts';
import { foldFrame } from './foldFrame.ts';
import { FOLD_LINE_MM, SAME_DIRECTION_DEG } from './tolerances.ts';
import { withoutRepeats } from './withoutRepeats.ts';
import { type PieceWords, pieceWords } from './words/index.ts';

/** What is said, and how lengths are written in it. */
interface Saying {
  readonly words: PieceWords;
  readonly long: (mm: number) => string;
}

export type ProblemCode =
  | 'notFinite'
  | 'tooFewPoints'
  | 'noSize'
  | 'crossesItself'
  | 'clockwise'
  | 'tiny'
  | 'huge'
  | 'holeOutside'
  | 'holesOverlap'
  | 'noSuchFoldEdge'
  | 'acrossFold'
  | 'foldOffGrain'
  | 'allowanceNegative'
  | 'nothingLeft'
  | 'allowanceMeetsItself'
  | 'holeCloses';

/** Something about a piece. With an `error` it can't be cut as it is; with a `warning` it is probably not meant. */
export interface Problem {
  readonly level: 'error' | 'warning' | 'info';
  readonly code: ProblemCode;
  /** One sentence, without the piece's name. */
  readonly text: string;
  /** 0 for the outline, 1 for the first hole and so on. */
  readonly ring?: number;
  /** Index of a vertex of that ring near the trouble. */
  readonly vertex?: number;
}

/** A side below this, in mm, is no side: a line has been drawn, not a piece. */
const NO_SIZE_MM = 0.1;
/** A piece that measures less than this in mm, or more, has probably been read at a wrong scale. */
const TINY_MM = 5;
const HUGE_MM = 5_000;
/** Overlaps below this, in mm², are rounding of shared edges. */
const OVERLAP_MM2 = 0.01;

/**
 * Everything wrong or odd about a piece, worst first; empty for a sound one. `units` is for lengths in the
 * sentences. Never throws, whatever the piece holds. Some errors can be mended: see `mendPiece`.
 */
export function checkPiece(
  piece: Piece,
  units: ShownUnits = 'cm',
  language: Language = USUAL_LANGUAGE,
): Problem[] {
  const words = pieceWords(language);
  const saying: Saying = { words, long: (mm) => formatLength(mm, units, language) };
  const rings = [piece.outline, ...piece.holes];
  const basic = rings.flatMap((ring, index) => checkRing(ring, index, words));
  if (piece.allowanceMm < 0) {
    basic.push({
      level: 'error',
      code: 'allowanceNegative',
      text: words.allowanceNegative,
    });
  }
  // Later checks compute with the rings and need them sound.
  if (basic.some((problem) => problem.level === 'error')) return worstFirst(basic);
  const found = [
    ...basic,
    ...checkSize(piece.outline, saying),
    ...checkHoles(piece, words),
    ...checkFold(piece, saying),
  ];
  if (!found.some((problem) => problem.level === 'error')) found.push(...checkAllowance(piece, saying));
  return worstFirst(found);
}

function worstFirst(problems: readonly Problem[]): Problem[] {
  const rank = { error: 0, warning: 1, info: 2 };
  return [...problems].sort((a, b) => rank[a.level] - rank[b.level]);
}

function checkRing(ring: Outline, index: number, words: PieceWords): Problem[] {
  const name = index === 0 ? words.outline : words.hole(index);
  const crossings: number[] = [];
  // Repeated points are harmless (they are left out of all computing) but would look like crossings.
  for (const problem of ringProblems(withoutRepeats(ring))) {
    switch (problem.kind) {
      case 'too-few-points': {
        const text = words.tooFewPoints(name, problem.count);
        return [{ level: 'error', code: 'tooFewPoints', text, ring: index }];
      }
      case 'not-finite': {
        const text = words.notFinite(name);
        return [{ level: 'error', code: 'notFinite', text, ring: index, vertex: problem.vertex }];
      }
      case 'no-area':
        return [noSize(words.noSize(name), index)];
      case 'self-intersection':
        crossings.push(problem.edges[0]);
        break;
      case 'repeated-point':
        break;
    }
  }
  const box = boundingBox(ring);
  if (Math.min(box.maxX - box.minX, box.maxY - box.minY) < NO_SIZE_MM)
    return [noSize(words.noSize(name), index)];
  const first = crossings[0];
  if (first !== undefined) {
    const text = words.crosses(name, crossings.length);
    return [{ level: 'error', code: 'crossesItself', text, ring: index, vertex: first }];
  }
  const backwards = index === 0 ? signedArea(ring) < 0 : signedArea(ring) > 0;
  if (!backwards) return [];
  return [{ level: 'info', code: 'clockwise', text: words.clockwise(name), ring: index }];
}

function noSize(text: string, ring: number): Problem {
  return { level: 'error', code: 'noSize', text, ring };
}

function checkSize(outline: Outline, { words, long }: Saying): Problem[] {
  const box = boundingBox(outline);
  const larger = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (larger < TINY_MM) {
    return [{ level: 'warning', code: 'tiny', text: words.tiny(long(larger)) }];
  }
  if (larger > HUGE_MM) {
    return [{ level: 'warning', code: 'huge', text: words.huge(long(larger)) }];
  }
  return [];
}

function areaOf(polygons: readonly Polygon[]): number {
  return polygons.reduce(
    (sum, { outer, holes }) =>
      sum + signedArea(outer) - holes.reduce((cut, hole) => cut + Math.abs(signedArea(hole)), 0),
    0,
  );
}

function checkHoles({ outline, holes }: Piece, words: PieceWords): Problem[] {
  const around = [counterClockwise(outline)];
  const upright = holes.map(counterClockwise);
  const boxes = upright.map(boundingBox);
  const found: Problem[] = [];
  upright.forEach((hole, i) => {
    if (areaOf(difference([hole], around)) > OVERLAP_MM2) {
      const text = words.holeOutside(i + 1);
      found.push({ level: 'error', code: 'holeOutside', text, ring: i + 1 });
    }
    for (let j = 0; j < i; j++) {
      const a = boxes[i]!;
      const b = boxes[j]!;
      const apart = a.minX > b.maxX || b.minX > a.maxX || a.minY > b.maxY || b.minY > a.maxY;
      if (apart || areaOf(intersection([hole], [upright[j]!])) <= OVERLAP_MM2) continue;
      const text = words.holesOverlap(j + 1, i + 1);
      found.push({ level: 'error', code: 'holesOverlap', text, ring: i + 1 });
    }
  });
  return found;
}

function checkFold(piece: Piece, { words, long }: Saying): Problem[] {
  const { foldEdge, outline, holes } = piece;
  if (foldEdge === null) return [];
  const a = outline[foldEdge];
  const b = outline[(foldEdge + 1) % outline.length];
  const clockwise = signedArea(outline) < 0;
  const frame = a && b ? (clockwise ? foldFrame(b, a) : foldFrame(a, b)) : null;
  if (frame === null) {
    const text = a ? words.foldNoLength : words.noSuchFoldEdge(foldEdge + 1, outline.length);
    return [{ level: 'error', code: 'noSuchFoldEdge', text }];
  }
  let beyond = 0;
  let vertex = 0;
  [outline, ...holes].forEach((ring, index) => {
    ring.forEach(([x, y], i) => {
      const t = (y - frame.origin[1]) * frame.ux - (x - frame.origin[0]) * frame.uy;
      if (-t > beyond) {
        beyond = -t;
        vertex = index === 0 ? i : vertex;
      }
    });
  });
  if (beyond > FOLD_LINE_MM) {
    const text = words.acrossFold(long(beyond));
    return [{ level: 'error', code: 'acrossFold', text, ring: 0, vertex }];
  }
  const foldDeg = (Math.atan2(frame.uy, frame.ux) * 180) / Math.PI;
  const off = Math.abs(((((foldDeg - piece.grainDeg) % 180) + 270) % 180) - 90);
  if (off <= SAME_DIRECTION_DEG) return [];
  return [{ level: 'warning', code: 'foldOffGrain', text: words.foldOffGrain }];
}

function checkAllowance(piece: Piece, { words, long }: Saying): Problem[] {
  const widest = Math.max(piece.allowanceMm, ...(piece.edgeAllowances ?? []).map(({ mm }) => mm));
  if (piece.line === 'cut' || widest === 0) return [];
  const width = long(widest);
  try {
    const cut = cutShape(piece);
    const missing = piece.holes.length - cut.holes.length;
    if (missing > 0) {
      return [{ level: 'info', code: 'holeCloses', text: words.holeCloses(width, missing) }];
    }
    if (missing === 0) return [];
    return [{ level: 'warning', code: 'allowanceMeetsItself', text: words.allowanceMeetsItself(width) }];
  } catch {
    return [{ level: 'error', code: 'nothingLeft', text: words.nothingLeft(width) }];
  }
}
