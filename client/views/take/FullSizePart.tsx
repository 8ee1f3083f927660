import { Select, Tick } from '../../fields/Choice.tsx';
import { Store } from '../../state/store.ts';
import { t } from '../../strings/index.ts';
import { useStore } from '../shared/hooks.ts';
import { FileButton, type Files, usePaper } from './FileButton.tsx';

const PAPERS = ['a4', 'letter', 'a3', 'tabloid', 'both', 'a1', 'a0', 'roll', 'one'] as const;
type FullPaper = (typeof PAPERS)[number];

/** Null until the maker chooses: then as for the plan. */
const fullPaper = new Store<FullPaper | null>(null);
const mirrored = new Store(false);
const unfolded = new Store(false);

/** Pieces and layouts in true size: on paper of any size, or as light on the cloth. */
export function FullSizePart({ files, isStale }: { readonly files: Files; readonly isStale: boolean }) {
  const paper = usePaper();
  const page = useStore(fullPaper) ?? paper;
  const isMirrored = useStore(mirrored);
  const isUnfolded = useStore(unfolded);
  const unfold = isUnfolded ? '1' : '0';
  const mirror = isMirrored ? '1' : '0';
  return (
    <>
      <h4>{t.take.fullTitle}</h4>
      <div class="row">
        <FileButton files={files} file="full.pdf" query={{ page }} label={t.take.full} disabled={isStale} />
        <FileButton files={files} file="pieces.pdf" query={{ page, unfold }} label={t.take.pieces} />
        <Select
          label={t.take.fullPaper}
          value={page}
          options={PAPERS.map((value) => ({ value, label: t.take.fullPapers[value] }))}
          onChange={(value) => fullPaper.set(value)}
        />
        <Tick label={t.take.unfold} on={isUnfolded} onChange={(on) => unfolded.set(on)} />
      </div>
      <p class="field-help">{t.take.fullHelp}</p>
      <div class="row">
        <FileButton
          files={files}
          file="projector.pdf"
          query={{ mirror }}
          label={t.take.projectorLay}
          disabled={isStale}
        />
        <FileButton
          files={files}
          file="pieces-projector.pdf"
          query={{ mirror }}
          label={t.take.projectorPieces}
        />
        <Tick label={t.take.mirror} on={isMirrored} onChange={(on) => mirrored.set(on)} />
      </div>
      <p class="field-help">{t.take.projectorHelp}</p>
    </>
  );
}
