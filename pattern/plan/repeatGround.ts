import { type Area, path } from './bandArea.ts';
import type { ClothFrame, FrameRepeat, Stretch } from './clothFrame.ts';
import type { DrawnPoint } from './drawing.ts';
import type { DrawingSink } from './sink.ts';

/** Half the arm of the cross that marks a motif, mm on paper. */
const CROSS_MM = 1.1;
/** Marks closer together than this would grey the sheet, mm on paper. */
const LEAST_APART_MM = 3;

/**
 * What recurs, drawn lightly under the pieces of a single stretch: a cross on every motif, the middle line of every
 * bar. Left out where it would be too dense to tell apart.
 */
export function drawRepeat(
  sink: DrawingSink,
  { repeat: onCloth, seenFromBack }: ClothFrame,
  stretch: Stretch,
  area: Area,
  scale: number,
): void {
  if (!onCloth || stretch.segment.spread !== 'single') return;
  // The print runs on through all stretches of a roll; every sheet of a remnant begins anew.
  const before = stretch.segment.outline ? 0 : stretch.originMm[0] + stretch.aheadMm;
  const repeat = { ...onCloth, originMm: [onCloth.originMm[0] - before, onCloth.originMm[1]] as const };
  const { alongMm, acrossMm } = repeat;
  const steps = [alongMm, acrossMm].filter((step) => step > 0);
  if (steps.length === 0 || steps.some((step) => step / scale < LEAST_APART_MM)) return;
  const x = (along: number): number => area.pageX(along + stretch.originMm[0]);
  const y = (across: number): number => {
    const seen = seenFromBack ? backAcross(stretch) - across : across;
    return area.pageY(seen + stretch.originMm[1]);
  };
  const from = Math.max(stretch.fromMm, 0) - stretch.originMm[0];
  const to = stretch.toMm - stretch.originMm[0];
  const [low, high] = [stretch.lowMm - stretch.originMm[1], stretch.highMm - stretch.originMm[1]];
  const across = seenFromBack
    ? ([backAcross(stretch) - high, backAcross(stretch) - low] as const)
    : ([low, high] as const);
  const lines =
    repeat.look === 'print' && steps.length === 2
      ? crosses(repeat, [from, to], across, x, y)
      : bars(repeat, [from, to], across, x, y);
  const inside = lines.filter((line) =>
    line.every(([px]) => px >= area.left - 0.01 && px <= area.right + 0.01),
  );
  if (inside.length > 0) sink.add('cloth', path('repeat', inside));
}

/** Where y = 0 of the right side lies when the stretch is turned over: its segment was reflected about this. */
const backAcross = ({ segment }: Stretch): number => (segment.outline ? 0 : segment.widthMm);

type Range = readonly [from: number, to: number];

/** Whole steps from `origin` that lie within a range. */
function stepsIn(origin: number, step: number, [from, to]: Range): number[] {
  const first = Math.ceil((from - origin) / step);
  const count = Math.max(0, Math.floor((to - origin) / step) - first + 1);
  return Array.from({ length: count }, (_, i) => first + i);
}

function crosses(
  { alongMm, acrossMm, kind, originMm }: FrameRepeat,
  along: Range,
  across: Range,
  x: (mm: number) => number,
  y: (mm: number) => number,
): DrawnPoint[][] {
  const points: [number, number][] = [];
  if (kind === 'halfDrop') {
    for (const row of stepsIn(originMm[1], acrossMm, across)) {
      const shift = row % 2 === 0 ? 0 : alongMm / 2;
      for (const column of stepsIn(originMm[0] + shift, alongMm, along)) {
        points.push([originMm[0] + shift + column * alongMm, originMm[1] + row * acrossMm]);
      }
    }
  } else {
    for (const column of stepsIn(originMm[0], alongMm, along)) {
      const shift = kind === 'brick' && column % 2 !== 0 ? acrossMm / 2 : 0;
      for (const row of stepsIn(originMm[1] + shift, acrossMm, across)) {
        points.push([originMm[0] + column * alongMm, originMm[1] + shift + row * acrossMm]);
      }
    }
  }
  return points.flatMap(([px, py]): DrawnPoint[][] => {
    const [cx, cy] = [x(px), y(py)];
    return [
      [
        [cx - CROSS_MM, cy],
        [cx + CROSS_MM, cy],
      ],
      [
        [cx, cy - CROSS_MM],
        [cx, cy + CROSS_MM],
      ],
    ];
  });
}

function bars(
  { alongMm, acrossMm, originMm }: FrameRepeat,
  along: Range,
  across: Range,
  x: (mm: number) => number,
  y: (mm: number) => number,
): DrawnPoint[][] {
  const lines: DrawnPoint[][] = [];
  if (alongMm > 0) {
    for (const step of stepsIn(originMm[0], alongMm, along)) {
      const at = x(originMm[0] + step * alongMm);
      lines.push([
        [at, y(across[0])],
        [at, y(across[1])],
      ]);
    }
  }
  if (acrossMm > 0) {
    for (const step of stepsIn(originMm[1], acrossMm, across)) {
      const at = y(originMm[1] + step * acrossMm);
      lines.push([
        [x(along[0]), at],
        [x(along[1]), at],
      ]);
    }
  }
  return lines;
}
