import type { RefObject } from 'preact';
import { t } from '../../strings/index.ts';
import { Icon, type IconName } from './Icon.tsx';

/** A drawing that can be looked at from nearer and from further off. */
interface Zoomable {
  zoomIn(): void;
  zoomOut(): void;
  showWhole(): void;
  /** −1, 0 or 1 to the right and downwards. */
  look(right: number, down: number): void;
}

interface ZoomButtonsProps {
  readonly view: RefObject<Zoomable | null>;
  /** How much larger than the whole drawing it is shown; 1 or less shows all of it. */
  readonly zoom: number;
}

const SIDES = [
  ['left', 'back', -1, 0],
  ['up', 'up', 0, -1],
  ['down', 'under', 0, 1],
  ['right', 'go', 1, 0],
] as const satisfies readonly (readonly [string, IconName, number, number])[];

/** Nearer, further, the whole of a drawing, and on to its sides, for those who have neither wheel nor two fingers, nor drag. */
export function ZoomButtons({ view, zoom }: ZoomButtonsProps) {
  const whole = zoom <= 1.001;
  return (
    <div class="zoom-buttons">
      <div class="joined">
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
      {!whole && (
        <div class="joined">
          {SIDES.map(([side, icon, right, down]) => (
            <button
              key={side}
              type="button"
              aria-label={t.plan.look[side]}
              onClick={() => view.current?.look(right, down)}
            >
              <Icon name={icon} />
            </button>
          ))}
        </div>
      )}
    </div>
  );
}
