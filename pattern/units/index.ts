export {
  ABOUT,
  formatArea,
  formatDecimals,
  formatForField,
  formatHideArea,
  formatInField,
  formatLength,
  formatNumber,
  formatPurchase,
  formatSize,
  MM2_PER_SQUARE_FOOT,
  roundUpToStep,
  unitName,
} from './formatLength.ts';
export { type LengthUnit, MM_PER, MM_PER_INCH, MM_PER_YARD, type ShownUnits, toMm } from './length.ts';
export { type ParsedLength, parseLength } from './parseLength.ts';
export { type Quantity, quantityFault, scanQuantity, scanUnit } from './scanQuantity.ts';
