/**
 * Arriving at a place that was pointed at: it is brought into view, marked, and has the focus, so that hands, eyes and a
 * screen reader begin there. Places are named by `data-spot`.
 */

const CONTROLS = 'input, select, textarea, button, a[href], summary';
/** What is pointed at keeps its mark until the focus leaves it. */
const MARK = 'pointed-at';

/** @returns whether there was such a place, or one near it */
export function pointAt(spot: string): boolean {
  // A piece worked out from others has its steps where a drawn one has its parts.
  const place =
    document.querySelector<HTMLElement>(`[data-spot="${CSS.escape(spot)}"]`) ??
    document.querySelector<HTMLElement>('[data-spot="variant"]');
  if (!place) return false;
  for (let up: Element | null = place; up; up = up.parentElement)
    if (up instanceof HTMLDetailsElement) up.open = true;
  place.scrollIntoView({ block: 'center' });
  const control = [
    ...(place.matches(CONTROLS) ? [place] : place.querySelectorAll<HTMLElement>(CONTROLS)),
  ].find(isReachable);
  const target = control ?? place;
  if (!control) place.tabIndex = -1;
  target.focus({ preventScroll: true });
  place.classList.add(MARK);
  const leave = (event: FocusEvent): void => {
    if (event.relatedTarget instanceof Node && place.contains(event.relatedTarget)) return;
    place.classList.remove(MARK);
    place.removeEventListener('focusout', leave);
  };
  place.addEventListener('focusout', leave);
  return true;
}

function isReachable(control: HTMLElement): boolean {
  if (control.matches(':disabled')) return false;
  return control.checkVisibility();
}
