import { useState } from 'preact/hooks';
import { drawnAlike } from '../../../pattern/proposals/alike.ts';
import { groundsOf, SMALL_MM } from '../../../pattern/proposals/ground.ts';
import { mirrorLineSaid } from '../../../pattern/proposals/instructions.ts';
import type { DrawingOutline, ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { Tick } from '../../fields/Choice.tsx';
import { CountField } from '../../fields/NumberFields.tsx';
import { warningText } from '../../reading/noticeWords.ts';
import { joinedSize, type Pick, withAlike, withFold } from '../../reading/picking.ts';
import { t } from '../../strings/index.ts';
import { formatLength, formatSize } from '../../strings/lengths.ts';
import { sideOf } from '../pieces/sideOf.ts';
import { useProject } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { MaterialInput } from '../shared/MaterialInput.tsx';
import { InsidePart } from './InsidePart.tsx';
import { SaidRows } from './SaidRows.tsx';

interface OutlineListProps {
  readonly reading: ReadDrawing;
  readonly picks: readonly Pick[];
  readonly setPicks: (picks: readonly Pick[]) => void;
  readonly toggle: (id: string) => void;
  readonly setPointed: (id: string | null) => void;
}

/** Every closed outline with its size; picked ones with their name, count and what lies inside. */
export function OutlineList({ reading, picks, setPicks, toggle, setPointed }: OutlineListProps) {
  const [showSmall, setShowSmall] = useState(false);
  const byId = new Map(picks.map((pick) => [pick.outlineId, pick]));
  const grounds = groundsOf(reading);
  const held = new Set(picks.flatMap((pick) => [...pick.alike, ...pick.parts, ...Object.keys(pick.inside)]));
  const isSmall = (outline: DrawingOutline): boolean =>
    Math.min(outline.widthMm, outline.heightMm) < SMALL_MM && !byId.has(outline.id);
  // What lies off the page is seldom meant: it comes last.
  const isOff = ({ onPage }: DrawingOutline): number => (onPage === 'outside' ? 1 : 0);
  const inSight = reading.outlines
    .filter((outline) => !held.has(outline.id) || byId.has(outline.id))
    .sort((a, b) => isOff(a) - isOff(b));
  const small = inSight.filter(isSmall);
  const shown = showSmall ? inSight : inSight.filter((outline) => !isSmall(outline));
  const change = (changed: Pick): void =>
    setPicks(picks.map((pick) => (pick.outlineId === changed.outlineId ? changed : pick)));
  if (reading.outlines.length === 0) return <NothingClosed reading={reading} />;
  return (
    <div class="outline-scroll">
      <ul class="outlines" aria-label={t.drawing.outlines}>
        {shown.map((outline) => {
          const pick = byId.get(outline.id);
          return (
            <li
              key={outline.id}
              class={pick ? 'picked' : undefined}
              onPointerEnter={() => setPointed(outline.id)}
              onPointerLeave={() => setPointed(null)}
              onFocusCapture={() => setPointed(outline.id)}
            >
              <OutlineHead
                outline={outline}
                size={pick ? joinedSize(reading, pick) : outline}
                isPicked={pick !== undefined}
                isGround={grounds.has(outline.id)}
                toggle={toggle}
              />
              {pick && (
                <PickPart
                  reading={reading}
                  outline={outline}
                  picks={picks}
                  pick={pick}
                  setPicks={setPicks}
                  change={change}
                />
              )}
            </li>
          );
        })}
      </ul>
      {small.length > 0 && !showSmall && (
        <p class="faint">
          {t.drawing.hiddenSmall(small.length)}{' '}
          <button type="button" class="quiet" onClick={() => setShowSmall(true)}>
            {t.drawing.showSmall}
          </button>
        </p>
      )}
    </div>
  );
}

/** Why there is nothing to take, and what can be done about it. */
function NothingClosed({ reading }: { readonly reading: ReadDrawing }) {
  const isPicture = reading.warnings.some(({ code }) => code === 'picture');
  const why = reading.warnings.filter(({ code }) => code === 'picture' || code === 'layer');
  return (
    <div class="banner warn" role="status">
      <Icon name="lacking" />
      <div>
        <p>{t.drawing.noOutlines}</p>
        {[...why.map(warningText), ...reading.refused.map(({ text }) => text)].map((text) => (
          <p key={text}>{text}</p>
        ))}
        <p>{isPicture ? t.drawing.noOutlinesPicture : t.drawing.noOutlinesWay}</p>
      </div>
    </div>
  );
}

interface OutlineHeadProps {
  readonly outline: DrawingOutline;
  /** That of all outlines it is joined from, where it is. */
  readonly size: { readonly widthMm: number; readonly heightMm: number };
  readonly isPicked: boolean;
  /** Taken for the cloth or frame round the pieces. */
  readonly isGround: boolean;
  readonly toggle: (id: string) => void;
}

function OutlineHead({ outline, size, isPicked, isGround, toggle }: OutlineHeadProps) {
  const { units } = useProject();
  const remarks = [
    isGround && !isPicked ? t.drawing.ground : '',
    outline.onPage === 'outside' ? t.drawing.offPage : '',
    outline.onPage === 'partly' ? t.drawing.partlyOff : '',
    outline.mending ? outline.mending.text : '',
  ].filter((remark) => remark !== '');
  return (
    <label class="outline-head">
      <input
        type="checkbox"
        checked={isPicked}
        aria-label={t.drawing.takeAs(outline.suggestedName)}
        onChange={() => toggle(outline.id)}
      />
      <span class="outline-name">{outline.suggestedName}</span>
      <span class="outline-size">{formatSize(size.widthMm, size.heightMm, units)}</span>
      {remarks.length > 0 && <span class="faint outline-remark">{remarks.join(' ')}</span>}
    </label>
  );
}

interface PickPartProps {
  readonly reading: ReadDrawing;
  readonly outline: DrawingOutline;
  readonly picks: readonly Pick[];
  readonly pick: Pick;
  readonly setPicks: (picks: readonly Pick[]) => void;
  readonly change: (pick: Pick) => void;
}

/** The grain and the fold edge as lines or words on the outline propose them: to be taken or not. */
function SeenLines({ outline, pick, change }: Omit<PickPartProps, 'reading' | 'picks' | 'setPicks'>) {
  const { units } = useProject();
  const { grain, fold } = pick;
  return (
    <>
      {grain && (
        <Tick
          label={t.parts.grainSeen(`${Math.round(grain.deg)}°`, grain.by)}
          on={grain.isTaken}
          onChange={(isTaken) => change({ ...pick, grain: { ...grain, isTaken } })}
        />
      )}
      {fold && pick.parts.length === 0 && (
        <Tick
          label={t.parts.foldSeen(
            t.parts.edge(formatLength(fold.lengthMm, units), sideOf({ outline: outline.ring }, fold.edge)),
            fold.by,
          )}
          on={fold.isTaken}
          onChange={(isTaken) => change(withFold(pick, isTaken))}
        />
      )}
    </>
  );
}

function PickPart({ reading, outline, picks, pick, setPicks, change }: PickPartProps) {
  const { same, mirrored } = drawnAlike(reading, outline);
  const mirrorWords = mirrorLineSaid([...outline.textInside, ...outline.textBeside]);
  const alike = [...same, ...mirrored].filter((other) => !pick.parts.includes(other.id));
  return (
    <div class="pick">
      <div class="row">
        <label class="field grow">
          <span class="sr">{t.drawing.nameOf(outline.suggestedName)}</span>
          <input
            type="text"
            value={pick.name}
            maxLength={200}
            onInput={(event) => change({ ...pick, name: event.currentTarget.value })}
          />
        </label>
        {pick.rows.length === 0 && (
          <CountField
            label={t.drawing.countOf(pick.name)}
            hideLabel
            count={pick.count}
            onChange={(count) => change({ ...pick, count })}
          />
        )}
      </div>
      <SeenLines outline={outline} pick={pick} change={change} />
      {pick.rows.length === 0 && pick.mirrored > 0 && (
        <CountField
          label={t.drawing.mirroredOf}
          count={pick.mirrored}
          onChange={(count) => change({ ...pick, mirrored: count })}
        />
      )}
      {pick.rows.length === 0 && pick.material !== '' && (
        <MaterialInput
          label={t.drawing.saidFrom}
          value={pick.material}
          onChange={(material) => change({ ...pick, material })}
        />
      )}
      {mirrorWords !== null && pick.fold === null && <p class="faint">{t.drawing.mirrorSaid(mirrorWords)}</p>}
      {pick.rows.length > 0 && <SaidRows pick={pick} change={change} />}
      {pick.parts.length > 0 && (
        <p class="faint">
          {t.drawing.joinedOf(pick.parts.length + 1)}
          {pick.core.length > 0 && `, ${t.drawing.joinedStrips}`}{' '}
          <button
            type="button"
            class="quiet"
            onClick={() => setPicks(picks.filter((other) => other.outlineId !== pick.outlineId))}
          >
            {t.drawing.takeApart}
          </button>
        </p>
      )}
      {alike.length > 0 && (
        <p class="faint">
          {t.drawing.alike(alike.length + 1, mirrored.length)}{' '}
          {pick.alike.length === 0 ? (
            <button type="button" class="quiet" onClick={() => change(withAlike(reading, pick))}>
              {t.drawing.takeAlike(alike.length + 1)}
            </button>
          ) : (
            <button
              type="button"
              class="quiet"
              onClick={() => change({ ...pick, alike: [], count: 1, mirrored: 0 })}
            >
              {t.drawing.splitAlike}
            </button>
          )}
        </p>
      )}
      <InsidePart reading={reading} picks={picks} pick={pick} setPicks={setPicks} change={change} />
    </div>
  );
}
