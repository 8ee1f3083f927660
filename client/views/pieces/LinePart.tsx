import type { EdgeAllowance, Piece } from '../../../pattern/exchange/project.ts';
import { Choice, Select } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { foldableEdges } from '../../render/pieceView.ts';
import { setAllowance, setCorners, setEdgeAllowance, setLine } from '../../state/pieceCommands.ts';
import { pieceFacts } from '../../state/pieceFacts.ts';
import { t } from '../../strings/index.ts';
import { formatLength, formatSize } from '../../strings/lengths.ts';
import { useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { sideOf } from './sideOf.ts';
import { USUAL_ALLOWANCE_MM } from './sizesLine.ts';

const MOST_EDGES = 24;

/** What the outline is, how wide the allowance is at which edge, and what happens at corners. */
export function LinePart({ piece }: { readonly piece: Piece }) {
  const session = useSession();
  const { units } = useProject();
  const facts = pieceFacts(piece);
  const isSewn = piece.line === 'sew';
  const cutSize = facts.size
    ? t.piece.cutSize(formatSize(facts.size.widthMm, facts.size.heightMm, units))
    : '';
  return (
    <fieldset data-spot="line" class="part">
      <legend>{t.piece.line}</legend>
      <Choice
        label={t.piece.lineIs}
        value={piece.line}
        options={[
          { value: 'cut', label: t.piece.lineCut },
          { value: 'sew', label: t.piece.lineSew },
        ]}
        onChange={(line) => {
          session.do(setLine(piece, line));
          if (line === 'sew' && piece.allowanceMm === 0) {
            session.do(setAllowance(piece, USUAL_ALLOWANCE_MM[units]));
          }
        }}
      />
      <LengthField
        label={isSewn ? t.piece.allowance : t.piece.allowanceIn}
        mm={piece.allowanceMm}
        allowZero
        onChange={(mm) => session.do(setAllowance(piece, mm))}
      />
      <p class="field-help">{isSewn ? `${t.piece.allowanceHelp} ${cutSize}` : t.piece.allowanceInHelp}</p>
      {isSewn && (
        <Choice
          label={t.piece.corners}
          value={piece.corners ?? 'mitred'}
          options={(['mitred', 'squared', 'rounded'] as const).map((value) => ({
            value,
            label: t.piece.cornerKinds[value],
          }))}
          onChange={(corners) => session.do(setCorners(piece, corners))}
        />
      )}
      {(isSewn || piece.allowanceMm > 0 || piece.edgeAllowances) && (
        <EdgeAllowances
          piece={piece}
          own={piece.edgeAllowances ?? []}
          allowanceMm={piece.allowanceMm}
          onChange={(edge, mm) => session.do(setEdgeAllowance(piece, edge, mm))}
        />
      )}
    </fieldset>
  );
}

interface EdgeAllowancesProps {
  /** Its edges are those that may have an allowance of their own. */
  readonly piece: Piece;
  readonly own: readonly EdgeAllowance[];
  /** What an edge has before it gets one of its own. */
  readonly allowanceMm: number;
  /** Null: as the others. */
  readonly onChange: (edge: number, mm: number | null) => void;
}

export function EdgeAllowances({ piece, own, allowanceMm, onChange }: EdgeAllowancesProps) {
  const { units } = useProject();
  const edges = foldableEdges(piece.outline, MOST_EDGES);
  const nameOf = (edge: number): string => {
    const length = edges.find((entry) => entry.edge === edge)?.lengthMm;
    const side = sideOf(piece, edge);
    return t.piece.foldEdge(
      edge + 1,
      length === undefined ? side : `${formatLength(length, units)}, ${side}`,
    );
  };
  const open = edges.filter(
    ({ edge }) => edge !== piece.foldEdge && !own.some((entry) => entry.edge === edge),
  );
  return (
    <details class="help" open={own.length > 0}>
      <summary>{t.piece.edgeAllowances}</summary>
      <div>
        {own.map(({ edge, mm }) => (
          <div key={edge} class="row">
            <LengthField
              label={t.piece.edgeAllowanceOf(nameOf(edge))}
              mm={mm}
              allowZero
              onChange={(next) => onChange(edge, next)}
            />
            <button
              type="button"
              class="quiet"
              aria-label={t.piece.edgeAllowanceRemove(nameOf(edge))}
              onClick={() => onChange(edge, null)}
            >
              <Icon name="close" />
            </button>
          </div>
        ))}
        {open.length > 0 && (
          <Select
            label={t.piece.edgeAllowanceAdd}
            hideLabel={own.length === 0}
            value=""
            options={[
              { value: '', label: t.piece.edgeAllowanceNone },
              ...open.map(({ edge }) => ({ value: String(edge), label: nameOf(edge) })),
            ]}
            onChange={(edge) => {
              if (edge !== '') onChange(Number(edge), allowanceMm);
            }}
          />
        )}
      </div>
    </details>
  );
}
