import type { DrawnPoint } from './drawing.ts';
import { bounds, inside, type Ring, subtract, turned } from './intervals.ts';

/**
 * Parallel lines across closed rings, as plain lines: no pattern fills, which printers and PDF readers treat
 * differently. Lines of neighbouring shapes align, since all are counted from the page's corner.
 *
 * @param hatch degrees counter-clockwise as seen, spacing in mm; `double` > 0 draws each line twice, so far apart
 * @param keepOut closed rings to leave clear, such as the box of a label
 */
export function hatchLines(
  rings: readonly Ring[],
  hatch: { readonly angleDeg: number; readonly spacing: number; readonly double: number },
  keepOut: readonly Ring[] = [],
): DrawnPoint[][] {
  const outer = rings.map((ring) => turned(ring, hatch.angleDeg));
  const clear = keepOut.map((ring) => turned(ring, hatch.angleDeg));
  const { minY, maxY } = bounds(outer.flat());
  const lines: DrawnPoint[][] = [];
  const add = (y: number) => {
    const without = clear.flatMap((ring) => inside([ring], y));
    for (const [from, to] of subtract(inside(outer, y), without)) {
      lines.push(
        turned(
          [
            [from, y],
            [to, y],
          ],
          -hatch.angleDeg,
        ),
      );
    }
  };
  for (let i = Math.ceil(minY / hatch.spacing); i * hatch.spacing < maxY; i++) {
    add(i * hatch.spacing);
    if (hatch.double > 0) add(i * hatch.spacing + hatch.double);
  }
  return lines;
}
