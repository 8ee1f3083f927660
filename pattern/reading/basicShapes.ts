import { toUserUnits } from './length.ts';
import type { PathCommand } from './pathCommands.ts';
import { parsePathData } from './pathData.ts';
import type { Property } from './style.ts';
import type { Viewport } from './viewport.ts';

/**
 * The path of a rect, circle, ellipse, line, polyline or polygon (SVG 1.1 §9, SVG 2 §10 for `auto`). Null where SVG
 * draws nothing: a size that is missing, zero or negative.
 */
export function basicShape(
  name: string,
  property: Property,
  viewport: Viewport,
  diagonal: number,
  fontSize: number,
  maxCommands: number,
): PathCommand[] | null {
  const along = (key: string): number | null => toUserUnits(property(key), viewport.width, fontSize);
  const up = (key: string): number | null => toUserUnits(property(key), viewport.height, fontSize);
  switch (name) {
    case 'rect': {
      const width = along('width') ?? 0;
      const height = up('height') ?? 0;
      if (!(width > 0 && height > 0)) return null;
      const givenX = along('rx');
      const givenY = up('ry');
      const rx = Math.min(Math.max(0, givenX ?? givenY ?? 0), width / 2);
      const ry = Math.min(Math.max(0, givenY ?? givenX ?? 0), height / 2);
      return rectangle(along('x') ?? 0, up('y') ?? 0, width, height, rx, ry);
    }
    case 'circle': {
      const radius = toUserUnits(property('r'), diagonal, fontSize) ?? 0;
      return radius > 0 ? ellipse(along('cx') ?? 0, up('cy') ?? 0, radius, radius) : null;
    }
    case 'ellipse': {
      const givenX = along('rx');
      const givenY = up('ry');
      const rx = givenX ?? givenY ?? 0;
      const ry = givenY ?? givenX ?? 0;
      return rx > 0 && ry > 0 ? ellipse(along('cx') ?? 0, up('cy') ?? 0, rx, ry) : null;
    }
    case 'line':
      return [
        ['M', along('x1') ?? 0, up('y1') ?? 0],
        ['L', along('x2') ?? 0, up('y2') ?? 0],
      ];
    case 'polyline':
    case 'polygon': {
      // The points of a list are a move and lines, by the same grammar as path data.
      const { commands } = parsePathData(`M${property('points') ?? ''}`, maxCommands);
      if (name === 'polygon' && commands.length > 0) commands.push(['Z']);
      return commands.length > 1 ? commands : null;
    }
    default:
      return null;
  }
}

function rectangle(
  x: number,
  y: number,
  width: number,
  height: number,
  rx: number,
  ry: number,
): PathCommand[] {
  const right = x + width;
  const bottom = y + height;
  if (rx === 0 || ry === 0)
    return [['M', x, y], ['L', right, y], ['L', right, bottom], ['L', x, bottom], ['Z']];
  return [
    ['M', x + rx, y],
    ['L', right - rx, y],
    ['A', rx, ry, 0, false, true, right, y + ry],
    ['L', right, bottom - ry],
    ['A', rx, ry, 0, false, true, right - rx, bottom],
    ['L', x + rx, bottom],
    ['A', rx, ry, 0, false, true, x, bottom - ry],
    ['L', x, y + ry],
    ['A', rx, ry, 0, false, true, x + rx, y],
    ['Z'],
  ];
}

function ellipse(cx: number, cy: number, rx: number, ry: number): PathCommand[] {
  return [
    ['M', cx + rx, cy],
    ['A', rx, ry, 0, false, true, cx, cy + ry],
    ['A', rx, ry, 0, false, true, cx - rx, cy],
    ['A', rx, ry, 0, false, true, cx, cy - ry],
    ['A', rx, ry, 0, false, true, cx + rx, cy],
    ['Z'],
  ];
}
