import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Point } from '../../../nesting/packing/types.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { t } from '../../strings/index.ts';

interface FoldPreviewProps {
  readonly piece: Piece;
  /** What is left of it, with the fold; null where it can't be folded so. */
  readonly kept: Piece | null;
  /** Lines that may be clicked; the keyboard has the list beside. */
  readonly lines: readonly { readonly key: string; readonly ends: readonly [Point, Point] }[];
  readonly onChoose: (key: string) => void;
}

/** A piece that is folded back: what is kept of it, what is left out, and where the fold lies. */
export function FoldPreview({ piece, kept, lines, onChoose }: FoldPreviewProps) {
  const { minX, minY, maxX, maxY } = boundingBox(piece.outline);
  const margin = 0.04 * Math.max(maxX - minX, maxY - minY);
  const path = (points: readonly Point[], end: string): string =>
    `M${points.map(([x, y]) => `${x.toFixed(2)} ${(-y).toFixed(2)}`).join('L')}${end}`;
  const box = [minX - margin, -maxY - margin, maxX - minX + 2 * margin, maxY - minY + 2 * margin];
  const fold = kept?.foldEdge ?? null;
  const [from, to] =
    kept && fold !== null ? [kept.outline[fold], kept.outline[(fold + 1) % kept.outline.length]] : [];
  return (
    <svg
      class="joint-preview fold-preview"
      viewBox={box.join(' ')}
      preserveAspectRatio="xMinYMid meet"
      role="img"
      aria-label={t.variant.preview}
    >
      <path class="fp-left-out" d={path(piece.outline, 'Z')} />
      {kept && (
        <path class="pv-cloth" d={[kept.outline, ...kept.holes].map((ring) => path(ring, 'Z')).join('')} />
      )}
      {piece.marks.map((mark, index) => (
        // Marks have no identity of their own but their place.
        <path
          key={`${index} ${mark.kind}`}
          class={`pv-mark pv-${mark.kind}`}
          d={path(mark.points, mark.closed ? 'Z' : '')}
        />
      ))}
      {from && to && <path class="pv-fold" d={path([from, to], '')} />}
      {lines.map(({ key, ends }) => (
        // biome-ignore lint/a11y/noStaticElementInteractions: the list beside is the way for the keyboard
        <path key={key} class="fp-line" d={path(ends, '')} onClick={() => onChoose(key)} />
      ))}
    </svg>
  );
}
