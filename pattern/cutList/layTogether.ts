import type { Project } from '../exchange/project.ts';
import { copiesOf } from './totals.ts';

/**
 * The materials that have to be laid at one go with these, themselves included, in the project's order: pieces that may
 * come from elsewhere are otherwise cut twice, or not at all.
 */
export function layTogether(
  project: Pick<Project, 'materials' | 'cutList'>,
  materialIds: readonly string[],
): string[] {
  const found = new Set(materialIds);
  const links = project.cutList
    .filter((row) => row.elsewhere && copiesOf(row) > 0)
    .map((row) => [row.materialId, ...(row.elsewhere ?? [])]);
  for (let before = -1; before !== found.size; ) {
    before = found.size;
    for (const link of links) if (link.some((id) => found.has(id))) for (const id of link) found.add(id);
  }
  return project.materials.map(({ id }) => id).filter((id) => found.has(id));
}
