import { useEffect, useRef, useState } from 'preact/hooks';
import { photoDrawing } from '../../../pattern/photo/photo.ts';
import type { DrawingOutline, DrawingPage, ReadDrawing, Reading } from '../../../pattern/reading/drawing.ts';
import { scaledDrawing } from '../../../pattern/reading/scaledDrawing.ts';
import { openPhoto, type Photo } from '../../reading/openPhoto.ts';
import { newPick, type Pick } from '../../reading/picking.ts';
import { type ReadingOptions, readDrawing } from '../../reading/readDrawing.ts';
import { addDrawnPieces, type DrawnDraft } from '../../state/pieceCommands.ts';
import { t } from '../../strings/index.ts';
import { Dialog } from '../shared/Dialog.tsx';
import { useGo, useSession } from '../shared/hooks.ts';
import { lazyView } from '../shared/lazyView.tsx';
import { FileChooser } from './FileChooser.tsx';
import { PasswordPart } from './PasswordPart.tsx';
import { Picking } from './Picking.tsx';

const PhotoTracer = lazyView(async () => (await import('./PhotoTracer.tsx')).PhotoTracer);

/** How pictures begin (a letter a byte) that are traced, not read, whatever the file is called. */
const PICTURES: readonly (readonly [begins: string, type: string])[] = [
  ['\xff\xd8\xff', 'image/jpeg'],
  ['\x89PNG', 'image/png'],
  ['RIFF', 'image/webp'],
];

/** The kind of picture that a file is; null for what may be a drawing. */
async function pictureType(file: File): Promise<string | null> {
  const head = String.fromCharCode(...new Uint8Array(await file.slice(0, 16).arrayBuffer()));
  return PICTURES.find(([begins]) => head.startsWith(begins))?.[1] ?? null;
}

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
  | { readonly kind: 'locked'; readonly fault: string; readonly source: Source }
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
  const [apart, setApart] = useState<ReadDrawing | null>(null);
  const [progress, setProgress] = useState('');
  const [isBusy, setBusy] = useState(false);
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
    setBusy(!isFirst);
    setProgress('');
    const onPage = (done: number, of: number): void => {
      if (isFirst && of > 1) setProgress(t.drawing.readingPage(done, of));
    };
    readDrawing(source, t.drawing, abort.signal, onPage).then(
      (reading: Reading) => {
        setBusy(false);
        if (!reading.ok && reading.locked) setStage({ kind: 'locked', fault: reading.message, source });
        else if (!reading.ok) setStage({ kind: 'choosing', fault: reading.message });
        else {
          if (isFirst) {
            setPages(reading.pages ?? []);
            setApart((reading.pages ?? []).length > 1 ? reading : null);
          }
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
    const type = await pictureType(file);
    if (type !== null) {
      try {
        const picture = new File([file], file.name, { type });
        setStage({ kind: 'photo', photo: await openPhoto(picture), fileName: file.name });
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
      {stage.kind === 'locked' && (
        <PasswordPart
          fault={stage.fault}
          onPassword={(password) =>
            read({ ...stage.source, options: { ...stage.source.options, password } }, true)
          }
          onAnother={() => setStage({ kind: 'choosing', fault: null })}
        />
      )}
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
            setApart(null);
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
          isBusy={isBusy}
          isTraced={stage.source.traced !== undefined}
          apart={apart}
          isUnfound={stage.source.options.sheets === 'find'}
          onReadAgain={readAgain}
          onAdd={add}
        />
      )}
    </Dialog>
  );
}
