import * as units from '../../pattern/units/index.ts';
import { language } from './index.ts';

/** Lengths and areas as they are read in the language shown; see `pattern/units` for what each says. */

/** The unit as it stands behind a field. */
export const unitName = (shown: units.ShownUnits): string => units.unitName(shown, language);

export const formatLength = (mm: number, shown: units.ShownUnits): string =>
  units.formatLength(mm, shown, language);

export const formatSize = (widthMm: number, heightMm: number, shown: units.ShownUnits): string =>
  units.formatSize(widthMm, heightMm, shown, language);

export const formatArea = (mm2: number, shown: units.ShownUnits): string =>
  units.formatArea(mm2, shown, language);

export const formatPurchase = (mm: number, shown: units.ShownUnits): string =>
  units.formatPurchase(mm, shown, language);

export const formatForField = (mm: number, shown: units.ShownUnits): string =>
  units.formatForField(mm, shown, language);

export const formatInField = (mm: number, shown: units.ShownUnits): string =>
  units.formatInField(mm, shown, language);

export const formatHideArea = (mm2: number, shown: units.ShownUnits): string =>
  units.formatHideArea(mm2, shown, language);
