import type { Material, Piece, Project } from '../../../pattern/exchange/project.ts';
import { CountField } from '../../fields/NumberFields.tsx';
import { countsOf, makePairs, moveRow, setCount, setTotal } from '../../state/cutListCommands.ts';
import { handNotices } from '../../state/lacks.ts';
import type { Counts } from '../../state/pieceCommands.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { CellMore, CellNotes } from './CellMore.tsx';
import { Following } from './Following.tsx';
import { noHandsIn } from './noHands.ts';

interface CellProps {
  readonly project: Project;
  readonly piece: Piece;
  readonly material: Material;
}

/** How many of a piece come from a material. Asks for hands only where the piece has them. */
export function Cell({ project, piece, material }: CellProps) {
  const session = useSession();
  const counts = countsOf(project, piece.id, material.id);
  const isSymmetric = noHandsIn(project, piece, material.id);
  const isHalf = piece.foldEdge !== null;
  const total = counts.plain + counts.mirrored + counts.onFold;
  const row = project.cutList.find((entry) => entry.pieceId === piece.id && entry.materialId === material.id);
  const write = (hand: keyof Counts, count: number): void =>
    session.do(setCount(project, piece.id, material.id, hand, count));
  if (total === 0) {
    return (
      <div class="cell-empty">
        <button
          type="button"
          class="quiet start"
          aria-label={t.cutList.startOf(piece.name, material.name)}
          onClick={() => write(isHalf ? 'onFold' : 'plain', 1)}
        >
          <Icon name="plus" />
        </button>
        {row && <Following project={project} piece={piece} material={material} row={row} />}
      </div>
    );
  }
  const field = (hand: keyof Counts) => (
    <div class="hand" key={hand}>
      <CountField
        label={t.cutList.countOf(t.cutList[hand], piece.name, material.name)}
        hideLabel
        count={counts[hand]}
        onChange={(count) => write(hand, count)}
      />
      <span aria-hidden="true">{t.cutList[hand]}</span>
    </div>
  );
  const needsNoHands = isSymmetric && !isHalf;
  const pairs = !handNotices(project).some(
    (notice) =>
      notice.code === 'handsUnpaired' &&
      notice.level === 'warning' &&
      notice.pieceId === piece.id &&
      notice.materialId === material.id,
  );
  return (
    <div class="cell">
      <div class="cell-hands">
        {(isHalf || counts.onFold > 0) && field('onFold')}
        {needsNoHands && (
          <div class="hand">
            <CountField
              label={t.cutList.countOf(t.cutList.copies, piece.name, material.name)}
              hideLabel
              count={counts.plain + counts.mirrored}
              onChange={(count) => session.do(setTotal(project, piece.id, material.id, count))}
            />
          </div>
        )}
        {!needsNoHands &&
          (!isHalf || counts.plain + counts.mirrored > 0) && [field('plain'), field('mirrored')]}
        {!needsNoHands && !isHalf && counts.plain !== counts.mirrored && (
          <button
            type="button"
            class={pairs ? 'quiet small' : 'small'}
            aria-label={t.cutList.pairsOf(piece.name, material.name)}
            onClick={() => session.do(makePairs(project, piece.id, material.id))}
          >
            <Icon name="swap" />
            {t.cutList.pairs}
          </button>
        )}
        {!pairs && (
          <span class="warn cell-note">
            <Icon name="lacking" />
            {t.cutList.unpaired}
          </span>
        )}
        {row && <Following project={project} piece={piece} material={material} row={row} />}
        {row && <CellNotes project={project} row={row} />}
      </div>
      {row && <CellMore project={project} piece={piece} material={material} row={row} />}
      {project.materials.length > 1 && (
        <span class="move">
          <select
            aria-label={t.cutList.moveOf(piece.name, material.name)}
            title={t.cutList.moveTo}
            onChange={(event) => {
              const to = event.currentTarget.value;
              if (to !== '') session.do(moveRow(project, piece.id, material.id, to));
            }}
          >
            <option value="" hidden selected />
            <optgroup label={t.cutList.moveTo}>
              {project.materials
                .filter((other) => other.id !== material.id)
                .map((other) => (
                  <option key={other.id} value={other.id}>
                    {other.name}
                  </option>
                ))}
            </optgroup>
          </select>
        </span>
      )}
    </div>
  );
}
