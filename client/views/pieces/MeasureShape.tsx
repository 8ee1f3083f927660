import { useState } from 'preact/hooks';
import type { Joins, Project, ShapeSource } from '../../../pattern/exchange/project.ts';
import {
  FORMULA_NAMES,
  isFormula,
  type Measures,
  pieceFromShape,
  SHAPE_NAMES,
} from '../../../pattern/shapes/index.ts';
import { Select } from '../../fields/Choice.tsx';
import { CountField } from '../../fields/NumberFields.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { freshId } from '../../state/ids.ts';
import { addDrawnPieces } from '../../state/pieceCommands.ts';
import { t } from '../../strings/index.ts';
import { useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { MaterialInput } from '../shared/MaterialInput.tsx';
import { usualMaterial } from '../shared/usualMaterial.ts';
import { AllowanceOfSizes } from './AllowanceOfSizes.tsx';
import { PieceThumb } from './PieceThumb.tsx';
import { FormulaSums, measuresOf, ShapeFields, shapeFault } from './ShapeFields.tsx';
import { StripsPart } from './StripsPart.tsx';
import { type SizesLine, usualLine } from './sizesLine.ts';

type Shape = ShapeSource['shape'];

/** Allowances to begin with, mm: 1 cm or 3/8 in for a seam, 4 cm or 1 1/2 in for a hem. */
const USUAL = {
  cm: { seam: 10, hem: 40, reserve: 250, join: 10 },
  mm: { seam: 10, hem: 40, reserve: 250, join: 10 },
  in: { seam: 9.525, hem: 38.1, reserve: 254, join: 6.35 },
} as const;

interface MeasureShapeProps {
  readonly kind: 'shapes' | 'finished';
  readonly onAdded: () => void;
}

/** A piece known by a few measures of its shape, or by those of the finished thing. */
export function MeasureShape({ kind, onAdded }: MeasureShapeProps) {
  const session = useSession();
  const project = useProject();
  const { units } = project;
  const shapes: readonly Shape[] = kind === 'shapes' ? SHAPE_NAMES : FORMULA_NAMES;
  const [shape, setShape] = useState<Shape>(shapes[0] as Shape);
  const [typed, setTyped] = useState<Measures>({});
  const [sizes, setSizes] = useState<SizesLine>(() => usualLine(project));
  const [name, setName] = useState('');
  const [count, setCount] = useState(1);
  const [material, setMaterial] = useState('');
  const measures = withUsual(shape, typed, units);
  const fault = shapeFault(shape, measures, units);
  const title = name.trim() === '' ? t.shapes.names[shape] : name.trim();
  const line = isFormula(shape) ? 'cut' : sizes.line;
  const recipe = { shape, measures, line, allowanceMm: line === 'sew' ? sizes.allowanceMm : 0 };
  const preview = fault === null ? pieceFromShape('preview', title, recipe) : null;
  const add = (): void => {
    session.do(
      addDrawnPieces([
        {
          piece: pieceFromShape(freshId('piece'), title, recipe),
          counts: { plain: count, mirrored: 0, onFold: 0 },
          material: material.trim() === '' ? usualMaterial(project) : material,
          ...(shape === 'binding' ? { joins: bindingJoins(units) } : {}),
        },
      ]),
    );
    session.announce(t.drawing.added(1));
    onAdded();
  };
  return (
    <div class="measure-shape">
      <div class="shape-head">
        <Select
          label={kind === 'shapes' ? t.shapes.shape : t.shapes.formula}
          value={shape}
          options={shapes.map((value) => ({ value, label: t.shapes.names[value] }))}
          onChange={(next) => {
            setShape(next);
            setTyped({});
          }}
        />
        {preview && <PieceThumb piece={preview} />}
      </div>
      <ShapeFields key={shape} shape={shape} measures={measures} onChange={setTyped} />
      {!isFormula(shape) && <AllowanceOfSizes sizes={sizes} onChange={setSizes} />}
      <FormulaSums shape={shape} measures={measures} units={units} />
      {shape === 'binding' && <p class="field-help">{t.shapes.joined}</p>}
      {shape === 'binding' && preview && <StripsPart piece={preview} copies={count} />}
      <div class="row">
        <TextField label={t.common.name} value={name} placeholder={title} onChange={setName} />
        <CountField label={t.measure.count} count={count} onChange={(next) => setCount(Math.max(1, next))} />
        <MaterialInput label={t.measure.material} value={material} onChange={setMaterial} />
      </div>
      {fault !== null && Object.keys(typed).length > 0 && <p class="field-fault">{fault}</p>}
      <button type="button" class="primary" disabled={fault !== null} onClick={add}>
        <Icon name="plus" />
        {t.shapes.add(title)}
      </button>
    </div>
  );
}

/** What was typed, with the usual allowances where nothing was. */
function withUsual(shape: Shape, typed: Measures, units: Project['units']): Measures {
  const usual: Readonly<Record<string, number>> = USUAL[units];
  const given = measuresOf(shape).flatMap((measure) => {
    const mm = typed[measure] ?? (isFormula(shape) ? usual[measure] : undefined);
    return mm === undefined ? [] : [[measure, mm] as const];
  });
  return Object.fromEntries(given);
}

function bindingJoins(units: Project['units']): Joins {
  return { most: 20, allowanceMm: USUAL[units].join, slant: 'diagonal', wholeMiddleMm: 0 };
}
