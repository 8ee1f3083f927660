import type { Box } from '../../../nesting/geometry/points.ts';
import { LengthField } from '../../fields/NumberFields.tsx';
import { t } from '../../strings/index.ts';

/** The part of each sheet that counts, in four lengths: its size, and where it lies on the sheet. */
export function WindowFields({ window, onChange }: { window: Box; onChange: (window: Box) => void }) {
  const { minX, minY, maxX, maxY } = window;
  return (
    <>
      <LengthField
        label={t.drawing.sheetsWide}
        mm={maxX - minX}
        onChange={(mm) => onChange({ ...window, maxX: minX + mm })}
      />
      <LengthField
        label={t.drawing.sheetsTall}
        mm={maxY - minY}
        onChange={(mm) => onChange({ ...window, maxY: minY + mm })}
      />
      <LengthField
        label={t.drawing.sheetsLeft}
        mm={minX}
        allowZero
        onChange={(mm) => onChange({ ...window, minX: mm, maxX: maxX - minX + mm })}
      />
      <LengthField
        label={t.drawing.sheetsBottom}
        mm={minY}
        allowZero
        onChange={(mm) => onChange({ ...window, minY: mm, maxY: maxY - minY + mm })}
      />
    </>
  );
}
