/** Tolerances of piece geometry: name, unit, why. Engine tolerances are in `nesting/geometry`. */

/**
 * A vertex this near to the fold line lies on it, millimetres. Above what drawing programs round to (0.001 to
 * 0.01), and doubled by unfolding still far below what can be cut.
 */
export const FOLD_LINE_MM = 0.05;

/**
 * A mitred corner reaches at most so many allowances from the sewn corner; a longer one is cut off square there, so
 * that nowhere less than the allowance is left. 4 keeps corners of 29° and wider whole.
 */
export const MITRE_LIMIT = 4;

/** An edge whose ends are nearer than this, in millimetres, has no direction. A thousandth of what a blade follows. */
export const SHORT_EDGE_MM = 1e-4;

/** The difference of an angle from a quarter turn that drawings leave behind, degrees. */
export const SAME_DIRECTION_DEG = 0.5;
