import { union } from '../../nesting/geometry/boolean.ts';
import { cleanRing, counterClockwise, distance, signedArea } from '../../nesting/geometry/rings.ts';
import { selfIntersections } from '../../nesting/geometry/validity.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Piece } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { stretchBetween, stretchPoints } from '../parts/stretch.ts';
import type { ShownUnits } from '../units/index.ts';
import { checkPiece, type Problem } from './checkPiece.ts';
import { FOLD_LINE_MM } from './tolerances.ts';
import { withoutRepeats } from './withoutRepeats.ts';
import { type PieceWords, pieceWords } from './words/index.ts';

export interface MendedPiece {
  /** The piece as far as it could be mended; the same object if nothing was done. */
  readonly piece: Piece;
  /** What was done, a sentence each. */
  readonly mended: readonly string[];
  /** What is left; without an error the piece can be cut. */
  readonly problems: readonly Problem[];
}

/** Loops that hold no more than this part of an outline's area are slips of the pen and may be cut off. */
const SLIP_PART = 0.01;

/**
 * Mends what can be mended without guessing: rings run the right way, points and spikes that enclose nothing go, small
 * loops where an outline crosses itself are cut off, and an outline that runs in to a cut-out and back on the same
 * line becomes an outline with a hole. An outline that crosses itself into parts of some size is left as it is, with
 * its error.
 */
export function mendPiece(
  piece: Piece,
  units: ShownUnits = 'cm',
  language: Language = USUAL_LANGUAGE,
): MendedPiece {
  const words = pieceWords(language).mended;
  const finite = [piece.outline, ...piece.holes].every((ring) =>
    ring.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)),
  );
  if (!finite) return { piece, mended: [], problems: checkPiece(piece, units, language) };
  const outer = mendRing(piece.outline, null, words);
  const holes = piece.holes.map((hole, i) => mendRing(hole, i + 1, words));
  const mended = [outer, ...holes].flatMap((ring) => ring.notes);
  piece.holes.forEach((hole, i) => {
    if (holes[i]!.sound && signedArea(hole) > 0) mended.push(words.holeTurned(i + 1));
  });
  const turned = outer.sound && signedArea(piece.outline) < 0;
  if (turned) mended.push(words.turned);
  if (mended.length === 0 || outer.outer.length < 3)
    return { piece, mended: [], problems: checkPiece(piece, units, language) };
  const foldEdge = piece.foldEdge === null ? null : sameEdge(piece.outline, piece.foldEdge, outer.outer);
  if (foldEdge === null && piece.foldEdge !== null) {
    mended.push(words.foldLost);
  }
  const openJoints = (piece.openJoints ?? []).flatMap(({ letter, ...stretch }) => {
    const found = stretchBetween(outer.outer, stretchPoints(piece.outline, stretch) ?? []);
    return found ? [{ letter, ...found }] : [];
  });
  const result: Piece = {
    ...piece,
    ...(piece.openJoints ? { openJoints } : {}),
    outline: outer.outer,
    holes: [...outer.holes, ...holes.map((hole) => hole.outer)]
      .filter((hole) => hole.length >= 3)
      .map((hole) => [...hole].reverse()),
    foldEdge,
  };
  return { piece: result, mended, problems: checkPiece(result, units, language) };
}

interface MendedRing {
  /** Counter-clockwise; empty if nothing is enclosed. */
  readonly outer: Outline;
  /** Counter-clockwise too. */
  readonly holes: readonly Outline[];
  /** What was done besides turning it round. */
  readonly notes: readonly string[];
  /** Free of crossings now. */
  readonly sound: boolean;
}

/** The ring counter-clockwise and mended as far as possible. A sound ring keeps all its points. */
function mendRing(ring: Outline, hole: number | null, words: PieceWords['mended']): MendedRing {
  const tidy = counterClockwise(cleanRing(ring));
  if (tidy.length < 3) return { outer: [], holes: [], notes: [words.empty(hole)], sound: false };
  if (selfIntersections(withoutRepeats(ring), 1).length === 0) {
    return { outer: counterClockwise(ring), holes: [], notes: [], sound: true };
  }
  if (selfIntersections(tidy, 1).length === 0) {
    return {
      outer: tidy,
      holes: [],
      notes: [words.spikes(hole)],
      sound: true,
    };
  }
  const parts = union([tidy], 'nonzero').sort((a, b) => signedArea(b.outer) - signedArea(a.outer));
  const whole = parts.reduce((sum, part) => sum + signedArea(part.outer), 0);
  const [largest] = parts;
  if (!largest || whole - signedArea(largest.outer) > SLIP_PART * whole || !isNearly(tidy, largest)) {
    return { outer: ring, holes: [], notes: [], sound: false };
  }
  const note = largest.holes.length > 0 ? words.becameHole(hole) : words.loop(hole);
  return {
    outer: cleanRing(largest.outer),
    holes: largest.holes.map(counterClockwise),
    notes: [note],
    sound: true,
  };
}

/** Whether the areas agree, loops that count double or backwards apart. */
function isNearly(ring: Outline, part: { outer: Outline; holes: readonly Outline[] }): boolean {
  const net = signedArea(part.outer) - part.holes.reduce((sum, hole) => sum + Math.abs(signedArea(hole)), 0);
  return Math.abs(Math.abs(signedArea(ring)) - net) <= 2 * SLIP_PART * net;
}

/** The edge of `after` that lies on edge `edge` of `before`, or null. */
function sameEdge(before: Outline, edge: number, after: Outline): number | null {
  const a = before[edge];
  const b = before[(edge + 1) % before.length];
  if (!a || !b) return null;
  const on = (p: Point): boolean => {
    const length = distance(a, b);
    if (length === 0) return false;
    const off = Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length;
    return off <= FOLD_LINE_MM;
  };
  const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const found = after.findIndex((p, i) => {
    const q = after[(i + 1) % after.length]!;
    if (!on(p) || !on(q)) return false;
    return distance(p, middle) + distance(middle, q) - distance(p, q) <= 2 * FOLD_LINE_MM;
  });
  return found < 0 ? null : found;
}
