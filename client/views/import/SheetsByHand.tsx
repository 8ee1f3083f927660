import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Box, Point } from '../../../nesting/geometry/points.ts';
import { type FreeLayout, placeSheets, type SheetLayout } from '../../../pattern/pages/layout.ts';
import { commonFrame, holdOf, linesByPage } from '../../../pattern/pages/sheetLines.ts';
import { type LaidSheet, type Snap, snapSheet } from '../../../pattern/pages/snapSheet.ts';
import type { ReadDrawing } from '../../../pattern/reading/drawing.ts';
import { LengthField } from '../../fields/NumberFields.tsx';
import { SheetBoard } from '../../render/sheetBoard.ts';
import { t } from '../../strings/index.ts';
import { formatLength } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { WindowFields } from './WindowFields.tsx';

interface SheetsByHandProps {
  /** The pages as they stood apart, at the size of the file. */
  readonly apart: ReadDrawing;
  /** How they lie now, in mm of the file; null where they are still apart. */
  readonly layout: SheetLayout | null;
  readonly onSheets: (sheets: FreeLayout) => void;
}

/** Where every sheet lies; pages that are not in it are left out. */
type Places = ReadonlyMap<number, Point>;

/** A key may catch a sheet from so far, mm. */
const KEY_REACH_MM = 60;
const MOST_UNDONE = 100;

/** The sheets as a map to be dragged: each is caught by its neighbours' lines, marks and edges. */
export function SheetsByHand({ apart, layout, onSheets }: SheetsByHandProps) {
  const { units } = useProject();
  const lines = useMemo(() => linesByPage(apart), [apart]);
  const start = useMemo(() => startOf(apart, layout, lines), [apart, layout, lines]);
  const [window, setWindow] = useState<Box>(start.window);
  const [places, setPlaces] = useState<Places>(start.places);
  const [past, setPast] = useState<readonly Places[]>([]);
  const [selected, setSelected] = useState<number | null>(null);
  const [snap, setSnap] = useState<Snap | null>(null);
  const holds = useMemo(
    () => new Map([...lines].map(([page, list]) => [page, holdOf(page, list, window)])),
    [lines, window],
  );
  const before = useRef<Places | null>(null);

  const others = (page: number): LaidSheet[] =>
    [...places].flatMap(([other, at]) => {
      const hold = holds.get(other);
      return hold && other !== page ? [{ hold, at }] : [];
    });
  const caught = (page: number, at: Point, reachMm: number): Point => {
    const hold = holds.get(page);
    if (!hold) return at;
    const found = snapSheet(hold, at, others(page), reachMm);
    setSnap(found);
    return found.at;
  };
  const put = (page: number, at: Point): void => setPlaces(new Map(places).set(page, at));
  const remember = (was: Places): void => setPast([...past, was].slice(-MOST_UNDONE));

  const host = useRef<HTMLDivElement>(null);
  const board = useRef<SheetBoard | null>(null);
  // The board lives longer than one drawing of this component, so it asks for the newest from here.
  const events = {
    onSelect: (page: number) => {
      if (page === selected) return;
      setSelected(page);
      setSnap(null);
    },
    onDrag: (page: number, at: Point, reachMm: number) => {
      before.current ??= places;
      put(page, caught(page, at, reachMm));
    },
    onDrop: () => {
      if (before.current) remember(before.current);
      before.current = null;
    },
    onCancel: () => {
      if (before.current) setPlaces(before.current);
      before.current = null;
      setSnap(null);
    },
    onPush: (page: number, [dx, dy]: Point) => {
      const [x, y] = places.get(page) ?? [0, 0];
      remember(places);
      put(page, caught(page, [x + dx, y + dy], 0));
    },
    onCatch: (page: number) => {
      const at = places.get(page);
      if (!at) return;
      remember(places);
      put(page, caught(page, at, KEY_REACH_MM));
    },
  };
  const now = useRef(events);
  now.current = events;
  useLayoutEffect(() => {
    if (!host.current) return;
    board.current = new SheetBoard(host.current, {
      onSelect: (page) => now.current.onSelect(page),
      onDrag: (page, at, reachMm) => now.current.onDrag(page, at, reachMm),
      onDrop: () => now.current.onDrop(),
      onCancel: () => now.current.onCancel(),
      onPush: (page, by) => now.current.onPush(page, by),
      onCatch: (page) => now.current.onCatch(page),
    });
    return () => board.current?.destroy();
  }, []);
  const origin = cornerOf(places, window);
  useLayoutEffect(() => {
    board.current?.show({
      sheets: [...places].map(([page, at]) => ({
        page,
        at,
        lines: lines.get(page) ?? [],
        label: t.drawing.boardSheet(
          page,
          formatLength(at[0] + window.minX - origin[0], units),
          formatLength(at[1] + window.minY - origin[1], units),
        ),
      })),
      window,
      selected,
      title: t.drawing.boardTitle,
    });
  });

  const out = [...lines.keys()].filter((page) => !places.has(page)).sort((a, b) => a - b);
  const undo = (): void => {
    const last = past.at(-1);
    if (!last) return;
    setPlaces(last);
    setPast(past.slice(0, -1));
    setSnap(null);
  };
  const leaveOut = (page: number): void => {
    remember(places);
    setPlaces(new Map([...places].filter(([other]) => other !== page)));
    setSelected(null);
  };
  const putBack = (page: number): void => {
    remember(places);
    const right = Math.max(0, ...[...places.values()].map(([x]) => x + window.maxX));
    put(page, [right + 20 - window.minX, origin[1] - window.minY]);
    setSelected(page);
  };
  const at = selected === null ? undefined : places.get(selected);
  return (
    <div class="sheets-by-hand">
      <p class="field-help">{t.drawing.boardHelp}</p>
      <div ref={host} class="sheet-board-host" />
      <p role="status" class="board-status">
        {selected === null || !at ? t.drawing.boardNone : snapInWords(selected, snap)}
      </p>
      {selected !== null && at && (
        <div class="row">
          <LengthField
            label={t.drawing.boardLeft(selected)}
            mm={at[0] + window.minX - origin[0]}
            allowZero
            onChange={(mm) => {
              remember(places);
              put(selected, [mm - window.minX + origin[0], at[1]]);
            }}
          />
          <LengthField
            label={t.drawing.boardBelow}
            mm={at[1] + window.minY - origin[1]}
            allowZero
            onChange={(mm) => {
              remember(places);
              put(selected, [at[0], mm - window.minY + origin[1]]);
            }}
          />
          <button type="button" onClick={() => events.onCatch(selected)}>
            {t.drawing.boardCatch}
          </button>
          <button type="button" class="quiet" disabled={places.size < 3} onClick={() => leaveOut(selected)}>
            {t.drawing.boardOut(selected)}
          </button>
        </div>
      )}
      {out.length > 0 && (
        <p class="row">
          {out.map((page) => (
            <button key={page} type="button" class="quiet" onClick={() => putBack(page)}>
              {t.drawing.boardBack(page)}
            </button>
          ))}
        </p>
      )}
      <details class="help">
        <summary>{t.drawing.boardWindow}</summary>
        <div class="row">
          <WindowFields window={window} onChange={setWindow} />
        </div>
      </details>
      <div class="row">
        <button
          type="button"
          class="primary"
          onClick={() =>
            onSheets({ places: [...places].map(([page, place]) => ({ page, at: place })), window })
          }
        >
          {t.drawing.boardLay}
        </button>
        <button type="button" class="quiet" disabled={past.length === 0} onClick={undo}>
          {t.drawing.boardUndo}
        </button>
      </div>
    </div>
  );
}

