import { useEffect, useState } from 'preact/hooks';
import { cellId, type DesignerTable, type TableRequest } from '../../../pattern/exchange/designerTable.ts';
import { type Project, SPREADS, type Spread } from '../../../pattern/exchange/project.ts';
import { tableKeys, tableMaterials } from '../../../pattern/lay/table/index.ts';
import { cellWords, tableColumns } from '../../../pattern/output/index.ts';
import { faultText } from '../../api/http.ts';
import { cancelLay, requestLay, watchLay } from '../../api/lays.ts';
import { fetchTableFile } from '../../api/tables.ts';
import { Select, Tick } from '../../fields/Choice.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { TableWork } from '../../state/designerTable.ts';
import { language, t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { saveFile } from '../shared/files.ts';
import { useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { usePaper } from './FileButton.tsx';
import { readSizes, readWidths, typedSizes, typedWidths } from './tableInput.ts';

function storage(): Storage | null {
  try {
    return localStorage;
  } catch {
    return null;
  }
}

const work = new TableWork({
  request: requestLay,
  watch: watchLay,
  cancel: cancelLay,
  explain: faultText,
  storage: storage(),
  words: { lost: t.table.lost, tooMany: t.table.tooMany },
});

const SECONDS = ['0.5', '2', '10'] as const;
const NAPS = ['none', 'oneWay'] as const;

/** How much cloth the pattern takes on other widths: asked for here, worked out figure by figure. */
export function DesignerTablePart() {
  const project = useProject();
  const session = useSession();
  const { projectId } = session;
  const [widths, setWidths] = useState(
    project.units === 'in' ? '36, 45, 54, 60' : '90 cm, 112 cm, 140 cm, 150 cm',
  );
  const [sizes, setSizes] = useState('');
  const [naps, setNaps] = useState<readonly (typeof NAPS)[number][]>(NAPS);
  const [spreads, setSpreads] = useState<readonly Spread[]>(['single', 'folded']);
  const [seconds, setSeconds] = useState<(typeof SECONDS)[number]>('2');
  const state = useStore(work.state);
  useEffect(() => {
    work.recall(projectId);
    const { value } = work.state;
    if (value.kind === 'none' || !value.table) return;
    // What was asked for before is asked for again, so that going on needs no typing.
    const { request: asked } = value.table;
    setWidths(typedWidths(asked.widthsMm, project.units));
    setSizes(typedSizes(asked.sizes));
    setNaps(asked.naps);
    setSpreads(asked.spreads);
    const effort = SECONDS.find((known) => Number(known) === asked.seconds);
    if (effort) setSeconds(effort);
  }, [projectId]);
  const readW = readWidths(widths, project.units);
  const readS = readSizes(sizes);
  const request: TableRequest | null =
    readW.ok && readS.ok && naps.length > 0 && spreads.length > 0
      ? {
          widthsMm: readW.value,
          sizes: readS.value,
          naps: NAPS.filter((nap) => naps.includes(nap)),
          spreads: SPREADS.filter((spread) => spreads.includes(spread)),
          materialIds: [],
          seconds: Number(seconds),
          seed: 1,
        }
      : null;
  const count = request ? tableKeys(project, request).length : 0;
  const isRunning = state.kind === 'running';
  const toggled = <T,>(list: readonly T[], value: T, on: boolean): readonly T[] =>
    on ? [...list, value] : list.filter((entry) => entry !== value);
  return (
    <details class="help designer-table">
      <summary>{t.table.title}</summary>
      <p class="field-help">{t.table.lead}</p>
      <div class="row">
        <TextField
          label={t.table.widths}
          value={widths}
          help={t.table.widthsHelp}
          fault={readW.ok ? null : readW.fault}
          onChange={setWidths}
        />
        <TextField
          label={t.table.sizes}
          value={sizes}
          help={t.table.sizesHelp}
          fault={readS.ok ? null : readS.fault}
          maxLength={1000}
          onChange={setSizes}
        />
      </div>
      <div class="row">
        <fieldset class="choice">
          <legend>{t.table.naps}</legend>
          {NAPS.map((nap) => (
            <Tick
              key={nap}
              label={t.table.napNames[nap]}
              on={naps.includes(nap)}
              onChange={(on) => setNaps(toggled(naps, nap, on))}
            />
          ))}
        </fieldset>
        <fieldset class="choice">
          <legend>{t.table.spreads}</legend>
          <div class="row">
            {SPREADS.map((spread) => (
              <Tick
                key={spread}
                label={t.plan.spreadNames[spread]}
                on={spreads.includes(spread)}
                onChange={(on) => setSpreads(toggled(spreads, spread, on))}
              />
            ))}
          </div>
        </fieldset>
        <Select
          label={t.table.seconds}
          value={seconds}
          options={SECONDS.map((value) => ({ value, label: t.table.secondsChoices[value] }))}
          onChange={setSeconds}
        />
      </div>
      {(naps.length === 0 || spreads.length === 0) && <p class="fault">{t.table.choose}</p>}
      {request && count === 0 && <p class="fault">{t.table.nothing}</p>}
      <div class="row">
        {isRunning ? (
          <button type="button" class="primary" onClick={() => work.stop()}>
            <Icon name="stop" />
            {t.table.stop}
          </button>
        ) : (
          <button
            type="button"
            class="primary"
            disabled={!request || count === 0}
            onClick={() => request && session.attempt(() => work.start(project, projectId, request))}
          >
            {state.kind === 'stopped' ? `${t.table.goOn}: ${t.table.start(count)}` : t.table.start(count)}
          </button>
        )}
        {state.kind === 'running' && (
          <>
            <progress max={state.total} value={state.done} aria-label={t.table.title} />
            <span>{t.table.running(state.done, state.total)}</span>
          </>
        )}
        <span role="status">
          {state.kind === 'done' && t.table.done}
          {state.kind === 'stopped' && t.table.stopped(state.done)}
        </span>
      </div>
      {state.kind === 'failed' && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>{t.table.failed(state.reason)}</span>
        </p>
      )}
      {state.kind !== 'none' && state.table && state.table.cells.length > 0 && (
        <Figures project={project} table={state.table} isRunning={isRunning} />
      )}
    </details>
  );
}

interface FiguresProps {
  readonly project: Project;
  readonly table: DesignerTable;
  readonly isRunning: boolean;
}

function Figures({ project, table, isRunning }: FiguresProps) {
  const session = useSession();
  const page = usePaper();
  const { units } = project;
  const materials = tableMaterials(project, table.request);
  const found = new Map(table.cells.map((cell) => [cellId(cell), cell]));
  const columns = tableColumns(table);
  const widths = [...new Set(table.request.widthsMm)];
  const save = (ending: 'pdf' | 'csv'): void =>
    session.attempt(async () => {
      const made = await fetchTableFile(ending, {
        project: project.name,
        units,
        page,
        materials: materials.map(({ id, name }) => ({ id, name })),
        table,
      });
      saveFile(made.name, made.content.type, made.content);
    });
  return (
    <div class="table-figures">
      <p class="field-help">
        {t.table.quality} {t.table.signs}
      </p>
      {materials.map(({ id: materialId, name }) => (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be within reach of the keyboard
        <section key={materialId} class="scroll-x" tabIndex={0} aria-label={t.table.material(name)}>
          <table>
            <caption>{t.table.material(name)}</caption>
            <thead>
              <tr>
                <th scope="col">{t.table.size}</th>
                <th scope="col">{t.table.width}</th>
                {columns.map(({ nap, spread }) => (
                  <th key={`${nap} ${spread}`} scope="col">
                    {t.plan.spreadNames[spread]}
                    <span class="faint"> {t.table.napNames[nap]}</span>
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {table.request.sizes.flatMap(({ name: size }) =>
                widths.map((widthMm) => (
                  <tr key={`${size} ${widthMm}`}>
                    <th scope="row">{size}</th>
                    <td>{formatLength(widthMm, units)}</td>
                    {columns.map((column) => {
                      const cell = found.get(cellId({ materialId, size, widthMm, ...column }));
                      return (
                        <td key={`${column.nap} ${column.spread}`} title={cell?.reason}>
                          {cellWords(cell, units, language)}
                        </td>
                      );
                    })}
                  </tr>
                )),
              )}
            </tbody>
          </table>
        </section>
      ))}
      <div class="row">
        <button type="button" disabled={isRunning} onClick={() => save('pdf')}>
          <Icon name="down" />
          {t.table.pdf}
        </button>
        <button type="button" disabled={isRunning} onClick={() => save('csv')}>
          <Icon name="down" />
          {t.table.csv}
        </button>
      </div>
    </div>
  );
}
