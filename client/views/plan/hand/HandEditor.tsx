import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ClothLay, Plan, Project } from '../../../../pattern/exchange/project.ts';
import {
  type CopyId,
  copiesOf,
  type HandLay,
  handFaults,
  isSameCopy,
  placementOf,
  posesOf,
  putDown,
  takeUp,
  turnedTo,
  withCopyAt,
  withLock,
} from '../../../../pattern/lay/hand/handLay.ts';
import { withLocks } from '../../../../pattern/lay/hand/region.ts';
import { finelyTurned, turnsOf } from '../../../../pattern/lay/hand/turns.ts';
import { type PrintUnder, printsUnder } from '../../../../pattern/output/index.ts';
import { drawLay } from '../../../../pattern/plan/drawLay.ts';
import { NameField } from '../../../fields/TextField.tsx';
import type { PlacedKey } from '../../../render/handView.ts';
import type { CommandName } from '../../../state/command.ts';
import { arrange, type LayAddress, layAt } from '../../../state/handCommands.ts';
import { renamePlan } from '../../../state/layCommands.ts';
import { language, t } from '../../../strings/index.ts';
import { useAddress, useSession } from '../../shared/hooks.ts';
import { Icon } from '../../shared/Icon.tsx';
import { ChosenPiece } from './ChosenPiece.tsx';
import { HandPicture } from './HandPicture.tsx';
import { copyAt, copyName, keyIn, reasonIn } from './handState.ts';
import { PackRest } from './PackRest.tsx';
import { ParkedPieces } from './ParkedPieces.tsx';
import { PrintUnderPart } from './PrintUnderPart.tsx';
import { RegionPanel } from './RegionPanel.tsx';
import { RulesPanel } from './RulesPanel.tsx';

interface HandEditorProps {
  readonly project: Project;
  readonly address: LayAddress;
}

/** A kept layout, to be arranged by hand. */
export function HandEditor({ project, address }: HandEditorProps) {
  const addressOf = useAddress();
  const top = useRef<HTMLDivElement>(null);
  // The page was left wherever the button stood that opened this.
  useLayoutEffect(() => top.current?.scrollIntoView(), [address.planId, address.clothId, address.spread]);
  const plan = project.plans.find(({ id }) => id === address.planId);
  const lay = layAt(project, address);
  const hand = useMemo(() => lay && takeUp(project, lay), [project, lay]);
  const why = !plan || !lay || !hand ? t.hand.gone : typeof hand === 'string' ? t.hand[hand] : null;
  return (
    <div class="step-body hand-editor" ref={top}>
      <p>
        <a class="back" href={addressOf('plan')}>
          <Icon name="back" />
          {t.hand.back}
        </a>
      </p>
      {plan && lay && hand && typeof hand !== 'string' ? (
        <HandBench
          project={project}
          address={address}
          plan={plan}
          lay={withEveryStretch(lay, hand, project)}
          hand={hand}
        />
      ) : (
        <p class="banner warn" role="alert">
          <Icon name="lacking" />
          <span>{why}</span>
        </p>
      )}
    </div>
  );
}

/** A stretch that came into being when a piece was handed over from another cloth has no segment yet: it gets one. */
function withEveryStretch(lay: ClothLay, hand: HandLay, { units }: Project): ClothLay {
  const isComplete = hand.cloth.kind === 'remnant' || hand.stretches.length === lay.segments.length;
  return isComplete ? lay : putDown(hand, reasonIn(hand, units));
}

export interface BenchProps extends HandEditorProps {
  readonly plan: Plan;
  readonly lay: ClothLay;
  readonly hand: HandLay;
}

/** Writes a changed lay into the document, as one step that can be taken back. */
export type Commit = (next: HandLay, name: CommandName, id: CopyId, together?: string) => void;

/** Arrow keys push so far: in millimetres, or in eighths of an inch; with Shift ten or eight times. */
const PUSH = { mm: [1, 10], cm: [1, 10], in: [25.4 / 8, 25.4] } as const;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

