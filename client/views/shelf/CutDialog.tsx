import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Box } from '../../../nesting/geometry/points.ts';
import type { Cloth, ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { leavingsOf, type Offcut } from '../../../pattern/shelf/offcuts.ts';
import { putBack } from '../../../pattern/shelf/putBack.ts';
import { Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import { freshId } from '../../state/ids.ts';
import { Store } from '../../state/store.ts';
import { t } from '../../strings/index.ts';
import { formatArea, formatPurchase, formatSize } from '../../strings/lengths.ts';
import { Dialog } from '../shared/Dialog.tsx';
import { useSession, useStore } from '../shared/hooks.ts';
import { ShelfNews } from './ShelfNews.tsx';
import { shelfHere } from './shelfHere.ts';

interface CutDialogProps {
  readonly project: Project;
  readonly cloth: Cloth;
  readonly lay: ClothLay;
  readonly onClose: () => void;
}

/** What is worth keeping, as the maker last said; 10 × 15 cm holds a small pocket. */
const threshold = new Store({ shortMm: 100, longMm: 150 });

/** A lay is cut: its offcuts go on the shelf and what it used goes off it, in one step. */
export function CutDialog({ project, cloth, lay, onClose }: CutDialogProps) {
  const session = useSession();
  const least = useStore(threshold);
  const entries = useStore(shelfHere.entries);
  const [without, setWithout] = useState<readonly number[]>([]);
  const [isDone, setDone] = useState(false);
  useEffect(() => void shelfHere.read(), []);
  const isSet = least.shortMm > 0 && least.longMm > 0;
  const leavings = useMemo(() => (isSet ? leavingsOf(lay, cloth, least) : null), [lay, cloth, least, isSet]);
  const offcuts = leavings?.offcuts ?? [];
  const chosen = offcuts.filter((_, i) => !without.includes(i));
  const entry = entries?.find(({ id }) => id === cloth.shelfId) ?? null;
  const set = (patch: Partial<typeof least>): void => {
    threshold.set({ ...least, ...patch });
    setWithout([]);
  };
  const cut = async (): Promise<void> => {
    if (!leavings) return;
    const items = putBack(leavings, chosen, {
      cloth,
      entry,
      projectName: project.name,
      freshId: () => freshId('shelf'),
      nameOf: (n) => t.shelf.offcutName(cloth.name, n).slice(0, 200),
    });
    const ids = entry ? [entry.id] : [];
    const step = {
      kind: 'cut',
      ids,
      items,
      projectId: session.projectId,
      projectName: project.name,
    } as const;
    setDone(await shelfHere.do(step, t.shelf.cutDone(items.length)));
  };
  return (
    <Dialog title={`${t.shelf.cutTitle}: ${cloth.name}`} onClose={onClose} wide>
      <div class="shelf">
        <p class="field-help">{t.shelf.cutLead}</p>
        <ShelfNews />
        <fieldset class="choice">
          <legend>{t.shelf.keepIf}</legend>
          <div class="row">
            <LengthField
              label={t.shelf.shortSide}
              mm={least.shortMm}
              allowZero
              onChange={(shortMm) => set({ shortMm })}
            />
            <LengthField
              label={t.shelf.longSide}
              mm={least.longMm}
              allowZero
              onChange={(longMm) => set({ longMm })}
            />
          </div>
        </fieldset>
        {!isSet && (
          <p class="field-fault" role="alert">
            {t.shelf.noThreshold}
          </p>
        )}
        {isSet && offcuts.length === 0 && <p role="status">{t.shelf.noOffcuts}</p>}
        <ul class="cards">
          {offcuts.map((offcut, i) => (
            <li key={`${i} ${offcut.areaMm2}`} class="card shelf-card">
              <OffcutPicture offcut={offcut} />
              <div class="card-text">
                <Tick
                  label={t.shelf.keepOffcut(i + 1)}
                  on={!without.includes(i)}
                  onChange={(on) => setWithout(on ? without.filter((other) => other !== i) : [...without, i])}
                />
                <span class="card-fact">{offcutInWords(offcut, i + 1, project)}</span>
              </div>
            </li>
          ))}
        </ul>
        {leavings && leavings.restOfRollMm > 0 && (
          <p>{t.shelf.rest(formatPurchase(Math.floor(leavings.restOfRollMm / 10) * 10, project.units))}</p>
        )}
        {leavings && leavings.untouchedSheets > 0 && <p>{t.shelf.restSheets(leavings.untouchedSheets)}</p>}
        {entry && leavings && leavings.restOfRollMm === 0 && leavings.untouchedSheets === 0 && (
          <p>{t.shelf.fromShelf(entry.cloth.name)}</p>
        )}
        <div class="buttons">
          <button
            type="button"
            class="primary"
            disabled={!isSet || isDone || (cloth.shelfId !== undefined && entries === null)}
            onClick={() => void cut()}
          >
            {t.shelf.cutDo(chosen.length)}
          </button>
          <button type="button" class="quiet" onClick={onClose}>
            {isDone ? t.common.close : t.common.cancel}
          </button>
        </div>
      </div>
    </Dialog>
  );
}

function offcutInWords(
  { rectangles: [first, ...more], areaMm2 }: Offcut,
  n: number,
  { units }: Project,
): string {
  const size = ({ minX, maxX, minY, maxY }: Box): string =>
    formatSize(Math.floor(maxX - minX), Math.floor(maxY - minY), units);
  const main = first ? t.shelf.offcut(n, size(first), formatArea(areaMm2, units)) : '';
  return more.length === 0 ? main : `${main}, ${t.shelf.moreRectangles(more.map(size).join(', '))}`;
}

/** The outline with its rectangles, as it lies on the plan: x along the cloth, y up. */
function OffcutPicture({ offcut }: { readonly offcut: Offcut }) {
  const rings = [offcut.outline, ...offcut.holes];
  const xs = offcut.outline.map(([x]) => x);
  const ys = offcut.outline.map(([, y]) => y);
  const [x0, y0] = [Math.min(...xs), Math.min(...ys)];
  const [w, h] = [Math.max(...xs) - x0, Math.max(...ys) - y0];
  const scale = 90 / Math.max(w, h, 1);
  const at = (x: number, y: number): string =>
    `${((x - x0) * scale).toFixed(1)} ${((y0 + h - y) * scale).toFixed(1)}`;
  const path = rings.map((ring) => `M${ring.map(([x, y]) => at(x, y)).join('L')}Z`).join('');
  return (
    <svg
      class="offcut-picture"
      viewBox={`-2 -2 ${(w * scale + 4).toFixed(1)} ${(h * scale + 4).toFixed(1)}`}
      aria-hidden="true"
      focusable="false"
    >
      <path class="thumb-cloth" fill-rule="evenodd" d={path} />
      {offcut.rectangles.map((r) => (
        <path
          key={at(r.minX, r.minY)}
          class="offcut-rectangle"
          d={`M${at(r.minX, r.minY)}L${at(r.maxX, r.minY)}L${at(r.maxX, r.maxY)}L${at(r.minX, r.maxY)}Z`}
        />
      ))}
    </svg>
  );
}
