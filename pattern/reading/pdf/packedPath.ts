import type { Box } from '../../../nesting/geometry/points.ts';
import type { Matrix } from '../matrix.ts';
import type { PathCommand } from '../pathCommands.ts';

/** How many coordinates follow each code of a packed path. */
const COORDINATES: readonly number[] = [2, 2, 6, 4, 0];

/** pdf.js packs a path as numbers: 0 move, 1 line, 2 cubic, 3 quadratic, 4 close, each before its coordinates. */
export function commandsOf(data: ArrayLike<number> | null): PathCommand[] {
  const commands: PathCommand[] = [];
  if (!data) return commands;
  const at = (i: number): number => data[i] ?? Number.NaN;
  for (let i = 0; i < data.length; ) {
    switch (data[i]) {
      case 0:
        commands.push(['M', at(i + 1), at(i + 2)]);
        i += 3;
        break;
      case 1:
        commands.push(['L', at(i + 1), at(i + 2)]);
        i += 3;
        break;
      case 2:
        commands.push(['C', at(i + 1), at(i + 2), at(i + 3), at(i + 4), at(i + 5), at(i + 6)]);
        i += 7;
        break;
      case 3:
        commands.push(['Q', at(i + 1), at(i + 2), at(i + 3), at(i + 4)]);
        i += 5;
        break;
      case 4:
        commands.push(['Z']);
        i += 1;
        break;
      default:
        return commands;
    }
  }
  return commands;
}

/**
 * The box around all corners and handles of a packed path, which enclose it, after mapping. Null for a path that is
 * packed in a way not known here.
 */
export function hullBox(packed: ArrayLike<number>, [a, b, c, d, e, f]: Matrix): Box | null {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < packed.length; ) {
    const coordinates = COORDINATES[packed[i] ?? -1];
    if (coordinates === undefined) return null;
    for (let k = i + 1; k <= i + coordinates; k += 2) {
      const x = packed[k] ?? Number.NaN;
      const y = packed[k + 1] ?? Number.NaN;
      const px = a * x + c * y + e;
      const py = b * x + d * y + f;
      if (px < minX) minX = px;
      if (px > maxX) maxX = px;
      if (py < minY) minY = py;
      if (py > maxY) maxY = py;
    }
    i += 1 + coordinates;
  }
  return { minX, minY, maxX, maxY };
}
