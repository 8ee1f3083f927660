import { chalkLength, type PiecePosition, type StretchPositions } from '../../../pattern/output/index.ts';
import type { ShownUnits } from '../../../pattern/units/index.ts';
import { language, t } from '../../strings/index.ts';
import { unitName } from '../../strings/lengths.ts';

interface ChalkPointsProps {
  readonly position: PiecePosition;
  readonly from: StretchPositions['from'];
  readonly units: ShownUnits;
}

const LOW = { selvedge: 'low', fold: 'lowFold', box: 'lowBox' } as const;

/** The four points at which a piece touches its place, to chalk them. */
export function ChalkPoints({ position, from, units }: ChalkPointsProps) {
  const rows = [
    [t.cutting.points.near, position.near],
    [t.cutting.points.far, position.far],
    [t.cutting.points[LOW[from]], position.low],
    [t.cutting.points.high, position.high],
  ] as const;
  return (
    <details class="help chalk">
      <summary>{t.cutting.positions}</summary>
      <table>
        <caption>
          {t.cutting.measured} ({unitName(units)})
        </caption>
        <thead>
          <tr>
            <td />
            <th scope="col">{t.cutting.along}</th>
            <th scope="col">{t.cutting.across}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, point]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{chalkLength(point.along, units, language)}</td>
              <td>{chalkLength(point.across, units, language)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
