import { Select, Tick } from '../../fields/Choice.tsx';
import { CountField, LengthField } from '../../fields/NumberFields.tsx';
import { Store } from '../../state/store.ts';
import { t } from '../../strings/index.ts';
import { useStore } from '../shared/hooks.ts';
import { FileButton, type Files } from './FileButton.tsx';

/** Labels on a sheet: how many, and where the paper is cut, mm. */
interface LabelMeasures {
  readonly rows: number;
  readonly columns: number;
  readonly marginX: number;
  readonly marginY: number;
  readonly gapX: number;
  readonly gapY: number;
  readonly frames: boolean;
}

const PRESETS = {
  sheet: { rows: 8, columns: 3, marginX: 8, marginY: 12, gapX: 2, gapY: 0, frames: true },
  slips: { rows: 16, columns: 4, marginX: 10, marginY: 10, gapX: 0, gapY: 0, frames: true },
  large: { rows: 5, columns: 2, marginX: 10, marginY: 12, gapX: 4, gapY: 2, frames: true },
} as const satisfies Readonly<Record<string, LabelMeasures>>;
type Preset = keyof typeof PRESETS;

const chosen = new Store<{ readonly kind: Preset | 'own'; readonly measures: LabelMeasures }>({
  kind: 'sheet',
  measures: PRESETS.sheet,
});

/** Labels on bought sheets of any measure, or on slips to clip on. */
export function LabelsPart({ files }: { readonly files: Files }) {
  const { kind, measures } = useStore(chosen);
  const set = (part: Partial<LabelMeasures>): void =>
    chosen.set({ kind: 'own', measures: { ...measures, ...part } });
  const kinds = [...(Object.keys(PRESETS) as Preset[]), 'own'] as const;
  return (
    <div class="row">
      <Select
        label={t.take.labelKind}
        value={kind}
        options={kinds.map((value) => ({ value, label: t.take.labelKinds[value] }))}
        onChange={(value) =>
          chosen.set({ kind: value, measures: value === 'own' ? measures : PRESETS[value] })
        }
      />
      {kind === 'own' && (
        <>
          <CountField
            label={t.take.labelRows}
            count={measures.rows}
            most={100}
            onChange={(rows) => set({ rows })}
          />
          <CountField
            label={t.take.labelColumns}
            count={measures.columns}
            most={50}
            onChange={(columns) => set({ columns })}
          />
          {(['marginX', 'marginY', 'gapX', 'gapY'] as const).map((name) => (
            <LengthField
              key={name}
              label={t.take.labelMeasures[name]}
              mm={measures[name]}
              allowZero
              onChange={(mm) => set({ [name]: mm })}
            />
          ))}
          <Tick label={t.take.labelFrames} on={measures.frames} onChange={(frames) => set({ frames })} />
        </>
      )}
      <FileButton
        files={files}
        file="labels.pdf"
        query={{
          rows: String(measures.rows),
          columns: String(measures.columns),
          marginX: String(measures.marginX),
          marginY: String(measures.marginY),
          gapX: String(measures.gapX),
          gapY: String(measures.gapY),
          frames: measures.frames ? '1' : '0',
        }}
        label={t.take.labels}
      />
    </div>
  );
}
