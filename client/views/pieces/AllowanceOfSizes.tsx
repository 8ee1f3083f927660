import { Choice } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { t } from '../../strings/index.ts';
import type { SizesLine } from './sizesLine.ts';

interface AllowanceOfSizesProps {
  readonly sizes: SizesLine;
  readonly onChange: (sizes: SizesLine) => void;
}

/** Asks whether the sizes being typed have their seam allowance in them, and how much comes on top where not. */
export function AllowanceOfSizes({ sizes, onChange }: AllowanceOfSizesProps) {
  return (
    <div class="row">
      <Choice
        label={t.measure.sizesAre}
        value={sizes.line}
        options={[
          { value: 'cut', label: t.measure.withAllowance },
          { value: 'sew', label: t.measure.withoutAllowance },
        ]}
        onChange={(line) => onChange({ ...sizes, line })}
      />
      {sizes.line === 'sew' && (
        <LengthField
          label={t.piece.allowance}
          mm={sizes.allowanceMm}
          allowZero
          onChange={(allowanceMm) => onChange({ ...sizes, allowanceMm })}
        />
      )}
    </div>
  );
}
