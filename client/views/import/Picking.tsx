import { useState } from 'preact/hooks';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { JointFault } from '../../../pattern/parts/index.ts';
import { drawnAlike } from '../../../pattern/proposals/alike.ts';
import type { Heap } from '../../../pattern/proposals/heaps.ts';
import {
  correctedPiece,
  markedPiece,
  type SizeMark,
  sizeMarkOf,
} from '../../../pattern/proposals/sizeMark.ts';
import type { DrawingPage, ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { findTestSquare } from '../../../pattern/reading/index.ts';
import { errorInWords } from '../../../pattern/toldFault.ts';
import {
  countJoined,
  isMade,
  type JointChoices,
  joinedDrafts,
  type PlannedJoint,
  plannedJoints,
} from '../../reading/joining.ts';
import { draftOf, joinPicks, newPick, outlineById, type Pick } from '../../reading/picking.ts';
import type { ReadingOptions } from '../../reading/readDrawing.ts';
import { heapPick, heapsToOffer, laidOn, pickAll, withLaidOn } from '../../reading/takeAll.ts';
import type { DrawnDraft } from '../../state/pieceCommands.ts';
import { language, t } from '../../strings/index.ts';
import { formatSize } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { MaterialInput } from '../shared/MaterialInput.tsx';
import { materialNamer, usualMaterial } from '../shared/usualMaterial.ts';
import { DrawingPart } from './DrawingPart.tsx';
import { HeapOffers } from './HeapOffers.tsx';
import { JointsPart } from './JointsPart.tsx';
import { OutlineList } from './OutlineList.tsx';
import { PartsRead } from './PartsRead.tsx';
import { ReadingNotes } from './ReadingNotes.tsx';
import { ScalePart } from './ScalePart.tsx';
import { SheetsPart } from './SheetsPart.tsx';

/** Questions that are still open; counts of a part that is joined to another are those of the other. */
function questionsIn(picks: readonly Pick[], joints: readonly PlannedJoint[]): number {
  const isCounted = (id: string): boolean =>
    picks.some(({ outlineId, rows }) => outlineId === id && rows.length > 0);
  const joined = new Set(
    joints
      .filter((joint) => isMade(joint) && isCounted(joint.first.outlineId))
      .map(({ second }) => second?.outlineId),
  );
  return picks
    .filter(({ outlineId }) => !joined.has(outlineId))
    .flatMap(({ rows }) => rows.filter(({ question }) => question !== null)).length;
}

interface PickingProps {
  readonly reading: ReadDrawing;
  readonly picks: readonly Pick[];
  readonly setPicks: (picks: readonly Pick[]) => void;
  readonly onAnother: () => void;
  readonly pages: readonly DrawingPage[];
  /** It is being read again, at another size or with other parts. */
  readonly isBusy: boolean;
  readonly isTraced: boolean;
  /** The drawing with its pages apart, as the file has them; null where it has none. */
  readonly apart: ReadDrawing | null;
  /** How the pages lie was to be found, and wasn't. */
  readonly isUnfound: boolean;
  readonly onReadAgain: (change: Partial<ReadingOptions>) => void;
  readonly onAdd: (drafts: readonly DrawnDraft[]) => void;
}

/** A drawing that was read: its size is checked, outlines are taken and named, and become pieces. */
export function Picking({
  reading,
  picks,
  setPicks,
  onAnother,
  pages,
  isBusy,
  isTraced,
  apart,
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
  const [stretch, setStretch] = useState<SizeMark | null>(null);
  // What is wrong with the print that was traced.
  const [printed, setPrinted] = useState<SizeMark | null>(null);
  const [choices, setChoices] = useState<JointChoices>({});
  const [own, setOwn] = useState<readonly PlannedJoint[]>([]);
  const joints = plannedJoints(reading, own, choices);
  const nameMaterial = materialNamer(project);
  const openQuestions = questionsIn(picks, joints);
  const toggle = (id: string): void => {
    setFault(null);
    setLast(id);
    if (picks.some((pick) => pick.outlineId === id)) setPicks(picks.filter((pick) => pick.outlineId !== id));
    else {
      const outline = outlineById(reading).get(id);
      if (!outline) return;
      // An outline that stood for a copy or a part of another pick now stands for itself.
      const others = picks.map((pick) => {
        if (!pick.alike.includes(id)) return { ...pick, parts: pick.parts.filter((other) => other !== id) };
        const isMirrored = drawnAlike(reading, outline).mirrored.some((other) => other.id === pick.outlineId);
        const less = {
          count: pick.count - (isMirrored ? 0 : 1),
          mirrored: pick.mirrored - (isMirrored ? 1 : 0),
        };
        return { ...pick, ...less, alike: pick.alike.filter((other) => other !== id) };
      });
      setPicks([...others, newPick(reading, outline, nameMaterial)]);
    }
  };
  const takeToo = (ids: readonly string[]): void => {
    const missing = ids.filter((id) => !picks.some(({ outlineId }) => outlineId === id));
    const outlines = outlineById(reading);
    setPicks([
      ...picks,
      ...missing.flatMap((id) => {
        const outline = outlines.get(id);
        return outline ? [newPick(reading, outline, nameMaterial)] : [];
      }),
    ]);
  };
  const join = (): void => {
    const joined = joinPicks(reading, picks);
    if (joined) setPicks([joined]);
    else setFault(t.drawing.cannotJoin);
  };
  const joinHeap = (heap: Heap): void => {
    const pick = heapPick(reading, heap, nameMaterial);
    if (!pick) return;
    const ids = new Set(heap.ids);
    setPicks([...picks.filter(({ outlineId }) => !ids.has(outlineId)), pick]);
  };
  const onThem = picks.length > 0 ? laidOn(reading, picks).length : 0;
  const add = (): void => {
    try {
      const found = sizeMarkOf(findTestSquare(reading)) ?? (isTraced ? printed : null);
      const mark = stretch ?? (isLeft ? null : found);
      const sized = (piece: Piece): Piece =>
        stretch ? correctedPiece(markedPiece(piece, mark)) : markedPiece(piece, mark);
      const from = material.trim() === '' ? usualMaterial(project) : material;
      const drafts = picks.map((pick): [string, DrawnDraft] => {
        const draft = draftOf(reading, pick, from);
        return [pick.outlineId, { ...draft, piece: sized(draft.piece) }];
      });
      onAdd(joinedDrafts(new Map(drafts), joints, units));
    } catch (error) {
      if (!(error instanceof RangeError || error instanceof JointFault)) throw error;
      setFault(errorInWords(error, language));
    }
  };
  return (
    <div class="import" aria-busy={isBusy}>
      <div class="import-picture">
        <DrawingPart reading={reading} picks={picks} pointed={pointed} onPick={toggle} />
        <p role="status" class={isBusy ? 'waiting' : 'sr'}>
          {isBusy ? t.drawing.readingAgain : ''}
        </p>
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
          stretch={stretch}
          onStretch={setStretch}
          onMeasured={setPrinted}
          isTraced={isTraced}
        />
        <SheetsPart
          reading={reading}
          pages={pages}
          apart={apart}
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
          {onThem > 0 && (
            <button
              type="button"
              class="quiet"
              title={t.drawing.laidOnHelp}
              onClick={() => setPicks(withLaidOn(reading, picks, nameMaterial))}
            >
              {t.drawing.laidOn(onThem)}
            </button>
          )}
          {picks.length > 1 && (
            <button type="button" class="quiet" title={t.drawing.joinHelp} onClick={join}>
              {t.drawing.join}
            </button>
          )}
        </div>
        <HeapOffers heaps={heapsToOffer(reading, picks)} onJoin={joinHeap} />
        <OutlineList
          reading={reading}
          picks={picks}
          setPicks={setPicks}
          toggle={toggle}
          setPointed={setPointed}
        />
        <JointsPart
          reading={reading}
          picks={picks}
          joints={joints}
          own={own}
          onChoose={({ key }, choice, lapMm) => setChoices({ ...choices, [key]: { choice, lapMm } })}
          onOwn={setOwn}
          onTake={takeToo}
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
              {t.drawing.add(
                countJoined(
                  picks.map(({ outlineId }) => outlineId),
                  joints,
                ),
              )}
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
