import { type DxfOptions, type ReadDrawing, readDxf } from '../../../pattern/reading/index.ts';
import { type DxfParts, dxf, type Rec } from '../dxfText.ts';
import { drawn } from '../readings.ts';

/** Reads a DXF that is written for the test. */
export const readParts = (parts: DxfParts, options: DxfOptions = {}): ReadDrawing =>
  drawn(readDxf(dxf(parts), 'test.dxf', options));

/** Reads a DXF in millimetres that holds nothing but these entities. */
export const readEntities = (...records: Rec[]): ReadDrawing => readParts({ entities: records });
