import { useEffect, useState } from 'preact/hooks';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { openProject } from '../../pattern/exchange/openProject.ts';
import { projectFileName, saveProject } from '../../pattern/exchange/saveProject.ts';
import { signOut } from '../api/session.ts';
import { TextField } from '../fields/TextField.tsx';
import { leaveNothing } from '../state/leaveNothing.ts';
import { noteProject } from '../state/projectCommands.ts';
import { language, showTime, t } from '../strings/index.ts';
import { BackupPart } from './BackupPart.tsx';
import { Dialog } from './shared/Dialog.tsx';
import { saveFile } from './shared/files.ts';
import { useBench, useProject, useSession, useStore } from './shared/hooks.ts';
import { Icon } from './shared/Icon.tsx';
import { VersionsDialog } from './VersionsDialog.tsx';

/** No real project comes near this; a larger file is something else. */
const LARGEST_FILE_BYTES = 60_000_000;

/** The name, numbered where it is taken. */
function freeName(name: string, taken: readonly string[]): string {
  for (let number = 1; ; number++) {
    const candidate = number === 1 ? name : `${name} ${number}`;
    if (!taken.includes(candidate)) return candidate;
  }
}

/** Every project, with new, open, duplicate, delete, and files in and out. */
export function ProjectsDialog({ onClose }: { readonly onClose: () => void }) {
  const session = useSession();
  const { door } = useBench();
  const isGuarded = useStore(door.isGuarded);
  const project = useProject();
  const summaries = useStore(session.summaries);
  const [isLookingBack, setLookingBack] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => session.attempt(() => session.refreshList()), [session]);
  const taken = [project.name, ...summaries.map((summary) => summary.name)];
  const go = (work: () => Promise<void>): void => {
    session.attempt(work);
    onClose();
  };
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    if (file.size > LARGEST_FILE_BYTES) {
      setFault(t.projects.fileTooBig);
      return;
    }
    const opened = openProject(await file.text(), language);
    if (!opened.ok) setFault(opened.message);
    else {
      go(async () => {
        await session.create(opened.project);
        session.messages.say(t.session.opened(opened.project.name));
      });
    }
  };
  if (isLookingBack) return <VersionsDialog onClose={onClose} />;
  return (
    <Dialog title={t.projects.title} onClose={onClose}>
      <div class="row">
        <button
          type="button"
          class="primary"
          onClick={() =>
            go(() => session.create(emptyProject(freeName(t.session.untitled, taken), project.units)))
          }
        >
          <Icon name="plus" />
          {t.projects.new}
        </button>
        <label class="button">
          {t.projects.openFile}
          <input
            type="file"
            class="sr"
            accept=".json,application/json"
            onChange={(event) => void take(event.currentTarget.files?.[0])}
          />
        </label>
        <button
          type="button"
          onClick={() => saveFile(projectFileName(project), 'application/json', saveProject(project))}
        >
          <Icon name="down" />
          {t.projects.saveFile}
        </button>
        <button type="button" onClick={() => setLookingBack(true)}>
          <Icon name="undo" />
          {t.versions.title}
        </button>
      </div>
      <p class="field-help">{t.projects.fileHelp}</p>
      {fault !== null && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>{fault}</span>
        </p>
      )}
      <ul class="projects">
        {summaries.map((summary) => {
          const isOpen = summary.id === session.projectId;
          const name = isOpen ? project.name : summary.name;
          return (
            <li key={summary.id} class={isOpen ? 'open' : undefined}>
              <span class="project-text">
                <strong>{name}</strong>
                <span class="faint">
                  {isOpen ? t.projects.isOpen : t.projects.changed(showTime(summary.updatedAt))}
                </span>
              </span>
              <span class="buttons">
                {!isOpen && (
                  <button
                    type="button"
                    aria-label={t.projects.openNamed(name)}
                    onClick={() => go(() => session.open(summary.id))}
                  >
                    {t.projects.open}
                  </button>
                )}
                <button
                  type="button"
                  class="quiet"
                  aria-label={t.projects.duplicateNamed(name)}
                  onClick={() => go(() => session.duplicate(summary.id))}
                >
                  {t.projects.duplicate}
                </button>
                <button
                  type="button"
                  class="quiet danger"
                  aria-label={t.projects.deleteNamed(name)}
                  onClick={() => go(() => session.remove(summary.id))}
                >
                  {t.projects.delete}
                </button>
              </span>
            </li>
          );
        })}
      </ul>
      <TextField
        label={t.projects.notes}
        value={project.notes}
        lines={3}
        maxLength={20_000}
        onChange={(notes) => session.do(noteProject(notes))}
      />
      <BackupPart />
      {isGuarded && (
        <div class="row">
          <button
            type="button"
            class="quiet"
            onClick={() => {
              session.attempt(async () => {
                await session.autosave.flush();
                await signOut();
                await leaveNothing(session.steps);
                // Nothing of the work stays in sight.
                location.reload();
              });
            }}
          >
            {t.signIn.out}
          </button>
        </div>
      )}
    </Dialog>
  );
}
