import type { ReadDrawing, SvgReading } from './drawing.ts';
import { readSvg } from './svg.ts';

/**
 * The same drawing with all sizes multiplied by `factor`, after earlier corrections. The file is read anew, so that
 * curves stay within `FLATTENING_MM` of the true ones whatever the factor.
 *
 * Throws RangeError for a factor that is not a number between 0.001 and 1000.
 */
export function scaleReading(reading: ReadDrawing, factor: number): SvgReading {
  checkFactor(factor, 'scaleReading: factor');
  return readSvg(reading.source, reading.fileName, reading.scale.factor * factor);
}

/**
 * The factor for `scaleReading` if something that measures `drawnMm` in the reading is truly `trueMm` long. Throws
 * RangeError if either is not a positive number or they differ more than a thousandfold.
 */
export function scaleFromKnown(drawnMm: number, trueMm: number): number {
  if (!(drawnMm > 0 && trueMm > 0) || !Number.isFinite(drawnMm) || !Number.isFinite(trueMm))
    throw new RangeError(`scaleFromKnown: lengths must be greater than zero (${drawnMm}, ${trueMm})`);
  return checkFactor(trueMm / drawnMm, 'scaleFromKnown: ratio');
}

function checkFactor(factor: number, what: string): number {
  if (!(factor >= 1e-3 && factor <= 1e3))
    throw new RangeError(`${what} must lie between 0.001 and 1000 (${factor})`);
  return factor;
}
