import { useState } from 'preact/hooks';
import type { RestoreReport } from '../../pattern/exchange/backup.ts';
import { BACKUP_ADDRESS, restoreBackup } from '../api/backup.ts';
import { explain } from '../api/explain.ts';
import { showTime, t } from '../strings/index.ts';
import { saveAddress } from './shared/files.ts';
import { useSession } from './shared/hooks.ts';
import { Icon } from './shared/Icon.tsx';

type State =
  | { readonly kind: 'idle' | 'working' }
  | { readonly kind: 'done'; readonly report: RestoreReport }
  | { readonly kind: 'failed'; readonly why: string };

/** One file with everything the server holds, out and in again. */
export function BackupPart() {
  const session = useSession();
  const [state, setState] = useState<State>({ kind: 'idle' });
  const save = async (): Promise<void> => {
    // What was typed last belongs into it.
    await session.autosave.flush();
    saveAddress(BACKUP_ADDRESS);
  };
  const restore = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    setState({ kind: 'working' });
    try {
      const report = await restoreBackup(file);
      setState({ kind: 'done', report });
      await session.refreshList();
    } catch (error) {
      setState({ kind: 'failed', why: explain(error) });
    }
  };
  return (
    <section class="backup" aria-label={t.backup.title}>
      <h3>{t.backup.title}</h3>
      <p class="field-help">{t.backup.help}</p>
      <div class="row">
        <button type="button" onClick={() => session.attempt(save)}>
          <Icon name="down" />
          {t.backup.save}
        </button>
        <label class="button">
          {t.backup.restore}
          <input
            type="file"
            class="sr"
            accept=".gz,.jsonl,application/gzip"
            onChange={(event) => {
              const { currentTarget } = event;
              void restore(currentTarget.files?.[0]);
              // The same file can be chosen again.
              currentTarget.value = '';
            }}
          />
        </label>
      </div>
      <div role="status">
        {state.kind === 'working' && <p>{t.backup.working}</p>}
        {state.kind === 'done' && <Report report={state.report} />}
      </div>
      {state.kind === 'failed' && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>{state.why}</span>
        </p>
      )}
    </section>
  );
}

/** Names listed of each kind; the rest is counted. */
const MOST_NAMES = 8;

function Report({ report }: { readonly report: RestoreReport }) {
  const listed = (names: readonly string[], words: (names: string) => string): string | null =>
    names.length === 0 ? null : words(t.common.andMore(names, MOST_NAMES));
  const counted = (count: number, words: (count: number) => string): string | null =>
    count === 0 ? null : words(count);
  const lines = [
    listed(report.added, t.backup.added),
    listed(report.beside, t.backup.beside),
    listed(report.binned, t.backup.binned),
    counted(report.shelfAdded, t.backup.shelfAdded),
    listed(report.shelfKept, t.backup.shelfKept),
    listed(report.leftOut, t.backup.leftOut),
  ].filter((line) => line !== null);
  return (
    <div class={`banner ${report.leftOut.length > 0 ? 'warn' : 'good'}`}>
      <Icon name={report.leftOut.length > 0 ? 'lacking' : 'settled'} />
      <div>
        <p>{t.backup.done(showTime(report.madeAt))}</p>
        <ul class="report">
          {lines.length === 0 && <li>{t.backup.nothingToDo}</li>}
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
          {lines.length > 0 && report.unchanged > 0 && <li>{t.backup.unchanged(report.unchanged)}</li>}
        </ul>
      </div>
    </div>
  );
}
