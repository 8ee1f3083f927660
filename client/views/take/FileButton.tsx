import { useState } from 'preact/hooks';
import { fetchProjectFile, type LayFileQuery, type ProjectFile } from '../../api/files.ts';
import { faultText } from '../../api/http.ts';
import { Select } from '../../fields/Choice.tsx';
import { Store } from '../../state/store.ts';
import { t } from '../../strings/index.ts';
import { saveFile } from '../shared/files.ts';
import { useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';

type Paper = 'a4' | 'letter';

/** Null until the maker chooses: then it goes by the units, since Letter is where inches are. */
const paperChosen = new Store<Paper | null>(null);

export interface Files {
  readonly busy: ProjectFile | null;
  readonly fault: string | null;
  readonly save: (file: ProjectFile, query: LayFileQuery) => void;
}

/** Asks the server for files, one at a time, of the project as it stands on the page. */
export function useFiles(): Files {
  const session = useSession();
  const [busy, setBusy] = useState<ProjectFile | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const fetchFile = async (file: ProjectFile, query: LayFileQuery): Promise<void> => {
    await session.autosave.flush();
    // The server would make the file of an older state, which is worse than none.
    if (!session.autosave.isSettled) throw new Error(t.take.unsaved);
    const made = await fetchProjectFile(session.projectId, file, query);
    saveFile(made.name, made.content.type, made.content);
    session.messages.say(t.take.done(made.name));
  };
  const save = (file: ProjectFile, query: LayFileQuery): void => {
    setBusy(file);
    setFault(null);
    fetchFile(file, query)
      .catch((error: unknown) => setFault(faultText(error)))
      .finally(() => setBusy(null));
  };
  return { busy, fault, save };
}

interface FileButtonProps {
  readonly files: Files;
  readonly file: ProjectFile;
  readonly query: LayFileQuery;
  readonly label: string;
  readonly disabled?: boolean;
  readonly primary?: boolean;
}

const ON_PAPER = new Set<ProjectFile>([
  'plan.pdf',
  'full.pdf',
  'labels.pdf',
  'pieces.pdf',
  'ticks.pdf',
  'shopping.pdf',
]);

export function FileButton({ files, file, query, label, disabled, primary }: FileButtonProps) {
  const page = usePaper();
  return (
    <button
      type="button"
      class={primary ? 'primary' : undefined}
      disabled={disabled || files.busy !== null}
      onClick={() => files.save(file, ON_PAPER.has(file) ? { page, ...query } : query)}
    >
      <Icon name="down" />
      {files.busy === file ? t.take.making : label}
    </button>
  );
}

export function FilesFault({ files }: { readonly files: Files }) {
  if (files.fault === null) return null;
  return (
    <p class="banner bad" role="alert">
      <Icon name="lacking" />
      <span>{t.take.failed(files.fault)}</span>
    </p>
  );
}

export function usePaper(): Paper {
  const { units } = useProject();
  return useStore(paperChosen) ?? (units === 'in' ? 'letter' : 'a4');
}

export function PaperSelect() {
  const paper = usePaper();
  return (
    <Select
      label={t.take.paper}
      value={paper}
      options={(['a4', 'letter'] as const).map((value) => ({ value, label: t.take.papers[value] }))}
      onChange={(value) => paperChosen.set(value)}
    />
  );
}
