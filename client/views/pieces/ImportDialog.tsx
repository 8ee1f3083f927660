import { useEffect, useRef, useState } from 'preact/hooks';
import { photoDrawing } from '../../../pattern/photo/photo.ts';
import { markedPiece, sizeMarkOf } from '../../../pattern/proposals/sizeMark.ts';
import type { DrawingOutline, DrawingPage, ReadDrawing, Reading } from '../../../pattern/reading/drawing.ts';
import { findTestSquare } from '../../../pattern/reading/index.ts';
import { scaledDrawing } from '../../../pattern/reading/scaledDrawing.ts';
import { formatSize } from '../../../pattern/units/index.ts';
import { draftOf, joinPicks, newPick, outlineById, type Pick, pickAll } from '../../reading/picking.ts';
import { type ReadingOptions, readDrawing } from '../../reading/readDrawing.ts';
import { DrawingPicker, type OutlineStanding } from '../../render/drawingPicker.ts';
import { addDrawnPieces, type DrawnDraft } from '../../state/pieceCommands.ts';
import { t } from '../../strings/index.ts';
import { openPhoto, type Photo, PhotoTracer } from '../import/PhotoTracer.tsx';
import { SheetsPart } from '../import/SheetsPart.tsx';
import { Dialog } from '../shared/Dialog.tsx';
import { useGo, useProject, useSession } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { MaterialInput } from '../shared/MaterialInput.tsx';
import { materialNamer, usualMaterial } from '../shared/usualMaterial.ts';
import { OutlineList } from './OutlineList.tsx';
import { PartsRead } from './PartsRead.tsx';
import { ScalePart } from './ScalePart.tsx';

/** Pictures are traced, not read. SVG is a picture to browsers and a drawing here. */
const isPicture = (file: File): boolean => /^image\/(jpeg|png|webp)$/.test(file.type);

/** Larger files are refused before they are read into memory. */
const LARGEST_BYTES = 40_000_000;

/** The file in hand, kept to be read again at another size or in other parts. */
interface Source {
  /** Traced on a photo: there is no file to read again. */
  readonly traced?: ReadDrawing;
  readonly bytes: Uint8Array;
  readonly fileName: string;
  readonly options: ReadingOptions;
}

type Stage =
  | { readonly kind: 'choosing'; readonly fault: string | null }
  | { readonly kind: 'reading'; readonly fileName: string }
  | { readonly kind: 'photo'; readonly photo: Photo; readonly fileName: string }
  | { readonly kind: 'picking'; readonly reading: ReadDrawing; readonly source: Source };

/** From an SVG, DXF or PDF file to pieces: read, check the size, choose outlines, name them. */
export function ImportDialog({ onClose }: { readonly onClose: () => void }) {
  const session = useSession();
  const go = useGo();
  const [stage, setStage] = useState<Stage>({ kind: 'choosing', fault: null });
  const [picks, setPicks] = useState<readonly Pick[]>([]);
  const giveUp = useRef<AbortController | null>(null);
  const [pages, setPages] = useState<readonly DrawingPage[]>([]);
  const [progress, setProgress] = useState('');
  useEffect(() => () => giveUp.current?.abort(), []);

  const read = (source: Source, isFirst: boolean): void => {
    const { fileName, traced } = source;
    if (traced) {
      setStage({ kind: 'picking', reading: scaledDrawing(traced, source.options.factor), source });
      return;
    }
    giveUp.current?.abort();
    const abort = new AbortController();
    giveUp.current = abort;
    if (isFirst) setStage({ kind: 'reading', fileName });
    setProgress('');
    const onPage = (done: number, of: number): void => {
      if (isFirst && of > 1) setProgress(t.drawing.readingPage(done, of));
    };
    readDrawing(source, t.drawing, abort.signal, onPage).then(
      (reading: Reading) => {
        if (!reading.ok) setStage({ kind: 'choosing', fault: reading.message });
        else {
          if (isFirst) setPages(reading.pages ?? []);
          // What was found at this size holds at any other.
          const sheets = reading.sheets?.layout ?? source.options.sheets;
          setStage({
            kind: 'picking',
            reading,
            source: { ...source, options: { ...source.options, sheets } },
          });
        }
      },
      (error: unknown) => setStage({ kind: 'choosing', fault: String(error) }),
    );
  };
  const take = async (file: File): Promise<void> => {
    setPicks([]);
    if (file.size > LARGEST_BYTES) {
      setStage({ kind: 'choosing', fault: t.drawing.tooLarge(LARGEST_BYTES / 1e6) });
      return;
    }
    if (isPicture(file)) {
      try {
        setStage({ kind: 'photo', photo: await openPhoto(file), fileName: file.name });
      } catch {
        setStage({ kind: 'choosing', fault: t.drawing.photoBroken });
      }
      return;
    }
    const bytes = new Uint8Array(await file.arrayBuffer());
    read({ bytes, fileName: file.name, options: { factor: 1 } }, true);
  };
  const readAgain = (change: Partial<ReadingOptions>): void => {
    if (stage.kind !== 'picking') return;
    // Other layers or pages are other outlines; another size is not.
    if (change.factor === undefined) setPicks([]);
    read({ ...stage.source, options: { ...stage.source.options, ...change } }, false);
  };
  const add = (drafts: readonly DrawnDraft[]): void => {
    session.do(addDrawnPieces(drafts));
    session.announce(t.drawing.added(drafts.length));
    onClose();
    const first = drafts[0];
    if (first) go('pieces', first.piece.id);
  };

  return (
    <Dialog title={t.drawing.title} onClose={onClose} wide>
      {stage.kind === 'choosing' && <FileChooser fault={stage.fault} onFile={(file) => void take(file)} />}
      {stage.kind === 'reading' && (
        <p role="status" class="waiting">
          {t.drawing.reading}{' '}
          <span class="faint">
            {stage.fileName} {progress}
          </span>
        </p>
      )}
      {stage.kind === 'photo' && (
        <PhotoTracer
          photo={stage.photo}
          takeLabel={t.drawing.photoTake}
          onTake={(measured) => {
            const name = stage.fileName.replace(/\.\w+$/, '');
            const traced = photoDrawing(stage.fileName, name, measured);
            const source = {
              bytes: new Uint8Array(),
              fileName: stage.fileName,
              options: { factor: 1 },
              traced,
            };
            setPages([]);
            setPicks([newPick(traced, traced.outlines[0] as DrawingOutline)]);
            setStage({ kind: 'picking', reading: traced, source });
          }}
        >
          <button type="button" class="quiet" onClick={() => setStage({ kind: 'choosing', fault: null })}>
            {t.drawing.another}
          </button>
        </PhotoTracer>
      )}
      {stage.kind === 'picking' && (
        <Picking
          reading={stage.reading}
          picks={picks}
          setPicks={setPicks}
          onAnother={() => setStage({ kind: 'choosing', fault: null })}
          pages={pages}
          isUnfound={stage.source.options.sheets === 'find'}
          onReadAgain={readAgain}
          onAdd={add}
        />
      )}
    </Dialog>
  );
}

