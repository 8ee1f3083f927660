import type { Material, Piece, Project } from '../../../pattern/exchange/project.ts';
import { Select } from '../../fields/Choice.tsx';
import { CountField } from '../../fields/NumberFields.tsx';
import { countsOf, makePairs, moveRow, setCount, setTotal } from '../../state/cutListCommands.ts';
import { handsPair } from '../../state/lacks.ts';
import type { Counts } from '../../state/pieceCommands.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';
import { t } from '../../strings/index.ts';
import { useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

interface CellProps {
  readonly project: Project;
  readonly piece: Piece;
  readonly material: Material;
}

/** How many of a piece come from a material. Asks for hands only where the piece has them. */
export function Cell({ project, piece, material }: CellProps) {
  const session = useSession();
  const counts = countsOf(project, piece.id, material.id);
  const isSymmetric = pieceFacts(piece).isSymmetric;
  const isHalf = piece.foldEdge !== null;
  const total = counts.plain + counts.mirrored + counts.onFold;
  const write = (hand: keyof Counts, count: number): void =>
    session.do(setCount(project, piece.id, material.id, hand, count));
  if (total === 0) {
    return (
      <button
        type="button"
        class="quiet start"
        aria-label={t.cutList.startOf(piece.name, material.name)}
        onClick={() => write(isHalf ? 'onFold' : 'plain', 1)}
      >
        <Icon name="plus" />
        {t.cutList.start}
      </button>
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
  const pairs = handsPair(counts, piece);
  return (
    <div class={pairs ? 'cell' : 'cell unpaired'}>
      {(isHalf || counts.onFold > 0) && field('onFold')}
      {needsNoHands && (
        <div class="hand">
          <CountField
            label={t.cutList.countOf(t.cutList.copies, piece.name, material.name)}
            hideLabel
            count={counts.plain + counts.mirrored}
            onChange={(count) => session.do(setTotal(project, piece.id, material.id, count))}
          />
          <span aria-hidden="true">{t.cutList.copies}</span>
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
      {project.materials.length > 1 && (
        <Select
          class="move"
          label={t.cutList.moveOf(piece.name, material.name)}
          hideLabel
          value=""
          options={[
            { value: '', label: t.cutList.moveTo },
            ...project.materials
              .filter((other) => other.id !== material.id)
              .map((other) => ({ value: other.id, label: other.name })),
          ]}
          onChange={(to) => {
            if (to !== '') session.do(moveRow(project, piece.id, material.id, to));
          }}
        />
      )}
    </div>
  );
}
