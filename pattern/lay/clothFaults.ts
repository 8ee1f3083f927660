import type { Demand } from '../../nesting/cloth/index.ts';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Cloth, Piece, Project, Roll } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { formatLength, formatNumber } from '../units/index.ts';
import { type LayWords, layWords } from './words/index.ts';

/** Something in a cloth's settings that cannot be, or that the maker may not have meant. */
export type ClothFault = Pick<Notice, 'level' | 'code' | 'text' | 'pieceId'>;

/** What of a demand a cloth's settings may be wrong for. */
export interface AskedOfCloth {
  readonly demand: Pick<Demand, 'sets' | 'onBorder'>;
  readonly piece: Piece;
}

/**
 * What is wrong with a cloth for what is to be cut from it, told before any packing. With an error it cannot be laid;
 * the others are laid as they stand.
 */
export function clothFaults(
  cloth: Cloth,
  demands: readonly AskedOfCloth[],
  units: Project['units'],
  language: Language = USUAL_LANGUAGE,
): ClothFault[] {
  const words = layWords(language);
  const faults: ClothFault[] = [];
  const tell = (level: ClothFault['level'], code: string, text: string): void => {
    faults.push({ level, code, text: words.about(cloth.name, text) });
  };
  const long = (mm: number): string => formatLength(mm, units, language);
  if (cloth.kind === 'roll') rollFaults(cloth, words.cloth, long, tell);
  const box = cloth.kind === 'remnant' ? boundingBox(cloth.outline) : null;
  for (const [index, flaw] of cloth.flaws.entries()) {
    const at = boundingBox(flaw);
    const isOutside = box
      ? at.minX >= box.maxX || at.maxX <= box.minX || at.minY >= box.maxY || at.maxY <= box.minY
      : cloth.kind === 'roll' && (at.minY >= cloth.widthMm || at.maxY <= 0 || at.maxX <= 0);
    if (isOutside) {
      tell('warning', 'flawOutside', words.cloth.flawOutside(index + 1));
    }
  }
  if (cloth.nap === 'upAndDown' && !demands.some(({ demand }) => (demand.sets ?? 1) > 1)) {
    tell('info', 'oneSet', words.cloth.oneSet);
  }
  if (cloth.nap !== 'none' && cloth.printUp !== 'none' && cloth.nap !== 'oneWay') {
    tell('info', 'printOverNap', words.cloth.printOverNap);
  }
  if (box && cloth.repeat) {
    const { alongMm, acrossMm } = cloth.repeat;
    const [along, across] = [box.maxX - box.minX, box.maxY - box.minY];
    if (acrossMm > across) {
      tell('warning', 'repeatTooLarge', words.cloth.repeatOverRemnant(long(acrossMm), long(across), false));
    } else if (alongMm > along) {
      tell('warning', 'repeatTooLarge', words.cloth.repeatOverRemnant(long(alongMm), long(along), true));
    }
  }
  borderFaults(cloth, demands, words, long, tell);
  if (cloth.repeat && cloth.repeat.skewDeg !== 0 && cloth.repeat.follow === 'grain') {
    const per = Math.abs(Math.tan((cloth.repeat.skewDeg * Math.PI) / 180)) * SKEW_TOLD_OVER_MM;
    tell(
      'info',
      'printAslant',
      words.cloth.printAslant(
        formatNumber(Math.abs(cloth.repeat.skewDeg), language),
        long(Math.round(per)),
        long(SKEW_TOLD_OVER_MM),
      ),
    );
  }
  const isOneWay = cloth.printUp !== 'none' || cloth.nap === 'oneWay' || cloth.nap === 'upAndDown';
  for (const { piece } of demands) {
    if (!isOneWay || faults.some(({ pieceId }) => pieceId === piece.id)) continue;
    if (piece.turnsOver) {
      const at = piece.turnsAt ?? 'bottom';
      const text = words.cloth.upsideDownBack(piece.name, cloth.name, cloth.printUp !== 'none', at);
      faults.push({ level: 'warning', code: 'upsideDownBack', text, pieceId: piece.id });
    } else if (piece.source?.kind === 'shape' && piece.source.shape === 'strap' && cloth.printUp !== 'none') {
      const text = words.cloth.strapTurns(piece.name, cloth.name);
      faults.push({ level: 'info', code: 'strapTurns', text, pieceId: piece.id });
    }
  }
  return faults;
}

/** How far a print runs aslant is told over such a length, mm. */
const SKEW_TOLD_OVER_MM = 300;

function borderFaults(
  cloth: Cloth,
  demands: readonly AskedOfCloth[],
  words: LayWords,
  long: (mm: number) => string,
  tell: (level: ClothFault['level'], code: string, text: string) => void,
): void {
  const sitting = [
    ...new Set(demands.filter(({ demand }) => demand.onBorder).map(({ piece }) => piece.name)),
  ];
  if (cloth.border === null) {
    if (sitting.length > 0) {
      tell('warning', 'noBorder', words.cloth.noBorder(words.list(sitting)));
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
      words.cloth.borderTooDeep(long(fromEdgeMm + depthMm), side === 'both', long(width)),
    );
  }
}

function rollFaults(
  roll: Roll,
  words: LayWords['cloth'],
  long: (mm: number) => string,
  tell: (level: ClothFault['level'], code: string, text: string) => void,
): void {
  if (roll.usableWidthMm !== null && roll.usableWidthMm > roll.widthMm) {
    tell('error', 'usableTooWide', words.usableTooWide(long(roll.usableWidthMm), long(roll.widthMm)));
  }
  for (const { fromMm, toMm } of roll.fadedLines) {
    if (Math.min(fromMm, toMm) >= roll.widthMm) {
      tell('warning', 'flawOutside', words.fadedOutside(long(Math.min(fromMm, toMm))));
    }
  }
  if (roll.repeat !== null) {
    const { alongMm, acrossMm } = roll.repeat;
    if (acrossMm > roll.widthMm) {
      tell('error', 'repeatTooLarge', words.repeatAcross(long(acrossMm), long(roll.widthMm)));
    }
    if (roll.availableMm !== null && alongMm > roll.availableMm) {
      tell('error', 'repeatTooLarge', words.repeatAlong(long(alongMm), long(roll.availableMm)));
    }
  }
}
