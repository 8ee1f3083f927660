import type { Project, ShapeSource } from '../../../pattern/exchange/project.ts';
import {
  type CutSide,
  cutSizeOf,
  FORMULA_MEASURES,
  isFormula,
  MAY_BE_ZERO,
  type Measures,
  measureFault,
  missingMeasure,
  SHAPE_MEASURES,
} from '../../../pattern/shapes/index.ts';
import { LengthField } from '../../fields/NumberFields.tsx';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';

type Shape = ShapeSource['shape'];

export function measuresOf(shape: Shape): readonly string[] {
  return isFormula(shape) ? FORMULA_MEASURES[shape] : SHAPE_MEASURES[shape];
}

export function measureName(shape: Shape, measure: string): string {
  return t.shapes.finished[shape]?.[measure] ?? t.shapes.measures[measure] ?? measure;
}

/** Why the measures make no shape yet, in words; null if they do. */
export function shapeFault(shape: Shape, measures: Measures, units: Project['units']): string | null {
  if (isFormula(shape)) {
    const missing = missingMeasure(shape, measures);
    return missing === null ? null : t.shapes.need(measureName(shape, missing));
  }
  const fault = measureFault(shape, measures);
  if (!fault) return null;
  const name = measureName(shape, fault.measure);
  if (fault.mostMm === null) return t.shapes.need(name);
  const most = formatLength(fault.mostMm, units);
  return fault.measure === 'corner' ? t.shapes.tooLargeNot(name, most) : t.shapes.tooLarge(name, most);
}

interface ShapeFieldsProps {
  readonly shape: Shape;
  readonly measures: Measures;
  readonly onChange: (measures: Measures) => void;
}

export function ShapeFields({ shape, measures, onChange }: ShapeFieldsProps) {
  return (
    <div class="shape-fields">
      {measuresOf(shape).map((measure) => (
        <LengthField
          key={measure}
          label={measureName(shape, measure)}
          mm={measures[measure] ?? null}
          allowZero={MAY_BE_ZERO.has(measure)}
          onChange={(mm) => onChange({ ...measures, [measure]: mm })}
        />
      ))}
    </div>
  );
}

/** How the cut size comes of the finished one, term by term. */
export function FormulaSums({
  shape,
  measures,
  units,
}: Omit<ShapeFieldsProps, 'onChange'> & { readonly units: Project['units'] }) {
  if (!isFormula(shape) || missingMeasure(shape, measures) !== null) return null;
  const { across, along } = cutSizeOf(shape, measures);
  const sum = ({ mm, terms }: CutSide): string =>
    t.shapes.sum(
      terms.map(({ times, measure }) =>
        t.shapes.term(times, t.shapes.terms[measure] ?? measure, formatLength(measures[measure] ?? 0, units)),
      ),
      formatLength(mm, units),
    );
  return (
    <div class="field-help" role="status">
      <p>{t.shapes.across(sum(across))}</p>
      <p>{t.shapes.along(sum(along))}</p>
    </div>
  );
}
