import { useEffect, useState } from 'preact/hooks';
import type { ProjectSummary, StoredProject } from '../../pattern/exchange/lay.ts';
import { differencesOf } from '../state/differences.ts';
import { showTime, t } from '../strings/index.ts';
import { Dialog } from './shared/Dialog.tsx';
import { useProject, useSession } from './shared/hooks.ts';

/** Names listed of one kind; the rest is counted. */
const MOST_NAMES = 6;

/** Every earlier version of the open project, each comparable with now, and the way back to it. */
export function VersionsDialog({ onClose }: { readonly onClose: () => void }) {
  const session = useSession();
  const [versions, setVersions] = useState<readonly ProjectSummary[] | null>(null);
  const [open, setOpen] = useState<number | null>(null);
  useEffect(() => {
    session.attempt(async () => {
      await session.autosave.flush();
      setVersions(await session.versions());
    });
  }, [session]);
  return (
    <Dialog title={t.versions.title} onClose={onClose}>
      <p class="field-help">{t.versions.help}</p>
      {versions === null && <p role="status">{t.versions.loading}</p>}
      {versions?.length === 0 && <p>{t.versions.none}</p>}
      {versions !== null && versions.length > 0 && (
        <ul class="versions plain-list">
          {versions.map((version) => (
            <li key={version.revision}>
              <div class="version-head">
                <span>
                  <strong>{showTime(version.updatedAt)}</strong>
                  <span class="faint">{version.name}</span>
                </span>
                <button
                  type="button"
                  class="quiet"
                  aria-expanded={open === version.revision}
                  aria-label={t.versions.lookAt(showTime(version.updatedAt))}
                  onClick={() => setOpen(open === version.revision ? null : version.revision)}
                >
                  {t.versions.look}
                </button>
              </div>
              {open === version.revision && <Version version={version} onClose={onClose} />}
            </li>
          ))}
        </ul>
      )}
    </Dialog>
  );
}

/** What was done since, and the button that goes back. */
function Version({ version, onClose }: { readonly version: ProjectSummary; readonly onClose: () => void }) {
  const session = useSession();
  const project = useProject();
  const [stored, setStored] = useState<StoredProject | null>(null);
  useEffect(() => {
    session.attempt(async () => setStored(await session.version(version.revision)));
  }, [session, version.revision]);
  if (stored === null) return <p role="status">{t.versions.loading}</p>;
  const { kinds, rest } = differencesOf(stored.project, project);
  const isSame = kinds.length === 0 && rest.length === 0;
  const names = (list: readonly string[]): string => t.common.andMore(list, MOST_NAMES);
  return (
    <div class="version-body">
      {isSame ? <p>{t.versions.same}</p> : <p>{t.versions.since}</p>}
      <dl>
        {kinds.map(({ kind, added, removed, changed }) => (
          <div key={kind}>
            <dt>{t.versions.kinds[kind]}</dt>
            {added.length > 0 && <dd>{t.versions.added(names(added))}</dd>}
            {removed.length > 0 && <dd>{t.versions.removed(names(removed))}</dd>}
            {changed.length > 0 && <dd>{t.versions.changed(names(changed))}</dd>}
          </div>
        ))}
        {rest.length > 0 && (
          <div>
            <dt>{t.versions.kinds.rest}</dt>
            <dd>{t.versions.changed(names(rest.map((part) => t.versions.rest[part])))}</dd>
          </div>
        )}
      </dl>
      {!isSame && (
        <button
          type="button"
          class="primary"
          onClick={() => {
            session.goBackTo(stored.project, showTime(stored.updatedAt));
            onClose();
          }}
        >
          {t.versions.goBack}
        </button>
      )}
    </div>
  );
}
