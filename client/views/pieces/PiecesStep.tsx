import { useState } from 'preact/hooks';
import { lacksOf } from '../../state/lacks.ts';
import { swapAllGrains } from '../../state/pieceCommands.ts';
import { t } from '../../strings/index.ts';
import { useBench, useProject, useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { Lacks } from '../shared/Lacks.tsx';
import { lazyView } from '../shared/lazyView.tsx';
import { MeasurePanel } from './MeasurePanel.tsx';
import { PastePanel } from './PastePanel.tsx';
import { PieceList } from './PieceList.tsx';

const ImportDialog = lazyView(async () => (await import('../import/ImportDialog.tsx')).ImportDialog);
const PieceCard = lazyView(async () => (await import('./PieceCard.tsx')).PieceCard);

type Way = 'measure' | 'paste' | 'drawing';

export function PiecesStep() {
  const session = useSession();
  const project = useProject();
  const { open } = useStore(useBench().route);
  const [way, setWay] = useState<Way | null>(null);
  const piece = project.pieces.find((entry) => entry.id === open);
  const isEmpty = project.pieces.length === 0;
  const measured = project.pieces.filter((entry) => entry.source?.kind === 'measured');
  return (
    <div class="step-body">
      <header class="step-head">
        <h2>{isEmpty ? t.pieces.emptyTitle : t.pieces.title}</h2>
        <p class="lead">{isEmpty ? t.pieces.emptyText : t.pieces.lead}</p>
      </header>
      <div class={isEmpty ? 'ways large' : 'ways'} data-spot="ways">
        <WayButton
          way="measure"
          open={way}
          setOpen={setWay}
          label={t.pieces.ways.measure}
          help={t.pieces.ways.measureHelp}
        />
        <WayButton
          way="paste"
          open={way}
          setOpen={setWay}
          label={t.pieces.ways.paste}
          help={t.pieces.ways.pasteHelp}
        />
        <WayButton
          way="drawing"
          open={way}
          setOpen={setWay}
          label={t.pieces.ways.drawing}
          help={t.pieces.ways.drawingHelp}
        />
      </div>
      {way === 'measure' && (
        <section class="panel" aria-label={t.measure.title}>
          <h3>{t.measure.title}</h3>
          <MeasurePanel onAdded={() => setWay(null)} />
        </section>
      )}
      {way === 'paste' && (
        <section class="panel" aria-label={t.paste.title}>
          <h3>{t.paste.title}</h3>
          <PastePanel onAdded={() => setWay(null)} />
        </section>
      )}
      {way === 'drawing' && <ImportDialog onClose={() => setWay(null)} />}
      {!isEmpty && <Lacks lacks={lacksOf(project).pieces} />}
      {!isEmpty && (
        <div class={piece ? 'split has-open' : 'split'}>
          <div class="split-list">
            <PieceList project={project} openId={piece?.id ?? null} />
            {measured.length > 1 && (
              <button
                type="button"
                class="quiet"
                onClick={() => session.do(swapAllGrains(measured.map((entry) => entry.id)))}
              >
                <Icon name="swap" />
                {t.pieces.swapAll}
              </button>
            )}
          </div>
          <div class="split-detail">
            {piece ? (
              <PieceCard key={piece.id} piece={piece} onBringIn={() => setWay('drawing')} />
            ) : (
              <p class="faint hint">{t.pieces.nothingOpen}</p>
            )}
          </div>
        </div>
      )}
    </div>
  );
}

interface WayButtonProps {
  readonly way: Way;
  readonly open: Way | null;
  readonly setOpen: (way: Way | null) => void;
  readonly label: string;
  readonly help: string;
}

function WayButton({ way, open, setOpen, label, help }: WayButtonProps) {
  return (
    <button
      type="button"
      class="way"
      aria-expanded={open === way}
      onClick={() => setOpen(open === way ? null : way)}
    >
      <WaySign way={way} />
      <span>
        <strong>{label}</strong>
        <span class="faint">{help}</span>
      </span>
    </button>
  );
}

/** A small drawing of what each way is good for. */
function WaySign({ way }: { readonly way: Way }) {
  return (
    <svg class="way-sign" viewBox="0 0 48 40" aria-hidden="true" focusable="false">
      {way === 'measure' && (
        <>
          <path class="sign-cloth" d="M12 8H42V28H12Z" />
          <path d="M12 34H42M12 31v6M42 31v6M6 8V28M3 8h6M3 28h6" />
        </>
      )}
      {way === 'paste' && (
        <>
          <path class="sign-cloth" d="M8 5H40V36H8Z" />
          <path d="M13 12h4M21 12h14M13 20h4M21 20h10M13 28h4M21 28h14" />
        </>
      )}
      {way === 'drawing' && (
        <>
          <path class="sign-cloth" d="M8 34V18C8 8 20 5 28 7C38 9 42 18 40 26C39 31 34 34 30 34Z" />
          <path d="M24 29V13M24 13l-3 4M24 13l3 4" />
        </>
      )}
    </svg>
  );
}
