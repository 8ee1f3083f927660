import { useRef, useState } from 'preact/hooks';
import type { Project } from '../../../pattern/exchange/project.ts';
import { parseLength } from '../../../pattern/units/index.ts';
import { Choice } from '../../fields/Choice.tsx';
import { addMeasuredPieces, type MeasuredDraft } from '../../state/pieceCommands.ts';
import { Store } from '../../state/store.ts';
import { language, t } from '../../strings/index.ts';
import { unitName } from '../../strings/lengths.ts';
import { useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { usualMaterial } from '../shared/usualMaterial.ts';
import { AllowanceOfSizes } from './AllowanceOfSizes.tsx';
import { MeasureShape } from './MeasureShape.tsx';
import { type SizesLine, usualLine } from './sizesLine.ts';

interface Row {
  readonly name: string;
  readonly across: string;
  readonly along: string;
  readonly count: string;
  readonly pair: boolean;
  readonly material: string;
}

const EMPTY: Row = { name: '', across: '', along: '', count: '1', pair: false, material: '' };
const FIRST_ROWS = 3;

/** What was typed and not added yet outlives going to another step. */
const typed = new Store<readonly Row[]>(Array.from({ length: FIRST_ROWS }, () => EMPTY));

const isEmpty = (row: Row): boolean => `${row.name}${row.across}${row.along}`.trim() === '';

type Reading = { readonly draft: MeasuredDraft } | { readonly missing: string };

function readRow(row: Row, { units, materials }: Project): Reading {
  if (row.name.trim() === '') return { missing: t.measure.missingName };
  const across = parseLength(row.across, units, { language });
  if (!across.ok) return { missing: `${t.measure.missingAcross} ${across.message}` };
  const along = parseLength(row.along, units, { language });
  if (!along.ok) return { missing: `${t.measure.missingAlong} ${along.message}` };
  if (!/^\d{1,4}$/.test(row.count.trim())) return { missing: t.measure.missingCount };
  const count = Number(row.count);
  const half = Math.ceil(count / 2);
  return {
    draft: {
      name: row.name.trim(),
      acrossMm: across.mm,
      alongMm: along.mm,
      counts: row.pair
        ? { plain: half, mirrored: half, onFold: 0 }
        : { plain: count, mirrored: 0, onFold: 0 },
      material: row.material.trim() === '' ? usualMaterial({ materials }) : row.material,
    },
  };
}

type Known = 'rectangles' | 'shapes' | 'finished';

/** Pieces by their measures: rectangles, other shapes, or what the finished thing measures. */
export function MeasurePanel({ onAdded }: { readonly onAdded: () => void }) {
  const [known, setKnown] = useState<Known>('rectangles');
  return (
    <div class="measure-ways">
      <Choice
        label={t.shapes.waysLabel}
        hideLabel
        value={known}
        options={(['rectangles', 'shapes', 'finished'] as const).map((value) => ({
          value,
          label: t.shapes.ways[value],
        }))}
        onChange={setKnown}
      />
      {known === 'rectangles' ? (
        <MeasureRectangles onAdded={onAdded} />
      ) : (
        <MeasureShape key={known} kind={known} onAdded={onAdded} />
      )}
    </div>
  );
}

/** A table to type rectangles into, added together. */
function MeasureRectangles({ onAdded }: { readonly onAdded: () => void }) {
  const session = useSession();
  const project = useProject();
  const rows = useStore(typed);
  const [sizes, setSizes] = useState<SizesLine>(() => usualLine(project));
  const table = useRef<HTMLTableElement>(null);
  const change = (index: number, patch: Partial<Row>): void => {
    const next = rows.map((row, at) => (at === index ? { ...row, ...patch } : row));
    const last = next.at(-1);
    typed.set(last && !isEmpty(last) ? [...next, { ...EMPTY, material: last.material }] : next);
  };
  const filled = rows.flatMap((row, index) =>
    isEmpty(row) ? [] : [{ index, reading: readRow(row, project) }],
  );
  const ready = filled.flatMap(({ reading }) => ('draft' in reading ? [reading.draft] : []));
  const faulty = filled.flatMap(({ index, reading }) =>
    'missing' in reading ? [{ index, missing: reading.missing }] : [],
  );
  const add = (): void => {
    session.do(addMeasuredPieces(ready, sizes));
    session.announce(t.drawing.added(ready.length));
    // Lines that could not be read stay where they are.
    const left = faulty.map(({ index }) => rows[index] ?? EMPTY);
    typed.set([...left, ...Array.from({ length: FIRST_ROWS }, () => EMPTY)]);
    if (left.length === 0) onAdded();
  };
  const toNextRow = (index: number): void =>
    table.current?.querySelector<HTMLInputElement>(`[data-row="${index + 1}"] input`)?.focus();
  return (
    <div class="measure">
      <p>{t.measure.lead}</p>
      <table class="measure-table" aria-label={t.measure.title} ref={table}>
        <thead>
          <tr>
            {HEADS.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, index) => (
            <MeasureRow
              // Rows have no identity of their own but their place.
              key={String(index)}
              row={row}
              number={index + 1}
              units={project.units}
              usual={usualMaterial(project)}
              change={(patch) => change(index, patch)}
              onEnter={() => toNextRow(index)}
            />
          ))}
        </tbody>
      </table>
      <datalist id="measure-materials">
        {project.materials.map((material) => (
          <option key={material.id} value={material.name} />
        ))}
      </datalist>
      <AllowanceOfSizes sizes={sizes} onChange={setSizes} />
      {faulty.length > 0 && (
        <ul class="field-fault">
          {faulty.map(({ index, missing }) => (
            <li key={String(index)}>{t.measure.incomplete(index + 1, missing)}</li>
          ))}
        </ul>
      )}
      <button type="button" class="primary" disabled={ready.length === 0} onClick={add}>
        <Icon name="plus" />
        {t.measure.add(ready.length)}
      </button>
    </div>
  );
}

