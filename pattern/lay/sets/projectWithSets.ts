import type { Project } from '../../exchange/project.ts';
import type { SetsVary } from '../../exchange/setsQuestion.ts';
import { withSize } from './varySize.ts';

/** The project with so many sets of its first size, and pieces of variable size made so large. */
export function projectWithSets(
  project: Project,
  times: number,
  vary: SetsVary | null,
  sizeMm: number | null,
): Project {
  const first = project.sets?.[0] ?? {
    id: 'sets',
    name: 'sets',
    times: 1,
    alongPercent: 100,
    acrossPercent: 100,
  };
  const pieces =
    vary === null || sizeMm === null
      ? project.pieces
      : project.pieces.map((piece) =>
          vary.pieceIds.includes(piece.id) ? withSize(piece, vary.side, sizeMm) : piece,
        );
  return { ...project, pieces, sets: [{ ...first, times }] };
}

/** The sizes to try, smallest first; the largest is always among them. */
export function sizesToTry({ fromMm, toMm, stepMm }: SetsVary): number[] {
  const steps = Math.floor((toMm - fromMm) / stepMm + 1e-9);
  const sizes = Array.from({ length: steps + 1 }, (_, i) => fromMm + i * stepMm);
  return toMm - sizes.at(-1)! > 1e-6 ? [...sizes, toMm] : sizes;
}
