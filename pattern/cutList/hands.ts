import { normaliseDegrees } from '../../nesting/geometry/transforms.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Cloth, CutRow, Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { checkPiece, mirrorTurns, wholeShape } from '../pieces/index.ts';
import { SAME_DIRECTION_DEG } from '../pieces/tolerances.ts';
import { type CutListWords, cutListWords } from './words/index.ts';

/** How far a mirror image may miss the piece, in mm, and count as the same: less than anyone cuts. */
export const SAME_SHAPE_MM = 0.2;

/**
 * Whether a piece is its own mirror image in a way that can be used on cloth: laid by its grain it looks the same whichever
 * hand was asked for. On cloth with an up (`oneWay`) its top must point the same way too. Such a piece needs no hands.
 * A faulty piece counts as having hands.
 */
export function needsNoHands(piece: Piece, oneWay: boolean): boolean {
  if (checkPiece(piece).some((problem) => problem.level === 'error')) return false;
  // Mirrored and turned by t, a direction d points to 180 − d + t.
  const meets = (turn: number): boolean =>
    oneWay
      ? isNear(180 - piece.topDeg + turn, piece.topDeg, 360)
      : isNear(180 - piece.grainDeg + turn, piece.grainDeg, 180);
  return mirrorTurns(wholeShape(piece), SAME_SHAPE_MM).some(meets);
}

function isNear(a: number, b: number, period: 180 | 360): boolean {
  const apart = normaliseDegrees(a - b) % period;
  return Math.min(apart, period - apart) <= SAME_DIRECTION_DEG;
}

/** Whether pieces have an up on this cloth. */
function hasUp(cloth: Cloth): boolean {
  return cloth.nap === 'oneWay' || cloth.printUp !== 'none';
}

/**
 * Rows whose hands look unintended: a piece with a left and a right hand that does not pair, hands asked of a piece that
 * has none, on-fold counts that don't go with the piece. One notice a row at most.
 */
export function handWarnings(project: Project, language: Language = USUAL_LANGUAGE): Notice[] {
  const words = cutListWords(language);
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const materials = new Map(project.materials.map((material) => [material.id, material.name]));
  const known = new Map<string, boolean>();
  const paired = pairedPieces(project.cutList);
  return project.cutList.flatMap((row): Notice[] => {
    const piece = pieces.get(row.pieceId);
    const material = materials.get(row.materialId);
    if (!piece || material === undefined) return [];
    const oneWay = project.cloths.some((cloth) => cloth.materialId === row.materialId && hasUp(cloth));
    const handless = (): boolean => {
      const key = `${piece.id} ${oneWay}`;
      const answer = known.get(key) ?? needsNoHands(piece, oneWay);
      known.set(key, answer);
      return answer;
    };
    const hands = (): Notice | null =>
      handNotice(row, piece, material, { handless, pairsElsewhere: paired.has(piece.id) }, words);
    const notice = foldNotice(row, piece, material, words) ?? hands();
    return notice ? [{ ...notice, pieceId: piece.id, materialId: row.materialId }] : [];
  });
}

function foldNotice(row: CutRow, piece: Piece, material: string, words: CutListWords): Notice | null {
  if (row.onFold > 0 && piece.foldEdge === null) {
    const text = words.foldWithoutEdge(piece.name, material);
    return { level: 'error', code: 'onFoldWithoutFold', text };
  }
  const halves = row.plain + row.mirrored;
  if (piece.foldEdge !== null && halves > 0) {
    const text = words.halfWithoutFold(piece.name, material, halves);
    return { level: 'warning', code: 'halfWithoutFold', text };
  }
  return null;
}

/** Pieces whose hands are even over all materials: an outside of one hand with a lining of the other. */
function pairedPieces(rows: readonly CutRow[]): Set<string> {
  const surplus = new Map<string, number>();
  for (const { pieceId, plain, mirrored } of rows) {
    surplus.set(pieceId, (surplus.get(pieceId) ?? 0) + plain - mirrored);
  }
  return new Set([...surplus].filter(([, over]) => over === 0).map(([id]) => id));
}

function handNotice(
  { plain, mirrored }: CutRow,
  piece: Piece,
  material: string,
  facts: { readonly handless: () => boolean; readonly pairsElsewhere: boolean },
  words: CutListWords,
): Notice | null {
  // A single copy is one hand on purpose; equal numbers pair.
  if (plain === mirrored || plain + mirrored < 2) return null;
  if (facts.handless()) {
    if (mirrored === 0) return null;
    const text = words.handsNotNeeded(piece.name, plain, mirrored, material, plain + mirrored);
    return { level: 'info', code: 'handsNotNeeded', text };
  }
  if (facts.pairsElsewhere) return null;
  const text = words.handsUnpaired(piece.name, plain, mirrored, material);
  // An even number of one hand is the classic mistake; an odd one may be meant.
  const even = (plain + mirrored) % 2 === 0;
  return { level: even || (plain > 0 && mirrored > 0) ? 'warning' : 'info', code: 'handsUnpaired', text };
}