function FileChooser({
  fault,
  onFile,
}: {
  readonly fault: string | null;
  readonly onFile: (file: File) => void;
}) {
  const [isOver, setOver] = useState(false);
  const take = (files: FileList | null | undefined): void => {
    const file = files?.[0];
    if (file) onFile(file);
  };
  return (
    <>
      <p>{t.drawing.lead}</p>
      {fault !== null && (
        <p class="banner bad" role="alert">
          <Icon name="lacking" />
          <span>
            {t.drawing.failed} {fault}
          </span>
        </p>
      )}
      <label
        class={isOver ? 'drop over' : 'drop'}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setOver(false);
          take(event.dataTransfer?.files);
        }}
      >
        <Icon name="down" />
        <strong>{t.drawing.choose}</strong>
        <span>{t.drawing.drop}</span>
        <input
          type="file"
          accept=".svg,.dxf,.pdf,image/svg+xml,image/vnd.dxf,application/pdf,image/jpeg,image/png,image/webp"
          class="sr"
          onChange={(event) => take(event.currentTarget.files)}
        />
      </label>
    </>
  );
}

interface PickingProps {
  readonly reading: ReadDrawing;
  readonly picks: readonly Pick[];
  readonly setPicks: (picks: readonly Pick[]) => void;
  readonly onAnother: () => void;
  readonly pages: readonly DrawingPage[];
  /** How the pages lie was to be found, and wasn't. */
  readonly isUnfound: boolean;
  readonly onReadAgain: (change: Partial<ReadingOptions>) => void;
  readonly onAdd: (drafts: readonly DrawnDraft[]) => void;
}

