import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { jointLines } from '../../../pattern/parts/index.ts';

interface JointPreviewProps {
  readonly piece: Piece;
  readonly label: string;
}

/** A piece that was put together, with the lines along which its parts meet. */
export function JointPreview({ piece, label }: JointPreviewProps) {
  const { minX, minY, maxX, maxY } = boundingBox(piece.outline);
  const margin = 0.03 * Math.max(maxX - minX, maxY - minY);
  const path = (points: readonly (readonly [number, number])[], end: string): string =>
    `M${points.map(([x, y]) => `${x.toFixed(2)} ${(-y).toFixed(2)}`).join('L')}${end}`;
  const box = [minX - margin, -maxY - margin, maxX - minX + 2 * margin, maxY - minY + 2 * margin];
  return (
    <svg class="joint-preview" viewBox={box.join(' ')} role="img" aria-label={label}>
      <path class="pv-cloth" d={[piece.outline, ...piece.holes].map((ring) => path(ring, 'Z')).join('')} />
      {jointLines(piece).map(({ letter, points }, index) => (
        <path key={`${index} ${letter}`} class="pv-joint" d={path(points, '')} />
      ))}
    </svg>
  );
}