function snapInWords(page: number, snap: Snap | null): string {
  if (!snap) return t.drawing.boardChosen(page);
  switch (snap.by) {
    case 'lines':
      return t.drawing.boardByLines(page, snap.met);
    case 'marks':
      return t.drawing.boardByMarks(page, snap.met);
    case 'edges':
      return t.drawing.boardByEdges(page, snap.met);
    case null:
      return t.drawing.boardFree(page, snap.met);
  }
}

/** The lower left corner of all that is used of the sheets. */
function cornerOf(places: Places, window: Box): Point {
  const all = [...places.values()];
  return [Math.min(...all.map(([x]) => x)) + window.minX, Math.min(...all.map(([, y]) => y)) + window.minY];
}

function startOf(
  apart: ReadDrawing,
  layout: SheetLayout | null,
  lines: ReturnType<typeof linesByPage>,
): { readonly window: Box; readonly places: Places } {
  if (layout) {
    const places = new Map(placeSheets(layout).map(({ page, by }) => [page, by]));
    return { window: layout.window, places };
  }
  const pages = (apart.pages ?? []).filter(({ number }) => lines.has(number));
  const [first] = pages;
  const page = { widthMm: first?.widthMm ?? 0, heightMm: first?.heightMm ?? 0 };
  return {
    window: commonFrame(lines, page) ?? { minX: 0, minY: 0, maxX: page.widthMm, maxY: page.heightMm },
    places: new Map(pages.map(({ number, at }) => [number, at])),
  };
}
