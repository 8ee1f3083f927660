import { type Area, path } from './bandArea.ts';
import type { Stretch } from './clothFrame.ts';
import type { DrawnPoint } from './drawing.ts';
import { hatchLines } from './hatch.ts';
import { type Bounds, bounds, rectangle } from './intervals.ts';
import { labelPoint } from './labelPoint.ts';
import type { DrawingSink } from './sink.ts';
import { CAP_HEIGHT, textWidth } from './text.ts';
import { HATCHES, TEXT } from './tokens.ts';

/** Cloth on which nothing lies. */
export function emptyCloth(sink: DrawingSink, { left, right, top, bottom }: Area): void {
  const outline = rectangle(left, top, right - left, bottom - top);
  sink.add('cloth', path('cloth', [outline], true), path('cloth-edge', [outline], true));
}

export type ToPage = (point: readonly [number, number]) => DrawnPoint;

/** Brings points of a stretch, mm from its own origin, to the page. */
export const toPageOf =
  ({ originMm }: Stretch, area: Area): ToPage =>
  ([x, y]) => [area.pageX(x + originMm[0]), area.pageY(y + originMm[1])];

/** A remnant with its flaws. */
export function remnantCloth(sink: DrawingSink, stretch: Stretch, area: Area): void {
  const { segment } = stretch;
  const toPage = toPageOf(stretch, area);
  const outline = (segment.outline ?? []).map(toPage);
  sink.add('cloth', path('cloth', [outline], true), path('cloth-edge', [outline], true));
  drawFlaws(sink, stretch, toPage);
}

/** Stains, holes, misprints, numbered. */
export function drawFlaws(sink: DrawingSink, { segment }: Stretch, toPage: ToPage): void {
  const pieces = segment.placed.map(({ outline: ring }) => bounds(ring.map(toPage)));
  (segment.flaws ?? []).forEach((flaw, i) => {
    const ring = flaw.map(toPage);
    const words = `${sink.words.flaw} ${i + 1}`;
    const width = textWidth(words, 1, 'flaw-name') + 0.6;
    const fits = labelPoint([ring], width, 1.3, TEXT.least, TEXT.least);
    const box = bounds(ring);
    const [x, y] = fits ? [fits.x, fits.y] : spotBeside(box, width * TEXT.least, pieces);
    const label = rectangle(
      x - (width * TEXT.least) / 2,
      y - 0.65 * TEXT.least,
      width * TEXT.least,
      1.3 * TEXT.least,
    );
    sink.add('cloth', path('flaw', [ring], true));
    const lines = hatchLines([ring], HATCHES.flaw, [label]);
    if (lines.length > 0) sink.add('cloth', path('flaw-hatch', lines));
    sink.text('labels', 'flaw-name', words, x, y + TEXT.least * CAP_HEIGHT * 0.5, TEXT.least, {
      anchor: 'middle',
    });
  });
}

/** The middle of a name beside a flaw too small for it: on the side where it covers the fewest pieces. */
function spotBeside(flaw: Bounds, width: number, pieces: readonly Bounds[]): readonly [number, number] {
  const x = (flaw.minX + flaw.maxX) / 2;
  const y = (flaw.minY + flaw.maxY) / 2;
  const spots = [
    [flaw.maxX + width / 2 + 0.3, y],
    [flaw.minX - width / 2 - 0.3, y],
    [x, flaw.minY - 1.6],
    [x, flaw.maxY + 1.6],
  ] as const;
  const covered = ([cx, cy]: readonly [number, number]) =>
    pieces.filter(
      (p) => p.minX < cx + width / 2 && p.maxX > cx - width / 2 && p.minY < cy + 1.1 && p.maxY > cy - 1.1,
    ).length;
  return spots.reduce((best, spot) => (covered(spot) < covered(best) ? spot : best));
}