function Picking({
  reading,
  picks,
  setPicks,
  onAnother,
  pages,
  isUnfound,
  onReadAgain,
  onAdd,
}: PickingProps) {
  const project = useProject();
  const { units } = project;
  const [pointed, setPointed] = useState<string | null>(null);
  const [last, setLast] = useState<string | null>(null);
  const [material, setMaterial] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  // The size of the file is wanted, whatever its test square says.
  const [isLeft, setLeft] = useState(false);
  const nameMaterial = materialNamer(project);
  const openQuestions = picks.flatMap(({ rows }) => rows.filter(({ question }) => question !== null)).length;
  const toggle = (id: string): void => {
    setFault(null);
    setLast(id);
    if (picks.some((pick) => pick.outlineId === id)) setPicks(picks.filter((pick) => pick.outlineId !== id));
    else {
      const outline = outlineById(reading).get(id);
      if (!outline) return;
      // An outline that stood for a copy or a part of another pick now stands for itself.
      const others = picks.map((pick) => {
        const alike = pick.alike.filter((other) => other !== id);
        const count = pick.count - (pick.alike.length - alike.length);
        return { ...pick, alike, count, parts: pick.parts.filter((other) => other !== id) };
      });
      setPicks([...others, newPick(reading, outline, nameMaterial)]);
    }
  };
  const join = (): void => {
    const joined = joinPicks(reading, picks);
    if (joined) setPicks([joined]);
    else setFault(t.drawing.cannotJoin);
  };
  const add = (): void => {
    try {
      const mark = isLeft ? null : sizeMarkOf(findTestSquare(reading));
      const from = material.trim() === '' ? usualMaterial(project) : material;
      onAdd(
        picks.map((pick) => {
          const draft = draftOf(reading, pick, from);
          return { ...draft, piece: markedPiece(draft.piece, mark) };
        }),
      );
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      setFault(error.message);
    }
  };
  return (
    <div class="import">
      <div class="import-picture">
        <PickerPart reading={reading} picks={picks} pointed={pointed} onPick={toggle} />
        <p class="faint">
          {reading.fileName}: {formatSize(reading.page.widthMm, reading.page.heightMm, units)},{' '}
          {t.drawing.found(reading.outlines.length)}
        </p>
        <ScalePart
          reading={reading}
          last={last}
          onRescale={(factor) => onReadAgain({ factor })}
          isLeft={isLeft}
          onLeave={setLeft}
        />
        <SheetsPart
          reading={reading}
          pages={pages}
          isUnfound={isUnfound}
          onSheets={(sheets) => onReadAgain({ sheets })}
        />
        <PartsRead
          reading={reading}
          pages={pages}
          onLayers={(layers) => onReadAgain({ layers })}
          onPages={(numbers) => onReadAgain({ pages: numbers, sheets: undefined })}
        />
        <ReadingNotes reading={reading} />
      </div>
      <div class="import-list">
        <div class="row">
          <button type="button" onClick={() => setPicks(pickAll(reading, nameMaterial))}>
            {t.drawing.pickAll}
          </button>
          <button type="button" class="quiet" disabled={picks.length === 0} onClick={() => setPicks([])}>
            {t.drawing.pickNone}
          </button>
          {picks.length > 1 && (
            <button type="button" class="quiet" title={t.drawing.joinHelp} onClick={join}>
              {t.drawing.join}
            </button>
          )}
        </div>
        <OutlineList
          reading={reading}
          picks={picks}
          setPicks={setPicks}
          toggle={toggle}
          setPointed={setPointed}
        />
        <div class="import-end">
          {fault !== null && (
            <p class="field-fault" role="alert">
              {fault}
            </p>
          )}
          {openQuestions > 0 && (
            <p class="field-help" role="status">
              {t.drawing.openQuestions(openQuestions)}
            </p>
          )}
          <MaterialInput label={t.drawing.material} value={material} onChange={setMaterial} />
          <div class="row">
            <button
              type="button"
              class="primary"
              disabled={picks.length === 0 || openQuestions > 0}
              onClick={add}
            >
              {t.drawing.add(picks.length)}
            </button>
            <button type="button" class="quiet" onClick={onAnother}>
              {t.drawing.another}
            </button>
          </div>
        </div>
      </div>
    </div>
  );
}

interface PickerPartProps {
  readonly reading: ReadDrawing;
  readonly picks: readonly Pick[];
  readonly pointed: string | null;
  readonly onPick: (id: string) => void;
}

function PickerPart({ reading, picks, pointed, onPick }: PickerPartProps) {
  const host = useRef<HTMLDivElement>(null);
  const picker = useRef<DrawingPicker | null>(null);
  const pick = useRef(onPick);
  pick.current = onPick;
  useEffect(() => {
    if (!host.current) return;
    picker.current = new DrawingPicker(host.current, { onPick: (id) => pick.current(id) });
    return () => picker.current?.destroy();
  }, []);
  useEffect(() => picker.current?.show(reading, t.drawing.page), [reading]);
  useEffect(() => {
    const picked = new Set(picks.map((entry) => entry.outlineId));
    const copies = new Set(picks.flatMap((entry) => [...entry.alike, ...entry.parts]));
    const inside = new Set(
      picks.flatMap((entry) =>
        Object.entries(entry.inside).flatMap(([id, as]) => (as === 'ignore' ? [] : [id])),
      ),
    );
    const standing = (id: string): OutlineStanding =>
      picked.has(id) ? 'picked' : copies.has(id) ? 'copy' : inside.has(id) ? 'inside' : 'free';
    picker.current?.mark(standing, pointed);
  }, [reading, picks, pointed]);
  return (
    <div class="picker-frame">
      <div ref={host} class="picker-host" />
      <div class="zoom-buttons">
        <button type="button" aria-label={t.plan.zoomIn} onClick={() => picker.current?.zoomIn()}>
          <Icon name="in" />
        </button>
        <button type="button" aria-label={t.plan.zoomOut} onClick={() => picker.current?.zoomOut()}>
          <Icon name="out" />
        </button>
        <button type="button" aria-label={t.plan.fit} onClick={() => picker.current?.showWhole()}>
          <Icon name="whole" />
        </button>
      </div>
    </div>
  );
}

function ReadingNotes({ reading }: { readonly reading: ReadDrawing }) {
  const notes = [
    ...reading.warnings.map((warning) => warning.text),
    ...reading.refused.map((refused) => `${t.drawing.refused}: ${refused.text}`),
  ];
  if (notes.length === 0) return null;
  return (
    <details class="help">
      <summary>
        {t.drawing.warnings} ({notes.length})
      </summary>
      <ul>
        {notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    </details>
  );
}
