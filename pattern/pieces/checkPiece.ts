import { difference, intersection } from '../../nesting/geometry/boolean.ts';
import type { Polygon } from '../../nesting/geometry/points.ts';
import { boundingBox, counterClockwise, signedArea } from '../../nesting/geometry/rings.ts';
import { ringProblems } from '../../nesting/geometry/validity.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import type { Piece } from '../exchange/project.ts';
import { formatLength, type ShownUnits } from '../units/index.ts';
import { cutShape } from './cutShape.ts';
import { foldFrame } from './foldFrame.ts';
import { FOLD_LINE_MM, SAME_DIRECTION_DEG } from './tolerances.ts';
import { withoutRepeats } from './withoutRepeats.ts';

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
export function checkPiece(piece: Piece, units: ShownUnits = 'cm'): Problem[] {
  const rings = [piece.outline, ...piece.holes];
  const basic = rings.flatMap((ring, index) => checkRing(ring, index));
  if (piece.allowanceMm < 0) {
    basic.push({
      level: 'error',
      code: 'allowanceNegative',
      text: 'Its allowance is negative: an allowance is added outside the sew line.',
    });
  }
  // Later checks compute with the rings and need them sound.
  if (basic.some((problem) => problem.level === 'error')) return worstFirst(basic);
  const found = [
    ...basic,
    ...checkSize(piece.outline, units),
    ...checkHoles(piece),
    ...checkFold(piece, units),
  ];
  if (!found.some((problem) => problem.level === 'error')) found.push(...checkAllowance(piece, units));
  return worstFirst(found);
}

function worstFirst(problems: readonly Problem[]): Problem[] {
  const rank = { error: 0, warning: 1, info: 2 };
  return [...problems].sort((a, b) => rank[a.level] - rank[b.level]);
}

/** "Its outline" or "Its second hole" at the beginning of a sentence. */
function nameOfRing(index: number): string {
  return index === 0 ? 'Its outline' : `Hole ${index}`;
}

function checkRing(ring: Outline, index: number): Problem[] {
  const name = nameOfRing(index);
  const crossings: number[] = [];
  // Repeated points are harmless (they are left out of all computing) but would look like crossings.
  for (const problem of ringProblems(withoutRepeats(ring))) {
    switch (problem.kind) {
      case 'too-few-points': {
        const text = `${name} has ${problem.count} points: an outline needs three.`;
        return [{ level: 'error', code: 'tooFewPoints', text, ring: index }];
      }
      case 'not-finite': {
        const text = `${name} has a point that is no number.`;
        return [{ level: 'error', code: 'notFinite', text, ring: index, vertex: problem.vertex }];
      }
      case 'no-area':
        return [noSize(name, index)];
      case 'self-intersection':
        crossings.push(problem.edges[0]);
        break;
      case 'repeated-point':
        break;
    }
  }
  const box = boundingBox(ring);
  if (Math.min(box.maxX - box.minX, box.maxY - box.minY) < NO_SIZE_MM) return [noSize(name, index)];
  const first = crossings[0];
  if (first !== undefined) {
    const places = crossings.length === 1 ? 'one place' : `${crossings.length} places`;
    const text = `${name} crosses or touches itself in ${places}.`;
    return [{ level: 'error', code: 'crossesItself', text, ring: index, vertex: first }];
  }
  const backwards = index === 0 ? signedArea(ring) < 0 : signedArea(ring) > 0;
  if (!backwards) return [];
  return [{ level: 'info', code: 'clockwise', text: `${name} was drawn the other way round.`, ring: index }];
}

function noSize(name: string, ring: number): Problem {
  return { level: 'error', code: 'noSize', text: `${name} encloses nothing: it has no width.`, ring };
}

function checkSize(outline: Outline, units: ShownUnits): Problem[] {
  const box = boundingBox(outline);
  const larger = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (larger < TINY_MM) {
    const text = `It is only ${formatLength(larger, units)} large: is the scale right?`;
    return [{ level: 'warning', code: 'tiny', text }];
  }
  if (larger > HUGE_MM) {
    const text = `It is ${formatLength(larger, units)} long: is the scale right?`;
    return [{ level: 'warning', code: 'huge', text }];
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

function checkHoles({ outline, holes }: Piece): Problem[] {
  const around = [counterClockwise(outline)];
  const upright = holes.map(counterClockwise);
  const boxes = upright.map(boundingBox);
  const found: Problem[] = [];
  upright.forEach((hole, i) => {
    if (areaOf(difference([hole], around)) > OVERLAP_MM2) {
      const text = `Hole ${i + 1} reaches outside the outline.`;
      found.push({ level: 'error', code: 'holeOutside', text, ring: i + 1 });
    }
    for (let j = 0; j < i; j++) {
      const a = boxes[i]!;
      const b = boxes[j]!;
      const apart = a.minX > b.maxX || b.minX > a.maxX || a.minY > b.maxY || b.minY > a.maxY;
      if (apart || areaOf(intersection([hole], [upright[j]!])) <= OVERLAP_MM2) continue;
      const text = `Holes ${j + 1} and ${i + 1} overlap.`;
      found.push({ level: 'error', code: 'holesOverlap', text, ring: i + 1 });
    }
  });
  return found;
}

function checkFold(piece: Piece, units: ShownUnits): Problem[] {
  const { foldEdge, outline, holes } = piece;
  if (foldEdge === null) return [];
  const a = outline[foldEdge];
  const b = outline[(foldEdge + 1) % outline.length];
  const clockwise = signedArea(outline) < 0;
  const frame = a && b ? (clockwise ? foldFrame(b, a) : foldFrame(a, b)) : null;
  if (frame === null) {
    const text = a
      ? 'Its fold edge has no length.'
      : `Its fold edge is number ${foldEdge + 1}, but the outline has only ${outline.length} edges.`;
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
    const text = `It lies on both sides of its fold line: ${formatLength(beyond, units)} reach beyond it.`;
    return [{ level: 'error', code: 'acrossFold', text, ring: 0, vertex }];
  }
  const foldDeg = (Math.atan2(frame.uy, frame.ux) * 180) / Math.PI;
  const off = Math.abs(((((foldDeg - piece.grainDeg) % 180) + 270) % 180) - 90);
  if (off <= SAME_DIRECTION_DEG) return [];
  const text = `Its fold edge does not run along the grain, so it can't lie on a lengthwise fold; it is cut whole.`;
  return [{ level: 'warning', code: 'foldOffGrain', text }];
}

function checkAllowance(piece: Piece, units: ShownUnits): Problem[] {
  const widest = Math.max(piece.allowanceMm, ...(piece.edgeAllowances ?? []).map(({ mm }) => mm));
  if (piece.line === 'cut' || widest === 0) return [];
  const width = formatLength(widest, units);
  try {
    const cut = cutShape(piece);
    const missing = piece.holes.length - cut.holes.length;
    if (missing > 0) {
      const text = `With an allowance of ${width} inside, ${missing === 1 ? 'a hole closes' : `${missing} holes close`}.`;
      return [{ level: 'info', code: 'holeCloses', text }];
    }
    if (missing === 0) return [];
    const text = `Its allowance of ${width} runs into itself across a narrow opening.`;
    return [{ level: 'warning', code: 'allowanceMeetsItself', text }];
  } catch {
    const text = `Nothing can be cut with an allowance of ${width}.`;
    return [{ level: 'error', code: 'nothingLeft', text }];
  }
}
