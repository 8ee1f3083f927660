import { readAnyDrawing } from '../../pattern/reading/anyDrawing.ts';
import type { ReadingOrder } from './readDrawing.ts';

/**
 * Reads drawings away from the page, so that a large or hostile file can neither freeze nor crash it. The engine for
 * PDF is a part of its own, loaded when the first PDF comes.
 */
self.addEventListener('message', (event: MessageEvent<ReadingOrder>) => {
  const { bytes, fileName, options } = event.data;
  void readAnyDrawing(bytes, fileName, options).then((reading) => self.postMessage(reading));
});
