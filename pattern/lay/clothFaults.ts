import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Cloth, Project, Roll } from '../exchange/project.ts';
import { formatLength } from '../units/index.ts';
import type { CutDemand } from './demands.ts';

/** Something in a cloth's settings that cannot be, or that the maker may not have meant. */
export type ClothFault = Pick<Notice, 'level' | 'code' | 'text' | 'pieceId'>;

/**
 * What is wrong with a cloth for what is to be cut from it, told before any packing. With an error it cannot be laid;
 * the others are laid as they stand.
 */
export function clothFaults(
  cloth: Cloth,
  demands: readonly CutDemand[],
  units: Project['units'],
): ClothFault[] {
  const faults: ClothFault[] = [];
  const tell = (level: ClothFault['level'], code: string, text: string): void => {
    faults.push({ level, code, text: `${cloth.name}: ${text}` });
  };
  const long = (mm: number): string => formatLength(mm, units);
  if (cloth.kind === 'roll') rollFaults(cloth, long, tell);
  const box = cloth.kind === 'remnant' ? boundingBox(cloth.outline) : null;
  for (const [index, flaw] of cloth.flaws.entries()) {
    const at = boundingBox(flaw);
    const isOutside = box
      ? at.minX >= box.maxX || at.maxX <= box.minX || at.minY >= box.maxY || at.maxY <= box.minY
      : cloth.kind === 'roll' && (at.minY >= cloth.widthMm || at.maxY <= 0 || at.maxX <= 0);
    if (isOutside) {
      tell(
        'warning',
        'flawOutside',
        `flaw ${index + 1} lies outside the cloth, so it changes nothing. Check its place.`,
      );
    }
  }
  if (cloth.nap === 'upAndDown' && !demands.some(({ demand }) => (demand.sets ?? 1) > 1)) {
    tell('info', 'oneSet', 'the cut list is one set, so all its pieces point the same way.');
  }
  if (cloth.nap !== 'none' && cloth.printUp !== 'none' && cloth.nap !== 'oneWay') {
    tell(
      'info',
      'printOverNap',
      'the print has an up, which settles the direction of every piece; the nap changes nothing.',
    );
  }
  const isOneWay = cloth.printUp !== 'none' || cloth.nap === 'oneWay' || cloth.nap === 'upAndDown';
  for (const { piece } of demands) {
    if (!isOneWay || !piece.turnsOver || faults.some(({ pieceId }) => pieceId === piece.id)) continue;
    const what = cloth.printUp === 'none' ? 'its nap runs the other way' : 'the print stands on its head';
    const text = `${piece.name} is front and back in one: on ${cloth.name} ${what} at the back. Split it at the bottom: two halves, each with one more seam allowance.`;
    faults.push({ level: 'warning', code: 'upsideDownBack', text, pieceId: piece.id });
  }
  return faults;
}

function rollFaults(
  roll: Roll,
  long: (mm: number) => string,
  tell: (level: ClothFault['level'], code: string, text: string) => void,
): void {
  if (roll.usableWidthMm !== null && roll.usableWidthMm > roll.widthMm) {
    tell(
      'error',
      'usableTooWide',
      `its usable width of ${long(roll.usableWidthMm)} is more than its whole width of ${long(roll.widthMm)}. Correct one of the two.`,
    );
  }
  for (const { fromMm, toMm } of roll.fadedLines) {
    if (Math.min(fromMm, toMm) >= roll.widthMm) {
      tell(
        'warning',
        'flawOutside',
        `a faded line ${long(Math.min(fromMm, toMm))} from the selvedge lies outside the cloth, so it changes nothing. Check its place.`,
      );
    }
  }
  if (roll.repeat !== null) {
    const { alongMm, acrossMm } = roll.repeat;
    if (acrossMm > roll.widthMm) {
      tell(
        'error',
        'repeatTooLarge',
        `its repeat of ${long(acrossMm)} across is more than its width of ${long(roll.widthMm)}. Measure it from one motif to the same point of the next.`,
      );
    }
    if (roll.availableMm !== null && alongMm > roll.availableMm) {
      tell(
        'error',
        'repeatTooLarge',
        `its repeat of ${long(alongMm)} along is more than the ${long(roll.availableMm)} there are. Measure it from one motif to the same point of the next.`,
      );
    }
  }
}
