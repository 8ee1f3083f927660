import type { Piece, Stretch } from '../../../pattern/exchange/project.ts';
import { lengthAlong, sidesOf, stretchPoints } from '../../../pattern/parts/index.ts';
import { Choice, Select } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { sideOf } from '../pieces/sideOf.ts';
import { useProject } from './hooks.ts';

/** What can be joined: a piece, or an outline of a drawing that will be one. */
export interface Joinable {
  readonly id: string;
  readonly name: string;
  readonly outline: Piece['outline'];
}

/** Where and how two of them are joined; the edges are places in `sidesOf`. */
export interface JoinValue {
  readonly firstId: string;
  readonly firstSide: number;
  readonly secondId: string;
  readonly secondSide: number;
  readonly way: 'butt' | 'lap';
  readonly lapMm: number;
}

/** Sides offered for joining, the longest first. */
const MOST_SIDES = 16;
const USUAL_LAP_MM = { cm: 10, mm: 10, in: 9.525 } as const;

export const joinableSides = ({ outline }: Pick<Joinable, 'outline'>): readonly Stretch[] =>
  sidesOf(outline).slice(0, MOST_SIDES);

export function sideName(
  { outline }: Pick<Joinable, 'outline'>,
  stretch: Stretch,
  units: 'cm' | 'mm' | 'in',
): string {
  const middle = (stretch.edge + Math.floor(stretch.edges / 2)) % outline.length;
  const length = formatLength(lengthAlong(stretchPoints(outline, stretch) ?? []), units);
  return t.parts.edge(length, sideOf({ outline }, middle));
}

interface JoinFieldsProps {
  readonly value: JoinValue;
  /** What the first may be; a single one is not asked for. */
  readonly firsts: readonly Joinable[];
  readonly seconds: readonly Joinable[];
  readonly onChange: (value: JoinValue) => void;
}

/** Two things to be joined, the edges at which, and how. */
export function JoinFields({ value, firsts, seconds, onChange }: JoinFieldsProps) {
  const { units } = useProject();
  const first = firsts.find(({ id }) => id === value.firstId);
  const second = seconds.find(({ id }) => id === value.secondId);
  const named = (list: readonly Joinable[]) => list.map(({ id, name }) => ({ value: id, label: name }));
  const sides = (of: Joinable | undefined) =>
    of
      ? joinableSides(of).map((side, index) => ({ value: String(index), label: sideName(of, side, units) }))
      : [];
  return (
    <div class="join-fields">
      <div class="row">
        {firsts.length > 1 && (
          <Select
            label={t.parts.firstPiece}
            value={value.firstId}
            options={named(firsts)}
            onChange={(firstId) => onChange({ ...value, firstId, firstSide: 0 })}
          />
        )}
        <Select
          label={t.parts.firstEdge}
          value={String(value.firstSide)}
          options={sides(first)}
          onChange={(side) => onChange({ ...value, firstSide: Number(side) })}
        />
      </div>
      <div class="row">
        <Select
          label={t.parts.secondPiece}
          value={value.secondId}
          options={named(seconds.filter(({ id }) => id !== value.firstId))}
          onChange={(secondId) => onChange({ ...value, secondId, secondSide: 0 })}
        />
        <Select
          label={t.parts.secondEdge}
          value={String(value.secondSide)}
          options={sides(second)}
          onChange={(side) => onChange({ ...value, secondSide: Number(side) })}
        />
      </div>
      <div class="row">
        <Choice
          label={t.parts.way}
          value={value.way}
          options={(['butt', 'lap'] as const).map((way) => ({ value: way, label: t.parts.ways[way] }))}
          onChange={(way) =>
            onChange({ ...value, way, lapMm: way === 'lap' ? value.lapMm || USUAL_LAP_MM[units] : 0 })
          }
        />
        {value.way === 'lap' && (
          <LengthField
            label={t.parts.lapMm}
            mm={value.lapMm}
            onChange={(lapMm) => onChange({ ...value, lapMm })}
          />
        )}
      </div>
    </div>
  );
}

/** The join to begin with: the first two, at the edges that agree best in length. */
export function usualJoin(first: Joinable, second: Joinable): JoinValue {
  const lengths = (of: Joinable): number[] =>
    joinableSides(of).map((side) => lengthAlong(stretchPoints(of.outline, side) ?? []));
  let best = { off: Number.POSITIVE_INFINITY, firstSide: 0, secondSide: 0 };
  lengths(first).forEach((a, firstSide) => {
    lengths(second).forEach((b, secondSide) => {
      const off = Math.abs(a - b);
      if (off < best.off - 1e-6) best = { off, firstSide, secondSide };
    });
  });
  const { firstSide, secondSide } = best;
  return { firstId: first.id, firstSide, secondId: second.id, secondSide, way: 'butt', lapMm: 0 };
}
