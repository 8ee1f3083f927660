import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ClothLay, Plan, Project } from '../../../../pattern/exchange/project.ts';
import {
  type CopyId,
  copiesOf,
  type HandLay,
  handFaults,
  placementOf,
  posesOf,
  putDown,
  takeUp,
  turnedTo,
  withCopyAt,
  withLock,
} from '../../../../pattern/lay/hand/handLay.ts';
import { HandPlaces } from '../../../../pattern/lay/hand/handPlaces.ts';
import { drawLay } from '../../../../pattern/plan/drawLay.ts';
import { NameField } from '../../../fields/TextField.tsx';
import { type DragStep, HandView, type PlacedKey } from '../../../render/handView.ts';
import type { CommandName } from '../../../state/command.ts';
import { arrange, type LayAddress, layAt } from '../../../state/handCommands.ts';
import { renamePlan } from '../../../state/layCommands.ts';
import { t } from '../../../strings/index.ts';
import { useAddress, useSession } from '../../shared/hooks.ts';
import { Icon } from '../../shared/Icon.tsx';
import { ZoomButtons } from '../../shared/ZoomButtons.tsx';
import { ChosenPiece } from './ChosenPiece.tsx';
import { copyAt, copyName, keyIn, reasonIn } from './handState.ts';
import { PackRest } from './PackRest.tsx';
import { ParkedPieces } from './ParkedPieces.tsx';
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
        <a href={addressOf('plan')}>
          <Icon name="back" /> {t.hand.back}
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
  const faults = useMemo(() => handFaults(hand), [hand]);
  const drawing = useMemo(
    () => drawLay(lay, project, { page: 'fit', bare: true, oneRow: true, units }),
    [lay, project, units],
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
  const mirror = (id: CopyId): void => {
    const at = placementOf(hand, id);
    const poses = posesOf(hand, id).poses.filter((pose) => pose.mirrored !== at?.mirrored);
    if (!at || poses.length === 0) return void session.messages.say(t.hand.noMirror);
    const pose = poses[nearestPose(poses, at.rotation)]!;
    commit(withCopyAt(hand, id, turnedTo(hand, id, pose)), 'mirrorPlaced', id);
  };
  const lock = (id: CopyId): void => {
    const isLocked = hand.locked.some((other) => other.item === id.item && isSame(other, id));
    commit(withLock(hand, id, !isLocked), 'lockPlaced', id);
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
          marks={marks}
          label={t.hand.view(clothName)}
          choose={choose}
          onKey={onKey}
          onDrop={(id, x, y) => {
            const at = placementOf(hand, id);
            if (at) commit(withCopyAt(hand, id, { ...at, x, y }), 'movePlaced', id);
          }}
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
          <PackRest hand={hand} faults={faults} commitAll={commitAll} />
          <ParkedPieces hand={hand} parked={parked} commit={commit} />
        </aside>
      </div>
    </>
  );
}

function isSame(a: CopyId, b: CopyId): boolean {
  return a.stretch === b.stretch && a.copy === b.copy;
}

/** The pose turned most like this, in degrees. */
function nearestPose(poses: readonly { rotation: number }[], rotation: number): number {
  const off = (degrees: number): number => {
    const rest = (((degrees - rotation) % 360) + 360) % 360;
    return Math.min(rest, 360 - rest);
  };
  return poses.reduce((best, pose, i) => (off(pose.rotation) < off(poses[best]!.rotation) ? i : best), 0);
}

interface HandPictureProps {
  readonly lay: ClothLay;
  readonly hand: HandLay;
  readonly drawing: ReturnType<typeof drawLay>;
  readonly marks: Parameters<HandView['show']>[1];
  readonly label: string;
  readonly choose: (key: PlacedKey | null) => void;
  readonly onKey: (key: PlacedKey | null, event: KeyboardEvent) => boolean;
  readonly onDrop: (id: CopyId, x: number, y: number) => void;
}

function HandPicture(props: HandPictureProps) {
  const { drawing, marks, label } = props;
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<HandView | null>(null);
  const now = useRef(props);
  now.current = props;
  const places = useRef<{ readonly hand: HandLay; readonly id: CopyId; readonly free: HandPlaces } | null>(
    null,
  );
  const [zoom, setZoom] = useState(1);

  useLayoutEffect(() => {
    if (!host.current) return;
    const onDrag = (key: PlacedKey, dx: number, dy: number, near: number, isFreely: boolean): DragStep => {
      const { hand, lay } = now.current;
      const id = copyAt(lay, hand, key);
      const at = id && placementOf(hand, id);
      if (!id || !at) return { dx: 0, dy: 0, isFree: false, text: '' };
      const known = places.current;
      const isKnown = known?.hand === hand && known.id.item === id.item && isSame(known.id, id);
      const free = isKnown ? known.free : new HandPlaces(hand, id, at);
      if (!isKnown) places.current = { hand, id, free };
      const catchMm = isFreely ? 0 : near;
      const caught = free.place(at.x + dx, at.y + dy, catchMm, 2 * catchMm);
      const step = { dx: caught.x - at.x, dy: caught.y - at.y, isFree: caught.isFree };
      return { ...step, text: dragWords(hand, free, caught) };
    };
    view.current = new HandView(
      host.current,
      {
        onChoose: (key) => now.current.choose(key),
        onDrag,
        onDrop: (key, { dx, dy }) => {
          const { hand, lay, onDrop } = now.current;
          const id = copyAt(lay, hand, key);
          const at = id && placementOf(hand, id);
          if (id && at) onDrop(id, at.x + dx, at.y + dy);
        },
        onKey: (key, event) => now.current.onKey(key, event),
      },
      setZoom,
    );
    return () => view.current?.destroy();
  }, []);
  useLayoutEffect(() => view.current?.show(drawing, marks, label));
  const chosenKey = marks.chosen;
  useLayoutEffect(() => {
    // Keys go on working on the piece that was just moved, which is painted anew.
    if (chosenKey && host.current?.contains(document.activeElement)) view.current?.focusChosen();
  }, [chosenKey?.segment, chosenKey?.index, drawing]);
  return (
    <div class="hand-picture">
      <div ref={host} class="lay-host hand-host" />
      <ZoomButtons view={view} zoom={zoom} />
    </div>
  );
}

function dragWords(
  hand: HandLay,
  free: HandPlaces,
  { x, y, isFree }: { x: number; y: number; isFree: boolean },
): string {
  if (isFree) return t.hand.dragging.free;
  const { offCloth, copies } = free.inTheWay(x, y);
  if (offCloth || copies.length === 0) return t.hand.dragging.offCloth;
  return t.hand.dragging.overlaps(
    copies
      .slice(0, 2)
      .map((id) => copyName(hand, id))
      .join(', '),
  );
}
