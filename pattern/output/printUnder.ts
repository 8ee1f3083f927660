import type { ClothLay, Project } from '../exchange/project.ts';
import { clothFrame } from '../plan/clothFrame.ts';
import type { Drawing } from '../plan/drawing.ts';
import type { Ring } from '../plan/intervals.ts';
import { printedStretches } from './printPreview.ts';
import type { PrintTile } from './printTile.ts';

/** The print of a stretch where a drawing of its lay shows it, in the drawing's own units. */
export interface PrintUnder {
  /** In millimetres of the cloth, from the upper left corner of the stretch. */
  readonly tile: PrintTile;
  /** Millimetres of the cloth in a unit of the drawing. */
  readonly scale: number;
  /** That corner on the drawing. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Of a remnant, in millimetres from that corner. */
  readonly outline?: Ring;
  /** Whether nothing is drawn beyond it. */
  readonly isLast: boolean;
}

/**
 * The picture of the repeat under the pieces of a drawing in one row, right side up. Nothing where the cloth has no
 * picture, and nothing where it lies double: there the print is not to be seen.
 */
export function printsUnder(lay: ClothLay, project: Project, drawing: Drawing): PrintUnder[] {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  if (cloth?.printPicture === undefined) return [];
  const { stretches } = clothFrame(lay, { ...cloth, cutFromBack: false });
  const { scale, frames } = drawing;
  return printedStretches(lay, project).flatMap(({ segment, isDoubled, width, height, outline, tile }) => {
    const stretch = stretches.find(({ index }) => index === segment);
    const at = frames.find((frame) => frame.segment === segment);
    if (isDoubled || !stretch || !at) return [];
    return [
      {
        tile,
        scale,
        x: at.x,
        y: at.y - (stretch.highMm - stretch.originMm[1]) / scale,
        width: width / scale,
        height: height / scale,
        ...(outline ? { outline } : {}),
        isLast: segment === lay.segments.length - 1,
      },
    ];
  });
}
