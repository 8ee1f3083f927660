import type { Point } from '../../../nesting/packing/types.ts';
import type { FoldAtLine, Piece, Project, VariantStep } from '../../../pattern/exchange/project.ts';
import {
  type FoldLine,
  foldLineAt,
  foldLines,
  largerSide,
  takeSteps,
} from '../../../pattern/variants/index.ts';
import { Choice, Select } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { foldableEdges } from '../../render/pieceView.ts';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { FoldPreview } from './FoldPreview.tsx';
import { sideOf, sideOfPlace } from './sideOf.ts';

type FoldBack = Extract<VariantStep, { kind: 'foldBack' }>;

const MOST_EDGES = 12;
const MOST_LINES = 24;

/**
 * Where a piece is most likely folded back: at its drawn sew line where its cut line does not say how much allowance it
 * holds, else at an edge less its allowance; along the grain, as a lengthwise fold lies.
 */
export function usualFold(piece: Piece): FoldBack {
  const edges = foldableEdges(piece.outline, MOST_EDGES);
  const along = edges.find(({ edge }) => {
    const [from, to] = [piece.outline[edge], piece.outline[(edge + 1) % piece.outline.length]];
    return from && to && isAlongGrain(piece, [from, to]);
  });
  const edge = (along ?? edges[0])?.edge ?? 0;
  const seam =
    piece.line === 'cut' && piece.allowanceMm === 0
      ? foldLines(piece).find(({ kind, ends }) => kind === 'sewLine' && isAlongGrain(piece, ends))
      : undefined;
  const insideMm = piece.line === 'cut' ? piece.allowanceMm : 0;
  return { kind: 'foldBack', edge, insideMm, ...(seam ? { line: foldAt(piece, seam) } : {}) };
}

function isAlongGrain({ grainDeg }: Piece, [from, to]: readonly [Point, Point]): boolean {
  const degrees = (Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI - grainDeg;
  return Math.abs(Math.sin((degrees * Math.PI) / 180)) < 0.02;
}

const foldAt = ({ outline }: Piece, { mark, from, ends }: FoldLine): FoldAtLine => ({
  mark,
  from,
  keep: largerSide(outline, ends),
});

interface FoldBackFieldsProps {
  readonly step: FoldBack;
  /** The piece the step is taken from; null where an earlier step can't be taken. */
  readonly before: Piece | null;
  readonly onChange: (step: FoldBack) => void;
}

/** The line at which a piece is folded back: one drawn on it, or one so far inside an edge. */
export function FoldBackFields({ step, before, onChange }: FoldBackFieldsProps) {
  const { units } = useProject();
  const edges = before ? foldableEdges(before.outline, MOST_EDGES) : [];
  const lines = before ? foldLines(before).slice(0, MOST_LINES) : [];
  const { line: at, ...withoutLine } = step;
  const chosen = before && at ? foldLineAt(before, at) : null;
  const value = at ? keyOf(at) : String(step.edge);
  const choose = (key: string): void => {
    const line = lines.find((entry) => keyOf(entry) === key);
    if (line && before) onChange({ ...step, line: foldAt(before, line) });
    else onChange({ ...withoutLine, edge: Number(key) });
  };
  const options = [
    ...(before ? lineOptions(before, lines, units) : []),
    ...edges.map(({ edge, lengthMm }) => ({
      value: String(edge),
      label: t.piece.foldEdge(
        edge + 1,
        `${formatLength(lengthMm, units)}, ${before ? sideOf(before, edge) : ''}`,
      ),
    })),
  ];
  // What is chosen stays to be seen, though it is no longer there or too short to be offered.
  if (!options.some((option) => option.value === value))
    options.push({ value, label: at ? t.variant.lineGone : t.piece.foldEdge(step.edge + 1, '–') });
  const result = before && takeSteps(before, [step]);
  return (
    <>
      {before && (
        <FoldPreview
          piece={before}
          kept={result?.ok ? result.piece : null}
          lines={lines.map((line) => ({ key: keyOf(line), ends: line.ends }))}
          onChoose={choose}
        />
      )}
      <Select label={t.variant.foldAt} value={value} options={options} onChange={choose} />
      {at ? (
        chosen && (
          <Choice
            label={t.variant.keep}
            value={at.keep}
            options={(['left', 'right'] as const).map((keep) => ({
              value: keep,
              label: keptSide(chosen, keep),
            }))}
            onChange={(keep) => onChange({ ...step, line: { ...at, keep } })}
          />
        )
      ) : (
        <>
          <LengthField
            label={t.variant.inside}
            mm={step.insideMm}
            allowZero
            onChange={(insideMm) => onChange({ ...step, insideMm })}
          />
          <p class="field-help">{t.variant.insideHelp}</p>
        </>
      )}
    </>
  );
}

const keyOf = ({ mark, from }: Pick<FoldAtLine, 'mark' | 'from'>): string => `line ${mark} ${from}`;

function lineOptions(
  piece: Piece,
  lines: readonly FoldLine[],
  units: Project['units'],
): { value: string; label: string }[] {
  return lines.map((line, index) => {
    const [[ax, ay], [bx, by]] = line.ends;
    const side = sideOfPlace(piece, [(ax + bx) / 2, (ay + by) / 2]);
    const what = `${formatLength(line.lengthMm, units)}, ${side}`;
    return {
      value: keyOf(line),
      label: line.kind === 'sewLine' ? t.variant.sewLine(what) : t.variant.drawnLine(index + 1, what),
    };
  });
}

/** What lies on one side of a line, looking along it, as it lies in the drawing. */
function keptSide({ ends: [[ax, ay], [bx, by]] }: FoldLine, keep: FoldAtLine['keep']): string {
  const sign = keep === 'left' ? 1 : -1;
  const [x, y] = [-sign * (by - ay), sign * (bx - ax)];
  const { left, right, above, below } = t.piece.sides;
  if (Math.abs(x) >= Math.abs(y)) return x < 0 ? left : right;
  return y < 0 ? below : above;
}