function HandBench({ project, address, plan, lay, hand }: BenchProps) {
  const session = useSession();
  const { units } = project;
  const [chosenKey, choose] = useState<PlacedKey | null>(null);
  const chosen = chosenKey && copyAt(lay, hand, chosenKey);
  const clothName = hand.cloth.name;
  const [isDrawing, setDrawing] = useState(false);
  const faults = useMemo(() => handFaults(hand), [hand]);
  const { cloth } = hand;
  const drawing = useMemo(
    () =>
      drawLay(lay, rightSideUp(project, cloth.id), {
        page: 'fit',
        bare: true,
        oneRow: true,
        units,
        language,
      }),
    [lay, project, units],
  );
  const [showsPrint, setShowsPrint] = useState(true);
  const prints = useMemo(
    () => (showsPrint ? printsUnder(lay, project, drawing) : NO_PRINTS),
    [lay, project, drawing, showsPrint],
  );

  const commit: Commit = (next, name, id, together) => {
    const down = putDown(next, reasonIn(next, units));
    choose(keyIn(down, next, id));
    session.do(arrange(address, [down], name, copyName(hand, id), together));
  };
  const turn = (id: CopyId, by: 1 | -1): void => {
    const at = placementOf(hand, id);
    const poses = posesOf(hand, id).poses.filter((pose) => pose.mirrored === at?.mirrored);
    if (!at || poses.length < 2) return void session.messages.say(t.hand.noTurn);
    const now = nearestPose(poses, at.rotation);
    const pose = poses[(now + by + poses.length) % poses.length]!;
    commit(withCopyAt(hand, id, turnedTo(hand, id, pose)), 'turnPlaced', id);
  };
  const turnFinely = (id: CopyId, by: 1 | -1): void => {
    const at = placementOf(hand, id);
    if (!at) return;
    if (!turnsOf(hand, id).canTurnFinely) return void session.messages.say(t.hand.noFineTurn);
    const pose = finelyTurned(hand, id, at.rotation, by);
    const key = `turn ${address.planId} ${id.stretch} ${id.item}`;
    commit(withCopyAt(hand, id, turnedTo(hand, id, pose)), 'turnPlaced', id, key);
  };
  const mirror = (id: CopyId): void => {
    const at = placementOf(hand, id);
    const poses = posesOf(hand, id).poses.filter((pose) => pose.mirrored !== at?.mirrored);
    if (!at || poses.length === 0) return void session.messages.say(t.hand.noMirror);
    const pose = poses[nearestPose(poses, at.rotation)]!;
    commit(withCopyAt(hand, id, turnedTo(hand, id, pose)), 'mirrorPlaced', id);
  };
  const lock = (id: CopyId): void => {
    const isLocked = hand.locked.some((other) => isSameCopy(other, id));
    commit(withLock(hand, id, !isLocked), 'lockPlaced', id);
  };
  const lockAll = (ids: readonly CopyId[], isLocked: boolean): void => {
    if (ids.length === 0) return void session.messages.say(t.hand.regionEmpty);
    const down = putDown(withLocks(hand, ids, isLocked), reasonIn(hand, units));
    session.do(arrange(address, [down], 'lockPlaced', t.hand.pieces(ids.length)));
    session.announce(isLocked ? t.hand.lockedNow(ids.length) : t.hand.unlockedNow(ids.length));
  };
  const park = (id: CopyId): void => commit(withCopyAt(hand, id, null), 'parkPlaced', id);
  const next = (by: 1 | -1): void => {
    const keys = lay.segments.flatMap((segment, s) =>
      segment.placed.map((_, index) => ({ segment: s, index })),
    );
    const now = keys.findIndex((key) => key.segment === chosenKey?.segment && key.index === chosenKey.index);
    choose(keys[(now + by + keys.length) % keys.length] ?? null);
  };
  const push = (id: CopyId, [dx, dy]: readonly [number, number], far: boolean): void => {
    const at = placementOf(hand, id);
    if (!at) return;
    const step = PUSH[units][far ? 1 : 0];
    const key = `push ${address.planId} ${id.stretch} ${id.item}`;
    commit(withCopyAt(hand, id, { ...at, x: at.x + dx * step, y: at.y + dy * step }), 'movePlaced', id, key);
  };
  const onKey = (key: PlacedKey | null, event: KeyboardEvent): boolean => {
    const id = key && copyAt(lay, hand, key);
    if (!id || event.ctrlKey || event.metaKey) return false;
    const arrow = ARROWS[event.key];
    if (arrow) push(id, arrow, event.shiftKey);
    // By its place: with Alt a key may write another letter.
    else if (event.altKey && event.code === 'KeyR') turnFinely(id, event.shiftKey ? -1 : 1);
    else if (event.key.toLowerCase() === 'r') turn(id, event.shiftKey ? -1 : 1);
    else if (event.key.toLowerCase() === 'm') mirror(id);
    else if (event.key.toLowerCase() === 'l') lock(id);
    else if (event.key === 'Delete' || event.key === 'Backspace') park(id);
    else if (event.key === '.') next(1);
    else if (event.key === ',') next(-1);
    else return false;
    return true;
  };

  const commitAll = (next: HandLay, name: CommandName): void => {
    choose(null);
    session.do(arrange(address, [putDown(next, reasonIn(next, units))], name, clothName));
  };
  const marks = {
    chosen: chosenKey,
    faulty: faults.flatMap(({ copies }) => copies.flatMap((id) => keyIn(lay, hand, id) ?? [])),
    locked: hand.locked.flatMap((id) => keyIn(lay, hand, id) ?? []),
    canTurn: chosen !== null && placementOf(hand, chosen) !== null && turnsOf(hand, chosen).canTurn,
  };
  const parked = hand.stretches.flatMap((_, stretch) =>
    copiesOf(hand, stretch).flatMap(({ id, placement }) => (placement ? [] : [id])),
  );
  return (
    <>
      <header class="step-head">
        <h2>{t.hand.title(clothName)}</h2>
        <NameField
          label={t.plan.keepName}
          value={plan.name}
          onChange={(name) => session.do(renamePlan(plan, name))}
        />
        <p class="lead">{t.hand.lead}</p>
        {cloth.cutFromBack && <p class="lead">{t.hand.rightSideUp}</p>}
        <details class="help">
          <summary>{t.hand.keysTitle}</summary>
          <p>{t.hand.keys}</p>
        </details>
      </header>
      <div class="hand-bench">
        <HandPicture
          lay={lay}
          hand={hand}
          drawing={drawing}
          prints={prints}
          marks={marks}
          label={t.hand.view(clothName)}
          choose={choose}
          onKey={onKey}
          isDrawing={isDrawing}
          onRegion={(ids) => {
            setDrawing(false);
            lockAll(ids, true);
          }}
          onDrop={(id, place, isTurned) =>
            commit(withCopyAt(hand, id, place), isTurned ? 'turnPlaced' : 'movePlaced', id)
          }
        />
        <aside class="hand-side">
          <RulesPanel
            hand={hand}
            faults={faults}
            lay={lay}
            units={units}
            show={(id) => choose(keyIn(lay, hand, id))}
          />
          <ChosenPiece
            project={project}
            address={address}
            plan={plan}
            lay={lay}
            hand={hand}
            chosen={chosen}
            choose={choose}
            commit={commit}
            actions={{ turn, mirror, lock, park }}
          />
          <RegionPanel
            project={project}
            lay={lay}
            hand={hand}
            isDrawing={isDrawing}
            setDrawing={setDrawing}
            lockAll={lockAll}
          />
          <PrintUnderPart cloth={cloth} isShown={showsPrint} show={setShowsPrint} />
          <PackRest hand={hand} faults={faults} commitAll={commitAll} />
          <ParkedPieces hand={hand} parked={parked} commit={commit} />
        </aside>
      </div>
    </>
  );
}

const NO_PRINTS: readonly PrintUnder[] = [];

/**
 * The project as if this cloth were cut with its right side up: what is seen then lies as the hand moves it, and where
 * the print shows. A plan of cloth that is cut from the back shows it turned over.
 */
function rightSideUp(project: Project, clothId: string): Project {
  const cloths = project.cloths.map((cloth) =>
    cloth.id === clothId ? { ...cloth, cutFromBack: false } : cloth,
  );
  return { ...project, cloths };
}

/** The pose turned most like this, in degrees. */
function nearestPose(poses: readonly { rotation: number }[], rotation: number): number {
  const off = (degrees: number): number => {
    const rest = (((degrees - rotation) % 360) + 360) % 360;
    return Math.min(rest, 360 - rest);
  };
  return poses.reduce((best, pose, i) => (off(pose.rotation) < off(poses[best]!.rotation) ? i : best), 0);
}
