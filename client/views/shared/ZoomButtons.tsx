import type { RefObject } from 'preact';
import { t } from '../../strings/index.ts';
import { Icon } from './Icon.tsx';

/** A drawing that can be looked at from nearer and from further off. */
interface Zoomable {
  zoomIn(): void;
  zoomOut(): void;
  showWhole(): void;
}

interface ZoomButtonsProps {
  readonly view: RefObject<Zoomable | null>;
  /** How much larger than the whole drawing it is shown; 1 or less shows all of it. */
  readonly zoom: number;
}

/** Nearer, further and the whole of a drawing, for those who have neither wheel nor two fingers. */
export function ZoomButtons({ view, zoom }: ZoomButtonsProps) {
  const whole = zoom <= 1.001;
  return (
    <div class="zoom-buttons">
      <button type="button" aria-label={t.plan.zoomIn} onClick={() => view.current?.zoomIn()}>
        <Icon name="in" />
      </button>
      <button
        type="button"
        aria-label={t.plan.zoomOut}
        disabled={whole}
        onClick={() => view.current?.zoomOut()}
      >
        <Icon name="out" />
      </button>
      <button
        type="button"
        aria-label={t.plan.fit}
        disabled={whole}
        onClick={() => view.current?.showWhole()}
      >
        <Icon name="whole" />
      </button>
    </div>
  );
}
