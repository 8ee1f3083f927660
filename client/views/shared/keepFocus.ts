/** Things whose beginning is a good place to go on from. */
const HOMES = 'section[aria-label], article, dialog, fieldset, nav, header, main';
const STOPS = 'button:not(:disabled), a[href], input:not(:disabled), select:not(:disabled), summary';

/**
 * Keeps the focus on the page. A press often takes away what was pressed (a row removed, a panel that has done its work, a
 * button with nothing left to do); the browser then forgets where the maker was, and the next Tab begins at the top. Here the
 * focus goes to what stands beside it, or to what it stood in.
 */
export function keepFocus(): void {
  let last: Element | null = null;
  let around: readonly Element[] = [];

  const isGone = (element: Element): boolean => !element.isConnected || element.matches(':disabled');
  const look = (): void => {
    // What was disabled a moment ago still passes for the place of the focus.
    const isElsewhere = document.activeElement !== document.body && document.activeElement !== last;
    if (last === null || !isGone(last) || isElsewhere) return;
    const beside = last.isConnected ? last.parentElement?.querySelector<HTMLElement>(STOPS) : null;
    const home = beside ?? around.find((element) => element.isConnected && element.matches(HOMES));
    last = null;
    if (!(home instanceof HTMLElement)) return;
    if (!home.matches(STOPS) && !home.hasAttribute('tabindex')) home.tabIndex = -1;
    home.focus({ preventScroll: true });
  };
  let isDue = false;
  /** After the views have had their turn: one of them may have given the focus away itself. */
  const lookSoon = (): void => {
    if (isDue || last === null || !isGone(last)) return;
    isDue = true;
    requestAnimationFrame(() => {
      isDue = false;
      look();
    });
  };

  document.addEventListener('focusin', ({ target }) => {
    if (!(target instanceof Element)) return;
    last = target;
    const above: Element[] = [];
    for (let at = target.parentElement; at; at = at.parentElement) above.push(at);
    around = above;
  });
  document.addEventListener('focusout', ({ target, relatedTarget }) => {
    if (relatedTarget !== null) return;
    // A press on empty ground lets go on purpose; what is taken away is gone a moment later.
    queueMicrotask(() => {
      if (last === target && last !== null && !isGone(last)) last = null;
    });
  });
  new MutationObserver(lookSoon).observe(document.body, {
    subtree: true,
    childList: true,
    attributeFilter: ['disabled'],
  });
}
