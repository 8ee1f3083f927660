import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';

/** Drawn with at most so many points a ring: a thumbnail shows no more. */
const MOST_POINTS = 120;

/** Paths by piece: a list of hundreds is drawn anew with every edit. */
const drawn = new WeakMap<Piece, string>();

function pathOf(piece: Piece): string {
  const known = drawn.get(piece);
  if (known !== undefined) return known;
  const shape = pieceFacts(piece).whole ?? piece;
  const box = boundingBox(shape.outline);
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY, 1e-6);
  const middleX = (box.minX + box.maxX) / 2;
  const middleY = (box.minY + box.maxY) / 2;
  const at = ([x, y]: readonly [number, number]): string =>
    `${(((x - middleX) / size) * 44).toFixed(2)} ${(((middleY - y) / size) * 44).toFixed(2)}`;
  const path = [shape.outline, ...shape.holes]
    .map((ring) => {
      const every = Math.max(1, Math.ceil(ring.length / MOST_POINTS));
      return `M${ring
        .filter((_, index) => index % every === 0)
        .map(at)
        .join('L')}Z`;
    })
    .join('');
  drawn.set(piece, path);
  return path;
}

/** A small picture of a piece, whole if it is a half, with its grain. */
export function PieceThumb({ piece }: { readonly piece: Piece }) {
  return (
    <svg class="thumb" viewBox="-25 -25 50 50" aria-hidden="true" focusable="false">
      <path class={pieceFacts(piece).isFaulty ? 'thumb-faulty' : 'thumb-cloth'} d={pathOf(piece)} />
      <path
        class="thumb-grain"
        transform={`rotate(${-piece.grainDeg})`}
        d="M-9 0H9M-9 0l4 -2.500M-9 0l4 2.500M9 0l-4 -2.500M9 0l-4 2.500"
      />
    </svg>
  );
}
