import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Cloth, Project, Roll } from '../exchange/project.ts';
import { formatLength } from '../units/index.ts';
import type { CutDemand } from './demands.ts';
import { listOf } from './words.ts';

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
  borderFaults(cloth, demands, long, tell);
  if (cloth.repeat && cloth.repeat.skewDeg !== 0 && cloth.repeat.follow === 'grain') {
    const per = Math.abs(Math.tan((cloth.repeat.skewDeg * Math.PI) / 180)) * SKEW_TOLD_OVER_MM;
    tell(
      'info',
      'printAslant',
      `its print runs ${Math.abs(cloth.repeat.skewDeg)}° off the grain and the pieces keep to the grain, so the print runs aslant over them: by ${long(Math.round(per))} in ${long(SKEW_TOLD_OVER_MM)}.`,
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

/** How far a print runs aslant is told over such a length, mm. */
const SKEW_TOLD_OVER_MM = 300;

function borderFaults(
  cloth: Cloth,
  demands: readonly CutDemand[],
  long: (mm: number) => string,
  tell: (level: ClothFault['level'], code: string, text: string) => void,
): void {
  const sitting = [
    ...new Set(demands.filter(({ demand }) => demand.onBorder).map(({ piece }) => piece.name)),
  ];
  if (cloth.border === null) {
    if (sitting.length > 0) {
      tell(
        'warning',
        'noBorder',
        `${listOf(sitting)} is to sit on a border, but this cloth has none: it lies anywhere. Say where the border is, with the repeat.`,
      );
    }
    return;
  }
  const box = cloth.kind === 'remnant' ? boundingBox(cloth.outline) : null;
  const width = cloth.kind === 'roll' ? cloth.widthMm : box ? box.maxY - box.minY : 0;
  const { fromEdgeMm, depthMm, side } = cloth.border;
  if ((fromEdgeMm + depthMm) * (side === 'both' ? 2 : 1) >= width) {
    tell(
      'error',
      'borderTooDeep',
      `its border reaches ${long(fromEdgeMm + depthMm)} from the edge${side === 'both' ? ' on both sides' : ''}, and the cloth is ${long(width)} wide. Correct one of the two.`,
    );
  }
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
