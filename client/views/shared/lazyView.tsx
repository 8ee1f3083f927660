import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { t } from '../../strings/index.ts';
import { Icon } from './Icon.tsx';

/** Parts of the page that are not fetched yet. */
const missing = new Set<() => Promise<void>>();

/** What is asked for by views that are on the page. */
const awaited = new Set<Promise<void>>();

export interface LazyView<P> {
  (props: P): preact.JSX.Element;
  /** Fetches its code ahead of its use. */
  fetch(): Promise<void>;
}

/**
 * A view whose code is a file of its own, fetched when it is first shown or when there is nothing else to do. Until then
 * it says that it is coming, and where it can't be had, so.
 * @param load imports the file and picks the view out of it
 */
export function lazyView<P extends object>(load: () => Promise<ComponentType<P>>): LazyView<P> {
  let View: ComponentType<P> | null = null;
  let coming: Promise<void> | null = null;
  const fetch = (): Promise<void> => {
    coming ??= load().then(
      (loaded) => {
        View = loaded;
        missing.delete(fetch);
      },
      (error: unknown) => {
        coming = null;
        throw error;
      },
    );
    return coming;
  };
  missing.add(fetch);

  function Lazy(props: P) {
    const [isMissing, setMissing] = useState(false);
    const [, redraw] = useState(0);
    const ask = (): void => {
      setMissing(false);
      const arrival = fetch().then(
        () => redraw((count) => count + 1),
        () => setMissing(true),
      );
      awaited.add(arrival);
      void arrival.then(() => awaited.delete(arrival));
    };
    const isDrawn = View !== null;
    useEffect(() => {
      if (View === null) ask();
      // It may have arrived between the first drawing and now.
      else if (!isDrawn) redraw((count) => count + 1);
    }, []);
    if (View !== null) return <View {...props} />;
    if (!isMissing) {
      return (
        <p class="waiting" role="status">
          {t.app.loading}
        </p>
      );
    }
    return (
      <div class="banner bad" role="alert">
        <Icon name="lacking" />
        <span>{t.app.partMissing}</span>
        <button type="button" onClick={ask}>
          {t.app.again}
        </button>
      </div>
    );
  }
  return Object.assign(Lazy, { fetch });
}

/**
 * Fetches all parts that are still missing, one after another, so that each is there at once and without the server
 * later. Parts of parts become known as those arrive. What can't be had is left for when it is asked for.
 */
export async function fetchTheRest(): Promise<void> {
  const tried = new Set<() => Promise<void>>();
  for (;;) {
    const next = [...missing].find((fetch) => !tried.has(fetch));
    if (!next) return;
    tried.add(next);
    await next().catch(() => {});
  }
}

/** Does something once all views on the page, and those within them, are drawn: at once, where none is on its way. */
export function viewsHere(then: () => void): void {
  if (awaited.size === 0) then();
  else {
    // What arrived is drawn within a frame; what it holds asks for its own files after that.
    const look = (): number => requestAnimationFrame(() => requestAnimationFrame(() => viewsHere(then)));
    void Promise.allSettled(awaited).then(look);
  }
}
