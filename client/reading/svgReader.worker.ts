import type { SvgReading } from '../../pattern/reading/drawing.ts';
import { readSvg } from '../../pattern/reading/svg.ts';
import type { ReadingOrder } from './readDrawing.ts';

/** Reads drawings away from the page, so that a large or hostile file can neither freeze nor crash it. */
self.addEventListener('message', (event: MessageEvent<ReadingOrder>) => {
  const { bytes, fileName, factor } = event.data;
  const reading: SvgReading = readSvg(bytes, fileName, factor);
  self.postMessage(reading);
});
