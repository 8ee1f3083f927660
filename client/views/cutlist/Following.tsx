import { askedFor, copiesOf } from '../../../pattern/cutList/index.ts';
import type { CutRow, Material, Piece, Project } from '../../../pattern/exchange/project.ts';
import { followAgain } from '../../state/cutListCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

interface FollowingProps {
  readonly project: Project;
  readonly piece: Piece;
  readonly material: Material;
  readonly row: CutRow;
}

/** What a cell follows from, and the way back where the maker set its counts herself. */
export function Following({ project, piece, material, row }: FollowingProps) {
  const session = useSession();
  const asked = askedFor(project, piece.id, material.id);
  if (!asked) return null;
  const names = t.common.and(
    asked.from.map((id) => project.materials.find((entry) => entry.id === id)?.name ?? ''),
  );
  if (row.follows && !row.follows.own) {
    return (
      <span class="card-fact follows">
        <Icon name="follows" />
        {t.cutList.follows(names)}
      </span>
    );
  }
  const count = copiesOf(asked);
  return (
    <span class="follows own">
      <span class="card-fact">
        {row.follows ? t.cutList.own(count, names) : t.cutList.askedToo(count, names)}
      </span>
      <button
        type="button"
        class="quiet small"
        aria-label={t.cutList.followAgainOf(piece.name, material.name)}
        onClick={() => session.do(followAgain(project, piece.id, material.id))}
      >
        <Icon name="follows" />
        {t.cutList.followAgain}
      </button>
    </span>
  );
}
