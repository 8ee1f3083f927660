import { showTime, t } from '../strings/index.ts';
import { useSession, useStore } from './shared/hooks.ts';
import { Icon } from './shared/Icon.tsx';

/** Two changed the same project: the maker chooses, nothing is overwritten until then. */
export function ConflictBanner() {
  const session = useSession();
  const conflict = useStore(session.conflict);
  if (!conflict) return null;
  const { theirs } = conflict;
  return (
    <section class="banner conflict" role="alert" aria-label={t.conflict.title}>
      <Icon name="lacking" />
      <div>
        <h2>{t.conflict.title}</h2>
        <p>{t.conflict.text(theirs.project.name, showTime(theirs.updatedAt))}</p>
        <div class="conflict-ways">
          <button type="button" class="primary" onClick={() => session.attempt(session.keepBoth)}>
            {t.conflict.keepBoth}
          </button>
          <p class="field-help">{t.conflict.keepBothHelp}</p>
          <button type="button" onClick={session.keepTheirs}>
            {t.conflict.takeTheirs}
          </button>
          <p class="field-help">{t.conflict.takeTheirsHelp}</p>
        </div>
      </div>
    </section>
  );
}
