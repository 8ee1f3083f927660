/** What becomes of a drag: every move of its pointer, and its end, which may be a cancelled one. */
export interface DragListener {
  move(event: PointerEvent): void;
  end(phase: 'end' | 'cancel'): void;
}

/**
 * Follows the pointer that began a drag until it is lifted or taken away by the browser. The drawing may be made anew
 * meanwhile, so the listeners sit on the window. Returns what ends the following, and tells nobody.
 */
export function followPointer(begun: PointerEvent, { move, end }: DragListener): () => void {
  const listeners = new AbortController();
  const { signal } = listeners;
  const own = (then: (event: PointerEvent) => void) => (event: PointerEvent) => {
    if (event.pointerId === begun.pointerId) then(event);
  };
  addEventListener('pointermove', own(move), { signal });
  addEventListener(
    'pointerup',
    own(() => end('end')),
    { signal },
  );
  addEventListener(
    'pointercancel',
    own(() => end('cancel')),
    { signal },
  );
  return () => listeners.abort();
}
