import type { Layout, Problem } from '../../nesting/packing/types.ts';
import { at, item, layout, problem, rectangle, strip } from './layouts.ts';

/**
 * The perfect squared square of lowest order: 21 squares, all different, fill a square of side 112.
 * Source: A. J. W. Duijvestijn, "Simple perfect squared square of lowest order", Journal of Combinatorial Theory,
 * Series B 25 (1978), 240–243. Its Bouwkamp code: each bracket lists the squares that lie side by side, left to
 * right, with their tops flush on the highest (and leftmost) place still open.
 */
export const DUIJVESTIJN_SIDE = 112;
export const DUIJVESTIJN_CODE: readonly (readonly number[])[] = [
  [50, 35, 27],
  [8, 19],
  [15, 17, 11],
  [6, 24],
  [29, 25, 9, 2],
  [7, 18],
  [16],
  [42],
  [4, 37],
  [33],
];

/** Decodes a Bouwkamp code into squares `{side, x, y}`, y downwards from the flush tops. */
export function decodeBouwkamp(code: readonly (readonly number[])[], width: number) {
  const depth = new Array<number>(width).fill(0); // how far each unit column is filled
  const squares: { side: number; x: number; y: number }[] = [];
  for (const row of code) {
    const y = Math.min(...depth);
    let x = depth.indexOf(y);
    for (const side of row) {
      squares.push({ side, x, y });
      depth.fill(y + side, x, x + side);
      x += side;
    }
  }
  return squares;
}

/** The squared square as a packing problem on a square piece of strip, with the published layout. */
export function squaredSquare(): { problem: Problem; layout: Layout } {
  const squares = decodeBouwkamp(DUIJVESTIJN_CODE, DUIJVESTIJN_SIDE);
  return {
    problem: problem(
      strip(DUIJVESTIJN_SIDE, { maxLength: DUIJVESTIJN_SIDE }),
      squares.map(({ side }) => item(`square-${side}`, rectangle(side, side))),
    ),
    layout: layout(
      squares.map(({ side, x, y }) => at(`square-${side}`, x, y)),
      DUIJVESTIJN_SIDE,
    ),
  };
}
