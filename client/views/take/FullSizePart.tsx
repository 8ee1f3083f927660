import { Select, Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { Store } from '../../state/store.ts';
import { t } from '../../strings/index.ts';
import { useProject, useStore } from '../shared/hooks.ts';
import { FileButton, type Files, usePaper } from './FileButton.tsx';

const PAPERS = ['a4', 'letter', 'a3', 'tabloid', 'both', 'a1', 'a0', 'roll', 'one'] as const;
type FullPaper = (typeof PAPERS)[number];

/** Null until the maker chooses: then as for the plan. */
const fullPaper = new Store<FullPaper | null>(null);
const mirrored = new Store(false);
const unfolded = new Store(false);
/** The one piece that is wanted; '' for all. One of another project counts for nothing. */
const onlyPiece = new Store('');
/** Of every sheet, mm; the roll is 36 in wide unless the maker says otherwise. */
const measures = new Store({ margin: 10, overlap: 0, roll: 914.4 });

/** Pieces and layouts in true size: on paper of any size, or as light on the cloth. */
export function FullSizePart({ files, isStale }: { readonly files: Files; readonly isStale: boolean }) {
  const paper = usePaper();
  const { pieces } = useProject();
  const page = useStore(fullPaper) ?? paper;
  const isMirrored = useStore(mirrored);
  const isUnfolded = useStore(unfolded);
  const wanted = useStore(onlyPiece);
  const only = pieces.find(({ id }) => id === wanted)?.id ?? '';
  const sheet = useStore(measures);
  const unfold = isUnfolded ? '1' : '0';
  const mirror = isMirrored ? '1' : '0';
  const which = only === '' ? {} : { piece: only };
  const paperQuery = {
    page,
    margin: String(sheet.margin),
    overlap: String(sheet.overlap),
    ...(page === 'roll' ? { roll: String(sheet.roll) } : {}),
  };
  return (
    <>
      <div class="row">
        <Select
          label={t.take.fullPaper}
          value={page}
          options={PAPERS.map((value) => ({ value, label: t.take.fullPapers[value] }))}
          onChange={(value) => fullPaper.set(value)}
        />
        {page === 'roll' && (
          <LengthField
            label={t.take.rollWidth}
            mm={sheet.roll}
            onChange={(roll) => measures.set({ ...sheet, roll })}
          />
        )}
        {page !== 'one' && (
          <>
            <LengthField
              label={t.take.sheetMargin}
              mm={sheet.margin}
              onChange={(margin) => measures.set({ ...sheet, margin })}
            />
            <LengthField
              label={t.take.sheetOverlap}
              mm={sheet.overlap}
              allowZero
              onChange={(overlap) => measures.set({ ...sheet, overlap })}
            />
          </>
        )}
        <Select
          label={t.take.whichPieces}
          value={only}
          options={[
            { value: '', label: t.take.allPieces },
            ...pieces.map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(id) => onlyPiece.set(id)}
        />
        <Tick label={t.take.unfold} on={isUnfolded} onChange={(on) => unfolded.set(on)} />
      </div>
      <div class="row">
        <FileButton files={files} file="full.pdf" query={paperQuery} label={t.take.full} disabled={isStale} />
        <FileButton
          files={files}
          file="pieces.pdf"
          query={{ ...paperQuery, ...which, unfold }}
          label={only === '' ? t.take.pieces : t.take.onePiece}
        />
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
          query={{ mirror, ...which }}
          label={only === '' ? t.take.projectorPieces : t.take.projectorPiece}
        />
        <Tick label={t.take.mirror} on={isMirrored} onChange={(on) => mirrored.set(on)} />
      </div>
      <p class="field-help">{t.take.projectorHelp}</p>
    </>
  );
}
