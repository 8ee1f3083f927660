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
  const isPrint = repeat.look === 'print' && steps.length === 2;
  const lines = (isPrint ? crosses : bars)(repeat, [from, to], across, x, y);
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

/** The repeat as it would lie along the grain, and how to turn its points and the cloth's with it. */
interface Upright {
  readonly along: Range;
  readonly across: Range;
  /** A point of it as it lies on the cloth. */
  readonly turned: (point: DrawnPoint) => DrawnPoint;
}

/** A print off the grain is stepped through where it would lie upright, over all that may come onto the cloth. */
function upright({ skewDeg, originMm }: FrameRepeat, along: Range, across: Range): Upright {
  if (skewDeg === 0) return { along, across, turned: (point) => point };
  const [cos, sin] = [Math.cos((skewDeg * Math.PI) / 180), Math.sin((skewDeg * Math.PI) / 180)];
  const turn = ([px, py]: DrawnPoint, by: 1 | -1): DrawnPoint => {
    const [dx, dy] = [px - originMm[0], py - originMm[1]];
    return [originMm[0] + dx * cos - by * dy * sin, originMm[1] + by * dx * sin + dy * cos];
  };
  const corners = along.flatMap((px) => across.map((py) => turn([px, py], -1)));
  const range = (axis: 0 | 1): Range => [
    Math.min(...corners.map((corner) => corner[axis])),
    Math.max(...corners.map((corner) => corner[axis])),
  ];
  return { along: range(0), across: range(1), turned: (point) => turn(point, 1) };
}

function crosses(
  repeat: FrameRepeat,
  alongCloth: Range,
  acrossCloth: Range,
  x: (mm: number) => number,
  y: (mm: number) => number,
): DrawnPoint[][] {
  const { alongMm, acrossMm, kind, originMm } = repeat;
  const { along, across, turned } = upright(repeat, alongCloth, acrossCloth);
  const points: DrawnPoint[] = [];
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
  const isOn = ([px, py]: DrawnPoint): boolean =>
    px >= alongCloth[0] && px <= alongCloth[1] && py >= acrossCloth[0] && py <= acrossCloth[1];
  return points
    .map(turned)
    .filter(isOn)
    .flatMap(([px, py]): DrawnPoint[][] => {
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
  repeat: FrameRepeat,
  alongCloth: Range,
  acrossCloth: Range,
  x: (mm: number) => number,
  y: (mm: number) => number,
): DrawnPoint[][] {
  const { alongMm, acrossMm, originMm } = repeat;
  const { along, across, turned } = upright(repeat, alongCloth, acrossCloth);
  const lines: [DrawnPoint, DrawnPoint][] = [];
  if (alongMm > 0) {
    for (const step of stepsIn(originMm[0], alongMm, along)) {
      const at = originMm[0] + step * alongMm;
      lines.push([turned([at, across[0]]), turned([at, across[1]])]);
    }
  }
  if (acrossMm > 0) {
    for (const step of stepsIn(originMm[1], acrossMm, across)) {
      const at = originMm[1] + step * acrossMm;
      lines.push([turned([along[0], at]), turned([along[1], at])]);
    }
  }
  return lines.flatMap(([a, b]): DrawnPoint[][] => {
    const on = clipped(a, b, alongCloth, acrossCloth);
    return on ? [on.map(([px, py]): DrawnPoint => [x(px), y(py)])] : [];
  });
}

/** What of a line lies on the cloth (Liang & Barsky 1984); null if nothing does. */
function clipped(a: DrawnPoint, b: DrawnPoint, along: Range, across: Range): [DrawnPoint, DrawnPoint] | null {
  let [from, to] = [0, 1];
  for (const [axis, [low, high]] of [along, across].entries()) {
    const start = a[axis as 0 | 1];
    const by = b[axis as 0 | 1] - start;
    if (by === 0) {
      if (start < low || start > high) return null;
      continue;
    }
    const ends = [(low - start) / by, (high - start) / by];
    from = Math.max(from, Math.min(...ends));
    to = Math.min(to, Math.max(...ends));
  }
  if (from >= to) return null;
  const at = (share: number): DrawnPoint => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
  return [at(from), at(to)];
}

/** The line of a border and how deep it reaches, drawn lightly under the pieces of a single stretch. */
export function drawBorder(sink: DrawingSink, frame: ClothFrame, stretch: Stretch, area: Area): void {
  const { border, seenFromBack } = frame;
  if (!border || stretch.segment.spread !== 'single') return;
  const depths =
    border.depthMm > 0 ? [border.fromEdgeMm, border.fromEdgeMm + border.depthMm] : [border.fromEdgeMm];
  const [low, high] = [stretch.lowMm, stretch.highMm];
  const fromLow = border.side !== 'high' ? depths.map((mm) => low + mm) : [];
  const fromHigh = border.side !== 'low' ? depths.map((mm) => high - mm) : [];
  const lines = [...fromLow, ...fromHigh].map((mm): DrawnPoint[] => {
    const at = area.pageY(seenFromBack ? low + high - mm : mm);
    return [
      [area.clampX(stretch.fromMm), at],
      [area.clampX(stretch.toMm), at],
    ];
  });
  sink.add('cloth', path('crease', lines));
}
