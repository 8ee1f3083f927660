/** Strips on the bias: at 45° to the selvedge. Millimetres. */

export interface BiasStrips {
  /** Full strips, from selvedge to selvedge. */
  readonly strips: number;
  /** Length of each along its middle. */
  readonly eachMm: number;
  readonly totalMm: number;
}

/**
 * Full bias strips from a length of cloth. A strip at 45° takes its width divided by cos 45° of the selvedge, not just
 * its width, and is as long as the cloth's width divided by cos 45°.
 *
 * Where the corner that is cut off first is sewn on at the other end, the whole length of the selvedge gives strips;
 * else as much of it as the cloth is wide is lost in the two corners.
 *
 * @param widthMm of the cloth, selvedge to selvedge
 * @param lengthMm along the selvedge
 */
export function biasStrips(
  widthMm: number,
  lengthMm: number,
  stripMm: number,
  isCornerSewnOn: boolean,
): BiasStrips {
  if (!(widthMm > 0) || !(lengthMm > 0) || !(stripMm > 0)) {
    throw new RangeError(
      `biasStrips: measures must be greater than 0, not ${widthMm}, ${lengthMm}, ${stripMm}`,
    );
  }
  const eachMm = widthMm * Math.SQRT2;
  const usable = isCornerSewnOn ? lengthMm : Math.max(0, lengthMm - widthMm);
  const strips = Math.floor(usable / (stripMm * Math.SQRT2) + 1e-9);
  return { strips, eachMm, totalMm: strips * eachMm };
}

/**
 * Side of the square from which one endless bias strip of a length is cut, by the method of two triangles sewn to a
 * parallelogram and that to a tube: n = ⌈√(length / 2·width)⌉ turns, side n·width·√2 and a seam at both ends
 * (thebuttonship.blogspot.com, "Continuous bias tape magic formula").
 */
export function continuousBiasSquare(lengthMm: number, stripMm: number, seamMm: number): number {
  if (!(lengthMm > 0) || !(stripMm > 0) || !(seamMm >= 0)) {
    throw new RangeError(`continuousBiasSquare: measures out of range: ${lengthMm}, ${stripMm}, ${seamMm}`);
  }
  const turns = Math.ceil(Math.sqrt(lengthMm / (2 * stripMm)) - 1e-9);
  return turns * stripMm * Math.SQRT2 + 2 * seamMm;
}
