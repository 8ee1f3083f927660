import { projectFileName, saveProject } from '../../pattern/exchange/saveProject.ts';
import { t } from '../strings/index.ts';
import { saveFile } from './shared/files.ts';
import { useProject, useSession, useStore } from './shared/hooks.ts';
import { Icon } from './shared/Icon.tsx';

/** Why the work could not be saved, where it is meanwhile, and the ways on. In the flow of the page, over nothing. */
export function SaveTrouble() {
  const session = useSession();
  const state = useStore(session.autosave.state);
  const project = useProject();
  if (state.kind !== 'offline' && state.kind !== 'refused') return null;
  const why = state.kind === 'refused' ? t.saving.refusedWhy(state.reason) : t.saving.unreachable;
  const where = state.keptHere ? t.saving.keptHere : t.saving.keptNowhere;
  return (
    <section
      class={`banner save-trouble ${state.keptHere && state.kind === 'offline' ? 'warn' : 'bad'}`}
      role="alert"
      aria-label={t.saving.details}
    >
      <Icon name="lacking" />
      <span>
        {why} {where}
      </span>
      <div class="row">
        <button type="button" onClick={() => void session.autosave.flush()}>
          {t.saving.tryAgain}
        </button>
        <button
          type="button"
          onClick={() => saveFile(projectFileName(project), 'application/json', saveProject(project))}
        >
          {t.saving.toFile}
        </button>
        {state.kind === 'refused' && (
          <button type="button" onClick={() => session.attempt(() => session.saveAsNew())}>
            {t.saving.asNew}
          </button>
        )}
      </div>
    </section>
  );
}
