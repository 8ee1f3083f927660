import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { ClothLay } from '../../../../pattern/exchange/project.ts';
import {
  type CopyId,
  type HandLay,
  isSameCopy,
  type PlaceOnCloth,
  placementOf,
  turnedTo,
} from '../../../../pattern/lay/hand/handLay.ts';
import { HandPlaces } from '../../../../pattern/lay/hand/handPlaces.ts';
import { copiesWithin } from '../../../../pattern/lay/hand/region.ts';
import { turnNear } from '../../../../pattern/lay/hand/turns.ts';
import type { PrintUnder } from '../../../../pattern/output/index.ts';
import type { drawLay } from '../../../../pattern/plan/drawLay.ts';
import type { DragWish } from '../../../render/handDrag.ts';
import { type DragStep, type HandMarks, HandView, type PlacedKey } from '../../../render/handView.ts';
import { showNumber, t } from '../../../strings/index.ts';
import { ZoomButtons } from '../../shared/ZoomButtons.tsx';
import { copyAt, copyName } from './handState.ts';

interface HandPictureProps {
  readonly lay: ClothLay;
  readonly hand: HandLay;
  readonly drawing: ReturnType<typeof drawLay>;
  /** The cloth's print, where it is to be seen under the pieces. */
  readonly prints: readonly PrintUnder[];
  readonly marks: HandMarks;
  readonly label: string;
  readonly choose: (key: PlacedKey | null) => void;
  readonly onKey: (key: PlacedKey | null, event: KeyboardEvent) => boolean;
  readonly onDrop: (id: CopyId, place: PlaceOnCloth, isTurned: boolean) => void;
  /** Whether a region is to be drawn instead of a piece taken up. */
  readonly isDrawing: boolean;
  readonly onRegion: (ids: readonly CopyId[]) => void;
}

/** The drawing in which pieces are dragged and turned. */
export function HandPicture(props: HandPictureProps) {
  const { drawing, prints, marks, label } = props;
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<HandView | null>(null);
  const now = useRef(props);
  now.current = props;
  const places = useRef<{
    readonly hand: HandLay;
    readonly id: CopyId;
    readonly byTurn: Map<number, HandPlaces>;
  } | null>(null);
  const [zoom, setZoom] = useState(1);

  useLayoutEffect(() => {
    if (!host.current) return;
    const placesFor = (hand: HandLay, id: CopyId, pose: PlaceOnCloth): HandPlaces => {
      const known = places.current;
      const isKnown = known?.hand === hand && isSameCopy(known.id, id);
      if (!isKnown) places.current = { hand, id, byTurn: new Map() };
      const { byTurn } = places.current!;
      const free = byTurn.get(pose.rotation) ?? new HandPlaces(hand, id, pose);
      byTurn.set(pose.rotation, free);
      return free;
    };
    const onDrag = (key: PlacedKey, wish: DragWish): DragStep => {
      const { hand, lay } = now.current;
      const id = copyAt(lay, hand, key);
      const at = id && placementOf(hand, id);
      if (!id || !at) return { dx: 0, dy: 0, turn: 0, from: [0, 0], isFree: false, text: '' };
      const pose = wish.turn === 0 ? at : turnNear(hand, id, at.rotation + wish.turn, wish.isFinely);
      const place = pose.rotation === at.rotation ? at : (turnedTo(hand, id, pose) ?? at);
      const free = placesFor(hand, id, place);
      const catchMm = wish.isFreely ? 0 : wish.near;
      const caught = free.place(place.x + wish.dx, place.y + wish.dy, catchMm, 2 * catchMm);
      const text = dragWords(hand, free, caught);
      return {
        dx: caught.x - at.x,
        dy: caught.y - at.y,
        turn: place.rotation - at.rotation,
        from: [at.x, at.y],
        isFree: caught.isFree,
        text: wish.turn === 0 ? text : t.hand.dragging.turned(showNumber(place.rotation), text),
      };
    };
    view.current = new HandView(
      host.current,
      {
        onChoose: (key) => now.current.choose(key),
        onDrag,
        onDrop: (key, { dx, dy, turn }) => {
          const { hand, lay, onDrop } = now.current;
          const id = copyAt(lay, hand, key);
          const at = id && placementOf(hand, id);
          if (!id || !at) return;
          // A whole turn back to where it was is none.
          onDrop(id, { ...at, x: at.x + dx, y: at.y + dy, rotation: at.rotation + turn }, turn !== 0);
        },
        onKey: (key, event) => now.current.onKey(key, event),
        onRegion: (regionOf) => now.current.onRegion(copiesWithin(now.current.hand, regionOf)),
      },
      { locked: t.hand.locked, faulty: t.hand.breaksRule },
      setZoom,
    );
    return () => view.current?.destroy();
  }, []);
  useLayoutEffect(() => view.current?.show(drawing, prints, marks, label));
  useLayoutEffect(() => view.current?.drawRegion(props.isDrawing), [props.isDrawing]);
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
