/**
 * Is a layout legal? The checker that every layout passes before it leaves the engine.
 *
 * It shares no code and no idea with the packer: no no-fit polygons, no typed arrays, no convex parts. Two shapes
 * are held against each other (twoShapes.ts) by two questions that need only points, segments and distances:
 *
 *  1. *Does the boundary of one run deeper than the tolerance inside the other?* Around each edge of B lies a
 *     stadium, all points no farther than `tolerance` from it. The stretch of an edge of A inside a stadium is one
 *     interval (a stadium is convex), so what no stadium covers is known exactly, and a single point of each bare
 *     stretch, well away from B's boundary, tells whether the stretch is inside B or outside.
 *
 *         B ───────────────╮ ╭──────      ╳ bare stretch of A's edge: farther than the
 *           A ══════════╪══╳═╪═════         tolerance from B's boundary, so its side is certain
 *
 *  2. *Do they share area although their boundaries hug each other?* One outline exactly on another passes the first
 *     question. The common area, integrated chord by chord, can be no more than the tolerance times the
 *     boundary's length where two shapes only touch.
 *
 * Touching is legal; so is anything smaller than the tolerance. Orientation of outlines does not matter here.
 */
export type { Fault, FaultKind } from './faults.ts';
export { toleranceOf } from './tolerances.ts';
export { verify } from './verify.ts';