const HEADS = [
  t.common.name,
  t.measure.across,
  t.measure.along,
  t.measure.count,
  t.measure.pairsHead,
  t.measure.material,
];

interface MeasureRowProps {
  readonly row: Row;
  readonly number: number;
  readonly units: Project['units'];
  /** Name of the material it goes to if none is named. */
  readonly usual: string;
  readonly change: (patch: Partial<Row>) => void;
  readonly onEnter: () => void;
}

function MeasureRow({ row, number, units, usual, change, onEnter }: MeasureRowProps) {
  const text = (
    key: 'name' | 'across' | 'along' | 'count' | 'material',
    label: string,
    short: string,
    more: { unit?: string; mode?: 'numeric' } = {},
  ) => (
    <td class={`measure-${key}`}>
      <span class="measure-label" aria-hidden="true">
        {short}
      </span>
      <span class="with-unit">
        <input
          type="text"
          aria-label={label}
          value={row[key]}
          inputMode={more.mode}
          maxLength={200}
          autocomplete="off"
          list={key === 'material' ? 'measure-materials' : undefined}
          placeholder={key === 'material' ? usual : undefined}
          onInput={(event) => change({ [key]: event.currentTarget.value })}
          onKeyDown={(event) => {
            if (event.key === 'Enter') onEnter();
          }}
        />
        {more.unit && <span class="unit">{more.unit}</span>}
      </span>
    </td>
  );
  return (
    <tr data-row={number - 1}>
      {text('name', t.measure.name(number), t.common.name)}
      {text('across', t.measure.acrossIn(number), t.measure.across, { unit: unitName(units) })}
      {text('along', t.measure.alongIn(number), t.measure.along, { unit: unitName(units) })}
      {text('count', t.measure.countIn(number), t.measure.count, { mode: 'numeric' })}
      <td class="measure-pair">
        <label>
          <input
            type="checkbox"
            checked={row.pair}
            aria-label={t.measure.pairsIn(number)}
            onChange={(event) => change({ pair: event.currentTarget.checked })}
          />
          <span class="measure-label" aria-hidden="true">
            {t.measure.pairs}
          </span>
        </label>
      </td>
      {text('material', t.measure.materialIn(number), t.measure.material)}
    </tr>
  );
}
