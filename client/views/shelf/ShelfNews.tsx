import { t } from '../../strings/index.ts';
import { useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { shelfHere } from './shelfHere.ts';

/** What was just done on the shelf, with a button that takes it back: inside the window that did it. */
export function ShelfNews() {
  const news = useStore(shelfHere.news);
  return (
    <div class="shelf-news" role="status">
      {news && (
        <p class={news.isBad ? 'banner bad' : 'banner'}>
          <Icon name={news.isBad ? 'lacking' : 'settled'} />
          <span>{news.text}</span>
          {news.takeBack && (
            <button type="button" onClick={() => void news.takeBack?.()}>
              {t.shelf.undo}
            </button>
          )}
        </p>
      )}
    </div>
  );
}
