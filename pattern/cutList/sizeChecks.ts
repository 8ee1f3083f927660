import type { Notice } from '../exchange/lay.ts';
import type { Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { checkPiece, shapeSize, wholeShape } from '../pieces/index.ts';
import { formatLength } from '../units/index.ts';
import { copiesOf } from './totals.ts';
import { type CutListWords, cutListWords } from './words/index.ts';

/** Sizes that differ by less are the same, mm: nobody cuts finer. */
const SAME_MM = 0.5;
/** Sizes that differ by no more than this part of the larger one are probably meant to be the same. */
const NEARLY = 0.05;
/** No more than so many notices of a kind: a list that long is not read. */
const MOST = 6;

interface Sized {
  readonly piece: Piece;
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * What may be wrong with sizes although every piece is sound by itself: pieces of one name that are nearly, but not
 * quite, as large as each other (a part of another size traced by mistake, a misprint), and allowances that some pieces
 * tell and others don't, or that differ. All of it may be meant, so nothing is more than a hint. Only pieces that are
 * cut count; a variant that follows its piece is different on purpose.
 */
export function sizeHints(project: Project, language: Language = USUAL_LANGUAGE): Notice[] {
  const cut = new Set(project.cutList.filter((row) => copiesOf(row) > 0).map(({ pieceId }) => pieceId));
  const sound = project.pieces.filter(
    (piece) => cut.has(piece.id) && !checkPiece(piece).some(({ level }) => level === 'error'),
  );
  return [...nearlyAlike(sound, project.units, language), ...mixedAllowances(sound, project.units, language)];
}

function nearlyAlike(pieces: readonly Piece[], units: Project['units'], language: Language): Notice[] {
  const words = cutListWords(language);
  const sized = pieces
    .filter(({ variant }) => !variant)
    .map((piece): Sized => {
      const { widthMm, heightMm } = shapeSize(wholeShape(piece), piece.grainDeg);
      return { piece, widthMm, heightMm };
    });
  const found: Notice[] = [];
  sized.forEach((one, i) => {
    for (const other of sized.slice(i + 1)) {
      if (found.length >= MOST) return;
      const [dx, dy] = [Math.abs(one.widthMm - other.widthMm), Math.abs(one.heightMm - other.heightMm)];
      const isNear =
        dx <= NEARLY * Math.max(one.widthMm, other.widthMm) &&
        dy <= NEARLY * Math.max(one.heightMm, other.heightMm);
      if (!isNear || Math.max(dx, dy) < SAME_MM || !shareName(one.piece.name, other.piece.name)) continue;
      const parts = [
        dx >= SAME_MM ? words.inWidth(formatLength(dx, units, language)) : '',
        dy >= SAME_MM ? words.inHeight(formatLength(dy, units, language)) : '',
      ].filter((part) => part !== '');
      const text = words.nearlyAlike(one.piece.name, other.piece.name, parts);
      found.push({ level: 'info', code: 'nearlyAlike', text, pieceId: other.piece.id });
    }
  });
  return found;
}

/** Whether the first word of both names is the same: "Panel, outer" and "Panel lining". */
function shareName(a: string, b: string): boolean {
  const first = (name: string): string => /[\p{L}\p{N}]+/u.exec(name.toLowerCase())?.[0] ?? '';
  return first(a) !== '' && first(a) === first(b);
}

function mixedAllowances(pieces: readonly Piece[], units: Project['units'], language: Language): Notice[] {
  const words = cutListWords(language);
  const told = pieces.filter(({ allowanceMm }) => allowanceMm > 0);
  const untold = pieces.filter(({ line, allowanceMm }) => line === 'cut' && allowanceMm === 0);
  const found: Notice[] = [];
  if (told.length > 0 && untold.length > 0) {
    const text = words.allowanceUntold(named(untold, words), untold.length, told.length);
    found.push({ level: 'info', code: 'allowanceUntold', text, pieceId: untold[0]!.id });
  }
  const widths = new Map<number, Piece[]>();
  for (const piece of told) {
    const key = Math.round(piece.allowanceMm * 10) / 10;
    widths.set(key, [...(widths.get(key) ?? []), piece]);
  }
  const [usual, ...others] = [...widths].sort((a, b) => b[1].length - a[1].length);
  for (const [mm, odd] of others.slice(0, MOST)) {
    const long = (length: number): string => formatLength(length, units, language);
    const text = words.allowancesDiffer(named(odd, words), odd.length, long(mm), long(usual![0]));
    found.push({ level: 'info', code: 'allowancesDiffer', text, pieceId: odd[0]!.id });
  }
  return found;
}

function named(pieces: readonly Piece[], words: CutListWords): string {
  const names = pieces.slice(0, 3).map(({ name }) => name);
  return words.named(names, pieces.length - names.length);
}
