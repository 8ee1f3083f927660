import { PIXELS_PER } from './length.ts';
import {
  compose,
  cosSin,
  IDENTITY,
  isFiniteMatrix,
  type Matrix,
  rotation,
  scaling,
  translation,
} from './matrix.ts';

// Sticky, so that a hostile attribute is walked over once.
const FUNCTION = /[\s,]*([a-zA-Z]+)\s*\(([^()]*)\)[\s,]*/y;
const ARGUMENT = /([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)([a-zA-Z]*)/g;
const MAX_CHARACTERS = 20_000;

/**
 * A `transform` list, as SVG writes it in the attribute (bare numbers) or CSS in a style (with units). Null if a
 * part of it is not understood: SVG then takes the whole attribute for missing.
 */
export function parseTransform(text: string): Matrix | null {
  const trimmed = text.trim();
  if (trimmed === '' || trimmed === 'none') return IDENTITY;
  if (trimmed.length > MAX_CHARACTERS) return null;
  let result: Matrix = IDENTITY;
  FUNCTION.lastIndex = 0;
  while (FUNCTION.lastIndex < trimmed.length) {
    const match = FUNCTION.exec(trimmed);
    if (!match) return null;
    const [, name = '', inner = ''] = match;
    if (inner.replace(ARGUMENT, '').replace(/[\s,]/g, '') !== '') return null;
    const numbers = [...inner.matchAll(ARGUMENT)].map(([, value = '', unit = '']) => toNumber(value, unit));
    if (numbers.some((value) => value === null)) return null;
    const step = oneTransform(name, numbers as number[]);
    if (!step) return null;
    result = compose(result, step);
  }
  return isFiniteMatrix(result) ? result : null;
}

/** A bare number, a length in pixels or an angle in degrees. */
function toNumber(text: string, givenUnit: string): number | null {
  const value = Number(text);
  const unit = givenUnit.toLowerCase();
  if (unit === '' || unit === 'deg') return value;
  if (unit === 'rad') return (value * 180) / Math.PI;
  if (unit === 'turn') return value * 360;
  if (unit === 'grad') return value * 0.9;
  const pixels = PIXELS_PER[unit];
  return pixels === undefined ? null : value * pixels;
}

function oneTransform(name: string, v: readonly number[]): Matrix | null {
  const [first = 0, second, third] = v;
  const count = (...allowed: number[]): boolean => allowed.includes(v.length);
  switch (name) {
    case 'matrix':
      return count(6) ? (v as unknown as Matrix) : null;
    case 'translate':
      return count(1, 2) ? translation(first, second ?? 0) : null;
    case 'translateX':
      return count(1) ? translation(first, 0) : null;
    case 'translateY':
      return count(1) ? translation(0, first) : null;
    case 'scale':
      return count(1, 2) ? scaling(first, second ?? first) : null;
    case 'scaleX':
      return count(1) ? scaling(first, 1) : null;
    case 'scaleY':
      return count(1) ? scaling(1, first) : null;
    case 'rotate': {
      if (!count(1, 3)) return null;
      const turn = rotation(first);
      if (second === undefined || third === undefined) return turn;
      return compose(compose(translation(second, third), turn), translation(-second, -third));
    }
    case 'skewX':
      return count(1) ? [1, 0, tangent(first), 1, 0, 0] : null;
    case 'skewY':
      return count(1) ? [1, tangent(first), 0, 1, 0, 0] : null;
    case 'skew':
      return count(1, 2) ? [1, tangent(second ?? 0), tangent(first), 1, 0, 0] : null;
    default:
      return null;
  }
}

function tangent(degrees: number): number {
  const [cosine, sine] = cosSin(degrees);
  return sine / cosine;
}
