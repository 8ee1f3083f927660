import { boundingBox } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import { pushTogether } from '../../nesting/hand/pushTogether.ts';
import type { Layout, Problem } from '../../nesting/index.ts';
import { verify } from '../../nesting/verify/index.ts';

/**
 * A layout whose pieces on lines along the cloth, such as a border, lie close up: a search moves them along in steps and
 * leaves gaps of a few millimetres. The same layout where nothing is gained, or where no piece is on such a line.
 */
export function closedUp(problem: Problem, layout: Layout): Layout {
  const [container, second] = problem.containers;
  const isOnLine = problem.items.some(({ poses }) =>
    poses.some(({ lattice }) => lattice?.v === null && lattice.u[0] === 0),
  );
  if (!container || second || container.kind !== 'strip' || !isOnLine || problem.fixed) return layout;
  const placements = pushTogether(problem, container, layout.placements, () => false);
  const outlines = new Map(problem.items.map(({ id, outline }) => [id, outline]));
  const length = placements.reduce((most, { item, rotation, mirrored, x, y }) => {
    const outline = outlines.get(item);
    return outline ? Math.max(most, boundingBox(placeRing(outline, rotation, mirrored, x, y)).maxX) : most;
  }, 0);
  const next = { ...layout, placements, length };
  return length < layout.length && verify(problem, next).length === 0 ? next : layout;
}
