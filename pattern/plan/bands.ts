import type { ClothFrame } from './clothFrame.ts';
import { bounds } from './intervals.ts';

/** A part along the cloth, drawn as one row. */
export interface BandRange {
  readonly fromMm: number;
  readonly toMm: number;
}

/** A row is not shorter than this share of what would fit, for the sake of breaking at a better place. */
const LEAST_FILL = 0.7;
/** Two ends closer than this are one, mm. */
const SAME_PLACE_MM = 0.01;

/**
 * Cuts the cloth into rows of at most `mostMm` along, breaking where the fewest pieces lie across the break, and
 * as late as that allows.
 */
export function bandRanges(frame: ClothFrame, mostMm: number): BandRange[] {
  const spans = frame.stretches.flatMap((stretch) =>
    stretch.segment.placed.map(({ outline }) => {
      const box = bounds(outline);
      return [box.minX + stretch.originMm[0], box.maxX + stretch.originMm[0]] as const;
    }),
  );
  const ranges: BandRange[] = [];
  let from = frame.fromMm;
  while (frame.toMm - from > mostMm + SAME_PLACE_MM) {
    const latest = from + mostMm;
    const earliest = from + mostMm * LEAST_FILL;
    const candidates = [
      latest,
      ...spans.flat().filter((x) => x >= earliest && x <= latest),
      ...frame.stretches.map((s) => s.toMm).filter((x) => x >= earliest && x <= latest),
    ];
    let best = latest;
    let fewest = Number.POSITIVE_INFINITY;
    for (const x of candidates) {
      const crossed = spans.filter(([a, b]) => a < x - SAME_PLACE_MM && b > x + SAME_PLACE_MM).length;
      if (crossed < fewest || (crossed === fewest && x > best)) {
        best = x;
        fewest = crossed;
      }
    }
    ranges.push({ fromMm: from, toMm: best });
    from = best;
  }
  ranges.push({ fromMm: from, toMm: frame.toMm });
  return ranges;
}
