import { Fragment } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { type CutEntry, type ReadLine, readCutList } from '../../../pattern/measurements/index.ts';
import type { ShownUnits } from '../../../pattern/units/index.ts';
import { Choice } from '../../fields/Choice.tsx';
import { addMeasuredPieces, type Counts, type MeasuredDraft } from '../../state/pieceCommands.ts';
import { Store } from '../../state/store.ts';
import { language, t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { MaterialInput } from '../shared/MaterialInput.tsx';
import { usualMaterial } from '../shared/usualMaterial.ts';
import { AllowanceOfSizes } from './AllowanceOfSizes.tsx';
import { type SizesLine, usualLine } from './sizesLine.ts';

/** What was pasted and not added yet outlives going to another step. */
const pasted = new Store('');

type Order = 'acrossFirst' | 'alongFirst';
type Read = Extract<ReadLine, { ok: true }>;

/** Both measures as they will be: the assumed order applied, then the maker's own swap of the line. */
function oriented(entry: CutEntry, order: Order, isSwapped: boolean): CutEntry {
  const turn = (entry.grainSaid === 'assumed' && order === 'alongFirst') !== isSwapped;
  return turn ? { ...entry, alongMm: entry.acrossMm, acrossMm: entry.alongMm } : entry;
}

function countsOf({ count, pair, onFold }: CutEntry): Counts {
  if (onFold) return { plain: 0, mirrored: 0, onFold: count };
  if (!pair) return { plain: count, mirrored: 0, onFold: 0 };
  return { plain: Math.ceil(count / 2), mirrored: Math.floor(count / 2), onFold: 0 };
}

function moreOf(entry: CutEntry): NonNullable<MeasuredDraft['more']> {
  return (entry.more ?? []).map(({ count, material }) => ({
    counts: countsOf({ ...entry, count }),
    material,
  }));
}

/** A box for a cut list in words; every line is shown as understood before anything is added. */
export function PastePanel({ onAdded }: { readonly onAdded: () => void }) {
  const session = useSession();
  const project = useProject();
  const text = useStore(pasted);
  const [unit, setUnit] = useState<ShownUnits>(project.units);
  const [order, setOrder] = useState<Order>('acrossFirst');
  const [swapped, setSwapped] = useState<ReadonlySet<string>>(new Set());
  const [named, setMaterial] = useState('');
  const [sizes, setSizes] = useState<SizesLine>(() => usualLine(project));
  const material = named.trim() === '' ? usualMaterial(project) : named;
  const names = project.materials.map((entry) => entry.name).join('\n');
  const reading = useMemo(
    () =>
      readCutList(text, { language, defaultUnit: unit, materials: names === '' ? [] : names.split('\n') }),
    [text, unit, names],
  );
  const read = reading.lines.filter((line): line is Read => line.ok);
  const unread = reading.lines.filter((line) => !line.ok);
  const keyOf = (line: ReadLine): string => `${line.lineNumber} ${line.text}`;
  const toggle = (line: ReadLine): void => {
    const next = new Set(swapped);
    if (!next.delete(keyOf(line))) next.add(keyOf(line));
    setSwapped(next);
  };
  const add = (): void => {
    const drafts = read.map((line): MeasuredDraft => {
      const entry = oriented(line.entry, order, swapped.has(keyOf(line)));
      return {
        name: entry.name,
        acrossMm: entry.acrossMm,
        alongMm: entry.alongMm,
        counts: countsOf(entry),
        isHalf: entry.onFold,
        material: entry.material ?? material,
        more: moreOf(entry),
      };
    });
    session.do(addMeasuredPieces(drafts, sizes));
    session.announce(t.paste.added(drafts.length, unread.length));
    // Headings stay with the lines they may belong to.
    const left = unread.length === 0 ? [] : [...reading.headings, ...unread];
    pasted.set(
      left
        .sort((a, b) => a.lineNumber - b.lineNumber)
        .map((line) => line.text)
        .join('\n'),
    );
    setSwapped(new Set());
    if (unread.length === 0) onAdded();
  };
  return (
    <div class="paste">
      <p>{t.paste.lead}</p>
      <label class="field">
        <span class="sr">{t.paste.box}</span>
        <textarea
          rows={7}
          spellcheck={false}
          value={text}
          placeholder={t.paste.placeholder}
          onInput={(event) => pasted.set(event.currentTarget.value)}
        />
      </label>
      <FileButton />
      <div class="row choices">
        <Choice
          label={t.paste.unit}
          value={unit}
          options={(['cm', 'mm', 'in'] as const).map((value) => ({
            value,
            label: t.header.unitNames[value],
          }))}
          onChange={setUnit}
        />
        <Choice
          label={t.paste.orientation}
          value={order}
          options={[
            { value: 'acrossFirst', label: t.paste.acrossFirst },
            { value: 'alongFirst', label: t.paste.alongFirst },
          ]}
          onChange={setOrder}
        />
        <MaterialInput label={t.paste.material} value={named} onChange={setMaterial} />
      </div>
      <AllowanceOfSizes sizes={sizes} onChange={setSizes} />
      {reading.refused !== undefined && <p class="field-fault">{reading.refused}</p>}
      {text.trim() === '' ? (
        <p class="faint">{t.paste.nothing}</p>
      ) : (
        <p role="status">{t.paste.understood(read.length, reading.lines.length)}</p>
      )}
      {read.length > 0 && (
        <ul class="read-lines">
          {read.map((line) => (
            <ReadEntry
              key={keyOf(line)}
              line={line}
              entry={oriented(line.entry, order, swapped.has(keyOf(line)))}
              material={line.entry.material ?? material}
              isSwapped={swapped.has(keyOf(line))}
              onSwap={() => toggle(line)}
            />
          ))}
        </ul>
      )}
      {unread.length > 0 && (
        <section class="lacks" aria-label={t.paste.unread}>
          <h4>
            <Icon name="lacking" />
            {t.paste.unread}
          </h4>
          <ul>
            {unread.map((line) => (
              <li key={keyOf(line)}>
                <span>
                  {t.paste.lineNumber(line.lineNumber)}: <q>{line.text}</q> {!line.ok && line.missing}
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <button type="button" class="primary" disabled={read.length === 0} onClick={add}>
        <Icon name="plus" />
        {t.paste.add(read.length)}
      </button>
    </div>
  );
}

const MOST_BYTES = 2_000_000;

/** A cut list from a file: what a spreadsheet saves as CSV, or plain text. */
function FileButton() {
  const session = useSession();
  const read = async (file: File): Promise<void> => {
    if (file.size > MOST_BYTES) {
      session.messages.say(t.paste.fileTooLarge, { tone: 'bad' });
      return;
    }
    pasted.set(textOf(new Uint8Array(await file.arrayBuffer())));
  };
  return (
    <label class="button">
      {t.paste.openFile}
      <input
        type="file"
        class="sr"
        accept=".csv,.tsv,.txt,text/csv,text/plain,text/tab-separated-values"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          event.currentTarget.value = '';
          if (file) session.attempt(() => read(file));
        }}
      />
    </label>
  );
}

/** UTF-8, or what older spreadsheets write on Windows where it is none. */
function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

interface ReadEntryProps {
  readonly line: Read;
  readonly entry: CutEntry;
  readonly material: string;
  readonly isSwapped: boolean;
  readonly onSwap: () => void;
}

function ReadEntry({ line, entry, material, isSwapped, onSwap }: ReadEntryProps) {
  const { units } = useProject();
  const counts = countsOf(entry);
  const assumed = [
    entry.grainSaid === 'assumed' && !isSwapped ? t.paste.assumedGrain : '',
    entry.unitSaid === 'assumed' ? t.paste.assumedUnit : '',
    entry.countSaid === 'assumed' ? t.paste.assumedCount : '',
  ].filter((part) => part !== '');
  return (
    <li>
      <Proportion acrossMm={entry.acrossMm} alongMm={entry.alongMm} />
      <span class="read-text">
        <strong>{entry.name}</strong>
        <span>
          {t.paste.alongAcross(formatLength(entry.alongMm, units), formatLength(entry.acrossMm, units))}
        </span>
        <span class="card-fact">
          {t.cutList.totalHands(counts.plain, counts.mirrored, counts.onFold, 0)}
          {t.paste.fromMaterial(material)}
          {moreOf(entry).map((other) => (
            <Fragment key={other.material}>
              {', '}
              {t.cutList.totalHands(other.counts.plain, other.counts.mirrored, other.counts.onFold, 0)}
              {t.paste.fromMaterial(other.material)}
            </Fragment>
          ))}
        </span>
        {assumed.length > 0 && <span class="card-fact faint">{t.paste.assumed(t.common.and(assumed))}</span>}
      </span>
      <button type="button" class="quiet" aria-label={t.paste.swapFor(entry.name)} onClick={onSwap}>
        <Icon name="swap" />
        {t.paste.swap}
      </button>
      <span class="sr">{t.paste.lineNumber(line.lineNumber)}</span>
    </li>
  );
}

/** The rectangle in small, grain upright. */
function Proportion({ acrossMm, alongMm }: { readonly acrossMm: number; readonly alongMm: number }) {
  const size = Math.max(acrossMm, alongMm);
  const width = Math.max(3, (acrossMm / size) * 40);
  const height = Math.max(3, (alongMm / size) * 40);
  return (
    <svg class="thumb" viewBox="-25 -25 50 50" aria-hidden="true" focusable="false">
      <rect class="thumb-cloth" x={-width / 2} y={-height / 2} width={width} height={height} />
      <path class="thumb-grain" d="M0 -8V8M0 -8l-2.500 4M0 -8l2.500 4M0 8l-2.500 -4M0 8l2.500 -4" />
    </svg>
  );
}
