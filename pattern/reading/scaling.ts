import type { ReadDrawing, Reading } from './drawing.ts';
import { readDxf } from './dxf.ts';
import { scaledDrawing } from './scaledDrawing.ts';
import { readSvg } from './svg.ts';

/**
 * The same drawing with all sizes multiplied by `factor`, after earlier corrections. An SVG or DXF is read anew, so
 * that curves stay within `FLATTENING_MM` of the true ones whatever the factor; a PDF, read finer than that, is scaled
 * as it is, which keeps them so up to a factor of `PDF_SPARE` (beyond it `readPdf` with the factor does).
 *
 * Throws RangeError for a factor that is not a number between 0.001 and 1000.
 */
export function scaleReading(reading: ReadDrawing, factor: number): Reading {
  checkFactor(factor, 'scaleReading: factor');
  const whole = reading.scale.factor * factor;
  if (reading.format === 'pdf') return scaledDrawing(reading, factor);
  if (reading.format === 'dxf') {
    const layers = reading.layers?.filter(({ read }) => read).map(({ id }) => id);
    return readDxf(reading.source, reading.fileName, { factor: whole, ...(layers ? { layers } : {}) });
  }
  return readSvg(reading.source, reading.fileName, whole);
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
