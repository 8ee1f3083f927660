import { useState } from 'preact/hooks';
import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { drawLay } from '../../../pattern/plan/drawLay.ts';
import { drawingToSvg } from '../../../pattern/plan/svg.ts';
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

/** The plan itself and the lists and labels that go with it, for every cloth at once. */
export function TakeToTable({ isStale }: { readonly isStale: boolean }) {
  const files = useFiles();
  return (
    <section class="take panel" aria-label={t.take.title}>
      <h3>{t.take.title}</h3>
      <p class="field-help">{isStale ? t.take.stale : t.take.lead}</p>
      <div class="row">
        <FileButton files={files} file="plan.pdf" query={{}} label={t.take.plan} disabled={isStale} primary />
        <FileButton files={files} file="full.pdf" query={{}} label={t.take.full} disabled={isStale} />
        <FileButton
          files={files}
          file="positions.csv"
          query={{}}
          label={t.take.positions}
          disabled={isStale}
        />
        <PaperSelect />
      </div>
      <h4>{t.take.projectTitle}</h4>
      <div class="row">
        <FileButton files={files} file="cutlist.csv" query={{}} label={t.take.cutList} />
        <FileButton files={files} file="labels.pdf" query={{}} label={t.take.labels} />
        <FileButton files={files} file="pieces.pdf" query={{}} label={t.take.pieces} />
      </div>
      <p class="field-help">{t.take.fullHelp}</p>
      <Fault files={files} />
    </section>
  );
}

interface LayFilesProps {
  readonly project: Project;
  readonly lay: ClothLay;
  /** Of a kept plan; the latest layouts if left out. */
  readonly planId?: string | undefined;
  readonly clothName: string;
  /** Pieces or cloths have changed since: nothing is to be cut from it. */
  readonly isStale: boolean;
}

/** The files of one layout. */
export function LayFiles({ project, lay, planId, clothName, isStale }: LayFilesProps) {
  const files = useFiles();
  const query: LayFileQuery = {
    cloth: lay.clothId,
    material: lay.materialId,
    spread: lay.spread,
    ...(planId === undefined ? {} : { plan: planId }),
  };
  const saveSvg = (): void => {
    const drawing = drawLay(lay, project, { page: 'a4', units: project.units });
    saveFile(`${fileWord(clothName)}-${lay.spread}.svg`, 'image/svg+xml', drawingToSvg(drawing));
  };
  return (
    <details class="help lay-files">
      <summary>{t.take.one}</summary>
      {isStale && <p class="field-help">{t.take.stale}</p>}
      <div class="row">
        <FileButton files={files} file="plan.pdf" query={query} label={t.take.plan} disabled={isStale} />
        <FileButton files={files} file="full.pdf" query={query} label={t.take.full} disabled={isStale} />
        <button type="button" onClick={saveSvg}>
          <Icon name="down" />
          {t.plan.download}
        </button>
        <FileButton files={files} file="layout.dxf" query={query} label={t.take.dxf} disabled={isStale} />
        <FileButton
          files={files}
          file="positions.csv"
          query={query}
          label={t.take.positions}
          disabled={isStale}
        />
      </div>
      <Fault files={files} />
    </details>
  );
}

interface Files {
  readonly busy: ProjectFile | null;
  readonly fault: string | null;
  readonly save: (file: ProjectFile, query: LayFileQuery) => void;
}

/** Asks the server for files, one at a time, of the project as it stands on the page. */
function useFiles(): Files {
  const session = useSession();
  const [busy, setBusy] = useState<ProjectFile | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const fetchFile = async (file: ProjectFile, query: LayFileQuery): Promise<void> => {
    await session.autosave.flush();
    // The server would make the file of an older state, which is worse than none.
    if (!session.autosave.isSettled) throw new Error(t.take.unsaved);
    const made = await fetchProjectFile(session.projectId, file, query);
    saveFile(made.name, made.content.type, made.content);
    session.announce(t.take.done(made.name));
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

const ON_PAPER = new Set<ProjectFile>(['plan.pdf', 'full.pdf', 'labels.pdf', 'pieces.pdf']);

function FileButton({ files, file, query, label, disabled, primary }: FileButtonProps) {
  const page = usePaper();
  return (
    <button
      type="button"
      class={primary ? 'primary' : undefined}
      disabled={disabled || files.busy !== null}
      onClick={() => files.save(file, ON_PAPER.has(file) ? { ...query, page } : query)}
    >
      <Icon name="down" />
      {files.busy === file ? t.take.making : label}
    </button>
  );
}

function Fault({ files }: { readonly files: Files }) {
  if (files.fault === null) return null;
  return (
    <p class="banner bad" role="alert">
      <Icon name="lacking" />
      <span>{t.take.failed(files.fault)}</span>
    </p>
  );
}

function usePaper(): Paper {
  const { units } = useProject();
  return useStore(paperChosen) ?? (units === 'in' ? 'letter' : 'a4');
}

function PaperSelect() {
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

/** A name as part of a file name. */
function fileWord(name: string): string {
  return (
    name
      .trim()
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-|-$/g, '')
      .toLowerCase() || 'lay'
  );
}
