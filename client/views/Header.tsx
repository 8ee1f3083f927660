import { useState } from 'preact/hooks';
import { Choice } from '../fields/Choice.tsx';
import { NameField } from '../fields/TextField.tsx';
import type { SaveState } from '../state/autosave.ts';
import { renameProject, withUnits } from '../state/projectCommands.ts';
import { t } from '../strings/index.ts';
import { applyTheme, readTheme, THEMES } from '../theme.ts';
import { LanguageChoice } from './LanguageChoice.tsx';
import { useProject, useSession, useStore } from './shared/hooks.ts';
import { Icon } from './shared/Icon.tsx';
import { lazyView } from './shared/lazyView.tsx';

const ProjectsDialog = lazyView(async () => (await import('./ProjectsDialog.tsx')).ProjectsDialog);

export function Header() {
  const session = useSession();
  const status = useStore(session.status);
  return (
    <header class="page-head">
      <div class="brand">
        <svg class="brand-sign" viewBox="0 0 32 32" aria-hidden="true" focusable="false">
          <path class="brand-cloth" d="M4 6h18a6 6 0 0 1 6 6v14H10a6 6 0 0 1-6-6Z" />
          <path class="brand-piece" d="M9 11h10l4 4v6H13l-4-4Z" />
        </svg>
        <h1>{t.app.name}</h1>
      </div>
      {status.kind === 'ready' && (
        <>
          <ProjectPart />
          <SaveStatus />
          <HistoryButtons />
          <Settings />
        </>
      )}
      <LanguageChoice />
    </header>
  );
}

function ProjectPart() {
  const session = useSession();
  const project = useProject();
  const [isOpen, setOpen] = useState(false);
  return (
    <div class="project-part">
      <NameField
        class="project-name"
        label={t.header.projectName}
        hideLabel
        value={project.name}
        onChange={(name) => session.do(renameProject(name))}
      />
      <button type="button" class="quiet" aria-label={t.header.projects} onClick={() => setOpen(true)}>
        <Icon name="more" />
        <span class="wide-only">{t.header.projects}</span>
      </button>
      {isOpen && <ProjectsDialog onClose={() => setOpen(false)} />}
    </div>
  );
}

const SAVE_TEXT: Readonly<Record<SaveState['kind'], string>> = {
  saved: t.saving.saved,
  saving: t.saving.saving,
  offline: t.saving.offline,
  refused: t.saving.refused,
  conflict: t.saving.conflict,
};

function SaveStatus() {
  const session = useSession();
  const state = useStore(session.autosave.state);
  const isFine = state.kind === 'saved' || state.kind === 'saving';
  return (
    <div class={`save-state ${state.kind}`}>
      <span role="status">
        <Icon name={isFine ? (state.kind === 'saved' ? 'settled' : 'redo') : 'lacking'} />
        <span class="save-text">{SAVE_TEXT[state.kind]}</span>
      </span>
    </div>
  );
}

function HistoryButtons() {
  const session = useSession();
  const { past, future } = useStore(session.history);
  const last = past.at(-1);
  const next = future[0];
  const undoText = last ? t.header.undoWhat(t.did[last.name](last.subject)) : t.header.undo;
  const redoText = next ? t.header.redoWhat(t.did[next.name](next.subject)) : t.header.redo;
  return (
    <div class="history-buttons">
      <button
        type="button"
        class="quiet"
        title={undoText}
        aria-label={undoText}
        disabled={!last}
        onClick={session.undo}
      >
        <Icon name="undo" />
      </button>
      <button
        type="button"
        class="quiet"
        title={redoText}
        aria-label={redoText}
        disabled={!next}
        onClick={session.redo}
      >
        <Icon name="redo" />
      </button>
    </div>
  );
}

function Settings() {
  const session = useSession();
  const { units } = useProject();
  const [theme, setTheme] = useState(readTheme);
  return (
    <div class="settings">
      <Choice
        class="compact"
        label={t.header.units}
        hideLabel
        value={units}
        options={(['cm', 'mm', 'in'] as const).map((value) => ({ value, label: t.header.unitNames[value] }))}
        onChange={(value) => session.amend(withUnits(value))}
      />
      <label class="theme">
        <span class="sr">{t.header.theme}</span>
        <select
          value={theme}
          onChange={(event) => {
            const chosen = THEMES.find((entry) => entry === event.currentTarget.value);
            if (!chosen) return;
            applyTheme(chosen);
            setTheme(chosen);
          }}
        >
          {THEMES.map((value) => (
            <option key={value} value={value} selected={value === theme}>
              {t.header.themeNames[value]}
            </option>
          ))}
        </select>
      </label>
    </div>
  );
}
