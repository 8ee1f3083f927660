import { readAnyDrawing } from '../../pattern/reading/anyDrawing.ts';
import type { ReadingNews, ReadingOrder } from './readDrawing.ts';

/**
 * Reads drawings away from the page, so that a large or hostile file can neither freeze nor crash it. The engine for
 * PDF is a part of its own, loaded when the first PDF comes.
 */
self.addEventListener('message', (event: MessageEvent<ReadingOrder>) => {
  const { bytes, fileName, options, language } = event.data;
  const tell = (news: ReadingNews): void => self.postMessage(news);
  const onPage = (done: number, of: number): void => tell({ kind: 'page', done, of });
  void readAnyDrawing(bytes, fileName, { ...options, language, onPage }).then((reading) =>
    tell({ kind: 'reading', reading }),
  );
});
