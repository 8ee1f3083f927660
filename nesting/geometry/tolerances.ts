/**
 * Every tolerance of the engine: its name, its unit, why it is as large as it is.
 *
 * Lengths are relative to a size (the diameter of the figures at hand), because problems come in millimetres,
 * metres and made-up units, and because doubles carry 16 digits wherever the decimal point stands.
 */

/**
 * Largest integer coordinate handed to the polygon clipper. Its arithmetic on larger numbers falls back to
 * 128-bit emulation, which is some ten times slower; up to here products stay exact in doubles.
 */
export const CLIPPER_RANGE = 4.5e7;

/**
 * How far, in units of the clipper's integer grid, the two parts of a no-fit polygon together are drawn in before
 * their sum is united. A position where a piece fits exactly (a peg in its hole, a slide between two walls) is
 * then a corridor two of these wide instead of a point or line of no width, which rounding to the grid would
 * close. It must exceed the clipper's rounding (half a unit a vertex, one a crossing); smaller is better, because
 * touching pieces may overlap by that much: 9e-8 of their joint half width, along each axis.
 */
export const CONTACT_UNITS = 4;

/**
 * Width, in units of the clipper's grid, below which a free corridor is a rounding error: two roundings of a unit
 * each, and well under the width of a true corridor, which is twice `CONTACT_UNITS`.
 */
export const HAIR_UNITS = 2;

/**
 * A depth of overlap below this part of the size counts as touching: it must exceed the rounding of a few
 * additions and products (1e-15) and stay far below `CONTACT_UNITS`.
 */
export const TOUCH_RELATIVE = 1e-10;

/**
 * The same while searching, where the size is the strip's width or the sheet's extent: the total of many depths must not
 * be kept above nought by the rounding of positions, and a layout must hold against `verify` (1e-6).
 */
export const SEARCH_TOUCH_RELATIVE = 1e-9;

/** Two vertices nearer than this part of the ring's diameter are one: below any grid, above double noise. */
export const SAME_POINT_RELATIVE = 1e-12;

/**
 * A vertex whose distance from the line of its neighbours is below this part of the ring's diameter is not a
 * corner. Coordinates read from files carry 6 to 9 digits; 1e-10 keeps whatever they mean.
 */
export const COLLINEAR_RELATIVE = 1e-10;

/** Largest angle, in radians, between the tangents that stand for an arc around a corner: 1.3 % of the radius. */
export const ARC_STEP_RADIANS = Math.PI / 8;

/**
 * Angles of rotation, in degrees, nearer than this are one pose. The sine of it moves a point 2 m from the
 * origin by less than a tenth of a micrometre.
 */
export const SAME_ANGLE_DEGREES = 1e-6;

/**
 * A piece may be larger than its container by this part of the container's smaller extent and still counts as
 * fitting: conversions between units leave that much, and no cutter sees it. Below what `verify` tolerates (1e-6).
 */
export const FIT_RELATIVE = 2e-7;

/** A proof that something cannot fit must be clear by this part of the size: above what `verify` tolerates. */
export const PROOF_RELATIVE = 2e-6;
