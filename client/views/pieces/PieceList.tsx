import type { Piece, Project } from '../../../pattern/exchange/project.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';
import { t } from '../../strings/index.ts';
import { formatSize } from '../../strings/lengths.ts';
import { useAddress } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { PieceThumb } from './PieceThumb.tsx';

interface PieceListProps {
  readonly project: Project;
  readonly openId: string | null;
}

export function PieceList({ project, openId }: PieceListProps) {
  const address = useAddress();
  return (
    <ul class="cards" aria-label={t.pieces.list}>
      {project.pieces.map((piece) => (
        <li key={piece.id}>
          <a
            class="card"
            href={address('pieces', piece.id)}
            aria-current={piece.id === openId ? 'true' : undefined}
          >
            <PieceThumb piece={piece} />
            <span class="card-text">
              <span class="card-name">{piece.name}</span>
              <span class="card-fact">{sizeInWords(piece, project.units)}</span>
              <Standing piece={piece} project={project} />
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}

function Standing({ piece, project }: { readonly piece: Piece; readonly project: Project }) {
  const { problems, isFaulty } = pieceFacts(piece);
  const warnings = problems.filter((problem) => problem.level === 'warning').length;
  const from = project.pieces.find(({ id }) => id === piece.variant?.from);
  const count = project.cutList
    .filter((row) => row.pieceId === piece.id)
    .reduce((sum, row) => sum + row.plain + row.mirrored + row.onFold, 0);
  if (isFaulty) {
    return (
      <span class="card-fact bad">
        <Icon name="lacking" />
        {t.pieces.faults(problems.filter((problem) => problem.level === 'error').length)}
      </span>
    );
  }
  return (
    <span class="card-fact">
      {count === 0 ? <span class="warn">{t.pieces.notCut}</span> : t.pieces.total(count)}
      {piece.foldEdge !== null && <span>, {t.cutList.half}</span>}
      {from && <span>, {t.variant.from(from.name)}</span>}
      {warnings > 0 && <span class="warn">, {t.pieces.warnings(warnings)}</span>}
    </span>
  );
}

/** Width × height of the whole cut piece as drawn, or of what is drawn if that is faulty. */
export function sizeInWords(piece: Piece, units: Project['units']): string {
  const size = pieceFacts(piece).wholeSize;
  return size ? formatSize(size.widthMm, size.heightMm, units) : t.pieces.noSize;
}
