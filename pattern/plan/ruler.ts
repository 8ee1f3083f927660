import type { Language } from '../language.ts';
import { type ShownUnits, unitName } from '../units/index.ts';
import type { DrawingItem, DrawnPoint } from './drawing.ts';
import { CAP_HEIGHT, textWidth } from './text.ts';
import { TEXT } from './tokens.ts';

export type RulerUnit = 'cm' | 'in';

/** Depth a ruler takes beside the cloth, mm: ticks and figures. */
export const RULER_MM = { along: 4.6, across: 7.4 } as const;

/** Steps between ticks and between figures, in the ruler's unit. */
const STEPS: Readonly<Record<RulerUnit, readonly number[]>> = {
  cm: [1, 5, 10, 20, 50, 100, 200, 500, 1000],
  in: [1, 6, 12, 36, 72, 180, 360],
};
const MM: Readonly<Record<RulerUnit, number>> = { cm: 10, in: 25.4 };
const TICK_ROOM_MM = 1.3;
const FIGURE_ROOM = { along: 8, across: 8 } as const;

/** The unit for the nearer and the farther ruler. */
export function rulerUnits(units: ShownUnits): readonly [RulerUnit, RulerUnit] {
  return units === 'in' ? ['in', 'cm'] : ['cm', 'in'];
}

/**
 * A ruler beside the cloth, in its scale, with zero where the cloth begins.
 *
 * @param side where it lies as seen from the cloth
 * @param line the page coordinate of the edge it lies on (y for top and bottom, x for left and right)
 * @param fromMm first and last reading on cloth
 * @param start page coordinate of the first reading; readings grow to the right, and upwards
 */
export function ruler(options: {
  readonly side: 'top' | 'bottom' | 'left' | 'right';
  readonly unit: RulerUnit;
  readonly line: number;
  readonly start: number;
  readonly fromMm: number;
  readonly toMm: number;
  readonly scale: number;
  readonly language: Language;
}): DrawingItem[] {
  const { side, unit, line, start, fromMm, toMm, scale, language } = options;
  const along = side === 'top' || side === 'bottom';
  const outward = side === 'top' || side === 'left' ? -1 : 1;
  const stepMm = (step: number) => step * MM[unit];
  const steps = STEPS[unit];
  const least = (room: number) =>
    steps.find((step) => stepMm(step) / scale >= room) ?? (steps.at(-1) as number);
  const tick = least(TICK_ROOM_MM);
  const figure = least(along ? FIGURE_ROOM.along : FIGURE_ROOM.across);
  const at = (mm: number) => (along ? start + (mm - fromMm) / scale : start - (mm - fromMm) / scale);
  const point = (position: number, out: number): DrawnPoint =>
    along ? [position, line + outward * out] : [line + outward * out, position];

  const ticks: DrawnPoint[][] = [[point(at(fromMm), 0), point(at(toMm), 0)]];
  const items: DrawingItem[] = [];
  const half = TEXT.least * CAP_HEIGHT * 0.5;
  const room = (toMm - fromMm) / scale;
  for (let i = Math.ceil(fromMm / stepMm(tick) - 1e-9); stepMm(i * tick) <= toMm + 1e-6; i++) {
    const value = i * tick;
    const named = value % figure === 0;
    const position = at(stepMm(value));
    ticks.push([point(position, 0), point(position, named ? 1.5 : 0.8)]);
    if (!named) continue;
    const text = value === 0 ? `0 ${unitName(unit, language)}` : String(value);
    const width = textWidth(text, TEXT.least, 'ruler-text');
    // A figure at the very end would stand beyond the cloth's corner, where another ruler's may be.
    const offset = (stepMm(value) - fromMm) / scale;
    const anchor = !along ? (side === 'left' ? 'end' : 'start') : offset < width / 2 ? 'start' : 'middle';
    if (along && room - offset < width / 2) continue;
    const [x, y] = point(position, along ? 2 : 1.9);
    items.push({
      kind: 'text',
      role: 'ruler-text',
      x: along && anchor === 'start' ? position - 0.2 : x,
      y: along ? (side === 'top' ? y : y + TEXT.least * CAP_HEIGHT) : Math.min(y + half, start),
      size: TEXT.least,
      anchor,
      rotation: 0,
      text,
    });
  }
  return [{ kind: 'path', role: 'ruler', lines: ticks, closed: false }, ...items];
}

/** Length of a scale bar on cloth: a round length that is 20 to 60 mm on paper. */
export function scaleBarMm(unit: RulerUnit, scale: number): number {
  const lengths =
    unit === 'cm'
      ? [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000]
      : [1, 2, 4, 10, 20, 36, 72, 180, 360, 720];
  const fitting = lengths.find((length) => (length * MM[unit]) / scale >= 20) ?? (lengths.at(-1) as number);
  return fitting * MM[unit];
}

/** A bar of so many millimetres on cloth, in fifths or quarters dark and light by turns, with its length. */
export function scaleBar(
  x: number,
  y: number,
  unit: RulerUnit,
  scale: number,
  language: Language,
): DrawingItem {
  const lengthMm = scaleBarMm(unit, scale);
  const parts = unit === 'cm' ? 5 : 4;
  const height = 1.6;
  const width = lengthMm / scale;
  const part = (i: number): DrawnPoint[] => [
    [x + (width * i) / parts, y],
    [x + (width * (i + 1)) / parts, y],
    [x + (width * (i + 1)) / parts, y + height],
    [x + (width * i) / parts, y + height],
  ];
  const length = Math.round((lengthMm / MM[unit]) * 1000) / 1000;
  return {
    kind: 'group',
    role: 'scale-bar',
    data: { lengthMm: String(Math.round(lengthMm * 1000) / 1000) },
    items: [
      {
        kind: 'path',
        role: 'scale-bar-fill',
        lines: Array.from({ length: parts }, (_, i) => i)
          .filter((i) => i % 2 === 0)
          .map(part),
        closed: true,
      },
      {
        kind: 'path',
        role: 'scale-bar',
        lines: [
          [
            [x, y],
            [x + width, y],
            [x + width, y + height],
            [x, y + height],
          ],
        ],
        closed: true,
      },
      {
        kind: 'text',
        role: 'ruler-text',
        x: x + width + 1,
        y: y + height,
        size: TEXT.least,
        anchor: 'start',
        rotation: 0,
        text: `${length} ${unitName(unit, language)}`,
      },
    ],
  };
}
