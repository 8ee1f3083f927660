import type { Heap } from '../../../pattern/proposals/heaps.ts';
import { t } from '../../strings/index.ts';
import { formatSize } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';

interface HeapOffersProps {
  readonly heaps: readonly Heap[];
  readonly onJoin: (heap: Heap) => void;
}

/** Offers to take outlines that touch along their edges as one piece. */
export function HeapOffers({ heaps, onJoin }: HeapOffersProps) {
  const { units } = useProject();
  if (heaps.length === 0) return null;
  return (
    <details class="help">
      <summary>{t.drawing.heaps(heaps.length)}</summary>
      <ul class="plain-list heap-offers">
        {heaps.map((heap) => (
          <li key={heap.ids[0]} class="row">
            <span>{t.drawing.heap(heap.ids.length, formatSize(heap.widthMm, heap.heightMm, units))}</span>
            <button type="button" class="quiet rigid" onClick={() => onJoin(heap)}>
              {t.drawing.join}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
