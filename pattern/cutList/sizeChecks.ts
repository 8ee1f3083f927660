import type { Notice } from '../exchange/lay.ts';
import type { Piece, Project } from '../exchange/project.ts';
import { checkPiece, shapeSize, wholeShape } from '../pieces/index.ts';
import { formatLength } from '../units/index.ts';
import { copiesOf } from './totals.ts';

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
export function sizeHints(project: Project): Notice[] {
  const cut = new Set(project.cutList.filter((row) => copiesOf(row) > 0).map(({ pieceId }) => pieceId));
  const sound = project.pieces.filter(
    (piece) => cut.has(piece.id) && !checkPiece(piece).some(({ level }) => level === 'error'),
  );
  return [...nearlyAlike(sound, project.units), ...mixedAllowances(sound, project.units)];
}

function nearlyAlike(pieces: readonly Piece[], units: Project['units']): Notice[] {
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
        dx >= SAME_MM ? `${formatLength(dx, units)} in width` : '',
        dy >= SAME_MM ? `${formatLength(dy, units)} in height` : '',
      ].filter((part) => part !== '');
      const text = `${one.piece.name} and ${other.piece.name} are nearly the same size but differ by ${parts.join(' and ')}. Is that meant?`;
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

function mixedAllowances(pieces: readonly Piece[], units: Project['units']): Notice[] {
  const told = pieces.filter(({ allowanceMm }) => allowanceMm > 0);
  const untold = pieces.filter(({ line, allowanceMm }) => line === 'cut' && allowanceMm === 0);
  const found: Notice[] = [];
  if (told.length > 0 && untold.length > 0) {
    const text = `${named(untold)} ${untold.length === 1 ? 'does' : 'do'} not say how much allowance is in the cut line; ${told.length} of the pieces do.`;
    found.push({ level: 'info', code: 'allowanceUntold', text, pieceId: untold[0]!.id });
  }
  const widths = new Map<number, Piece[]>();
  for (const piece of told) {
    const key = Math.round(piece.allowanceMm * 10) / 10;
    widths.set(key, [...(widths.get(key) ?? []), piece]);
  }
  const [usual, ...others] = [...widths].sort((a, b) => b[1].length - a[1].length);
  for (const [mm, odd] of others.slice(0, MOST)) {
    const text = `${named(odd)} ${odd.length === 1 ? 'has' : 'have'} an allowance of ${formatLength(mm, units)}, most others ${formatLength(usual![0], units)}.`;
    found.push({ level: 'info', code: 'allowancesDiffer', text, pieceId: odd[0]!.id });
  }
  return found;
}

function named(pieces: readonly Piece[]): string {
  const names = pieces.slice(0, 3).map(({ name }) => name);
  const more = pieces.length - names.length;
  if (more > 0) return `${names.join(', ')} and ${more} more`;
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
