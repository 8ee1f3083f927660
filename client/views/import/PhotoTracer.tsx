import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../nesting/geometry/points.ts';
import { catchEdge } from '../../../pattern/photo/catchEdge.ts';
import type { Corners } from '../../../pattern/photo/homography.ts';
import { type MeasuredOutline, measurePhoto } from '../../../pattern/photo/photo.ts';
import { errorInWords } from '../../../pattern/toldFault.ts';
import { Select, Tick } from '../../fields/Choice.tsx';
import { LengthField } from '../../fields/NumberFields.tsx';
import type { Photo } from '../../reading/openPhoto.ts';
import { PanZoom } from '../../render/panZoom.ts';
import { language, t } from '../../strings/index.ts';
import { formatLength, formatSize } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { ZoomButtons } from '../shared/ZoomButtons.tsx';

/** Sheets of known size, mm: ISO 216, and ANSI/ASME Y14.1 for Letter. */
const SHEETS = {
  a4: [210, 297],
  a3: [297, 420],
  letter: [215.9, 279.4],
} as const;
type Known = keyof typeof SHEETS | 'other';

interface PhotoTracerProps {
  readonly photo: Photo;
  /** What the button says that takes the outline. */
  readonly takeLabel: string;
  readonly onTake: (measured: MeasuredOutline) => void;
  readonly children?: ComponentChildren;
}

/** An outline traced on a photo, squared up by something of known size that lies beside it. */
export function PhotoTracer({ photo, takeLabel, onTake, children }: PhotoTracerProps) {
  const { units } = useProject();
  const [known, setKnown] = useState<Known>('a4');
  const [isTurned, setTurned] = useState(false);
  const [isCatching, setCatching] = useState(true);
  const [own, setOwn] = useState<readonly [number, number]>([100, 100]);
  const [corners, setCorners] = useState<Corners>(() => startingCorners(photo));
  const [outline, setOutline] = useState<readonly Point[]>([]);
  const size = known === 'other' ? own : SHEETS[known];
  const [widthMm, heightMm] = isTurned ? [size[1], size[0]] : size;
  const measured = outline.length < 3 ? null : measure({ corners, widthMm, heightMm, outline });
  return (
    <div class="import">
      <div class="import-picture">
        <PhotoView
          photo={photo}
          corners={corners}
          outline={outline}
          isCatching={isCatching}
          onCorners={setCorners}
          onOutline={setOutline}
        />
      </div>
      <div class="import-list">
        <ol class="photo-steps">
          <li>{t.drawing.photoCorners}</li>
          <li>{t.drawing.photoClick}</li>
        </ol>
        <Select
          label={t.drawing.photoKnown}
          value={known}
          options={(['a4', 'a3', 'letter', 'other'] as const).map((value) => ({
            value,
            label: t.drawing.photoSheets[value],
          }))}
          onChange={setKnown}
        />
        {known === 'other' && (
          <div class="row">
            <LengthField label={t.drawing.photoWide} mm={own[0]} onChange={(mm) => setOwn([mm, own[1]])} />
            <LengthField label={t.drawing.photoTall} mm={own[1]} onChange={(mm) => setOwn([own[0], mm])} />
          </div>
        )}
        <Tick label={t.drawing.photoTurned} on={isTurned} onChange={setTurned} />
        <Tick label={t.drawing.photoCatch} on={isCatching} onChange={setCatching} />
        <div class="row">
          <button
            type="button"
            class="quiet"
            onClick={() => setOutline([...outline, nextPoint(outline, photo)])}
          >
            {t.drawing.photoAdd}
          </button>
          <button
            type="button"
            class="quiet"
            disabled={outline.length === 0}
            onClick={() => setOutline(outline.slice(0, -1))}
          >
            {t.drawing.photoUndo}
          </button>
        </div>
        <div role="status">
          {measured === null && <p class="faint">{t.drawing.photoPoints(outline.length)}</p>}
          {typeof measured === 'string' && <p class="field-fault">{measured}</p>}
          {measured !== null && typeof measured !== 'string' && (
            <>
              <p>
                <strong>{formatSize(measured.widthMm, measured.heightMm, units)}</strong>,{' '}
                {t.drawing.photoError(formatLength(measured.errorMm, units))}
              </p>
              {measured.reach > FAR_REACH && (
                <p class="field-help">
                  <Icon name="lacking" /> {t.drawing.photoFar}
                </p>
              )}
              <p class="field-help">{t.drawing.photoLens}</p>
            </>
          )}
        </div>
        <div class="row">
          <button
            type="button"
            class="primary"
            disabled={measured === null || typeof measured === 'string'}
            onClick={() => measured !== null && typeof measured !== 'string' && onTake(measured)}
          >
            {takeLabel}
          </button>
          {children}
        </div>
      </div>
    </div>
  );
}

/** An outline so many times as large as the known thing is measured by a long lever. */
const FAR_REACH = 3;

function measure(trace: Parameters<typeof measurePhoto>[0]): MeasuredOutline | string {
  try {
    return measurePhoto(trace);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return errorInWords(error, language);
  }
}

function startingCorners({ width, height }: Photo): Corners {
  const [left, right, top, bottom] = [width * 0.3, width * 0.7, height * 0.3, height * 0.7];
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
}

/** Where a corner starts that is added without pointing: halfway between the last and the first. */
function nextPoint(outline: readonly Point[], { width, height }: Photo): Point {
  const first = outline[0];
  const last = outline.at(-1);
  if (!first || !last || outline.length < 2) return [width * (0.4 + 0.1 * outline.length), height / 2];
  return [(first[0] + last[0]) / 2, (first[1] + last[1]) / 2];
}

interface PhotoViewProps {
  readonly photo: Photo;
  readonly corners: Corners;
  readonly outline: readonly Point[];
  /** Points that are clicked or dropped come onto the corner or edge that is seen there. */
  readonly isCatching: boolean;
  readonly onCorners: (corners: Corners) => void;
  readonly onOutline: (outline: readonly Point[]) => void;
}

interface Taken {
  readonly of: 'sheet' | 'outline';
  readonly index: number;
}

/** A press that moves farther than this, in pixels of the screen, looks around instead of adding a corner. */
const CLICK_SLACK_PX = 5;
/** A point catches on what is seen so near, in pixels of the screen: about the tip of a finger. */
const CATCH_PX = 8;
/** And in pixels of the photo, however small it is shown. */
const MOST_CATCH = 24;

function PhotoView({ photo, corners, outline, isCatching, onCorners, onOutline }: PhotoViewProps) {
  const host = useRef<SVGSVGElement>(null);
  const panZoom = useRef<PanZoom | null>(null);
  const pressed = useRef<{ x: number; y: number } | null>(null);
  const [zoom, setZoom] = useState(1);
  // Pressed without dragging it: the next press on the photo says where it goes.
  const [taken, setTaken] = useState<Taken | null>(null);
  const [handlePx, setHandlePx] = useState(Math.max(photo.width, photo.height) / HANDLES_ACROSS);
  useEffect(() => {
    if (!host.current) return;
    const whole = { x: 0, y: 0, width: photo.width, height: photo.height };
    panZoom.current = new PanZoom(host.current, whole, (view, times) => {
      setHandlePx(Math.max(view.width, view.height) / HANDLES_ACROSS);
      setZoom(times);
    });
    return () => panZoom.current?.destroy();
  }, [photo]);
  const toPhoto = (event: { clientX: number; clientY: number }): Point | null => {
    const matrix = host.current?.getScreenCTM()?.inverse();
    if (!matrix) return null;
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
    return [x, y];
  };
  const caught = (at: Point): Point => {
    const perPx = 1 / (host.current?.getScreenCTM()?.a ?? 1);
    const reach = Math.min(MOST_CATCH, Math.max(4, CATCH_PX * perPx));
    return isCatching ? catchEdge(photo.greys, at, reach) : at;
  };
  const setCorner = (index: number, at: Point): void =>
    onCorners(corners.map((corner, i) => (i === index ? at : corner)) as unknown as Corners);
  const setPoint = (index: number, at: Point): void =>
    onOutline(outline.map((point, i) => (i === index ? at : point)));
  const path = (points: readonly Point[]): string => points.map((point) => point.join(',')).join(' ');
  return (
    <div class="picker-frame">
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset can't stand for a drawing */}
      <svg
        ref={host}
        class="picker-host photo"
        role="group"
        aria-label={t.drawing.photoPicture}
        onPointerDown={(event) => {
          pressed.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerUp={(event) => {
          const from = pressed.current;
          pressed.current = null;
          if (!from || event.button !== 0) return;
          if (Math.hypot(event.clientX - from.x, event.clientY - from.y) > CLICK_SLACK_PX) return;
          const pointed = toPhoto(event);
          if (!pointed) return;
          const at = caught(pointed);
          if (taken === null) onOutline([...outline, at]);
          else (taken.of === 'sheet' ? setCorner : setPoint)(taken.index, at);
          setTaken(null);
        }}
      >
        <image href={photo.url} width={photo.width} height={photo.height} />
        <polygon class="photo-known" points={path(corners)} vector-effect="non-scaling-stroke" />
        <polygon class="photo-outline" points={path(outline)} vector-effect="non-scaling-stroke" />
        {corners.map((at, i) => (
          <Handle
            key={`corner ${i + 1}`}
            class="photo-corner"
            at={at}
            radius={handlePx}
            label={t.drawing.photoCorner(i + 1)}
            sign={String(i + 1)}
            toPhoto={toPhoto}
            isTaken={taken?.of === 'sheet' && taken.index === i}
            onTake={(isTaken) => setTaken(isTaken ? { of: 'sheet', index: i } : null)}
            onMove={(to) => setCorner(i, to)}
            onDrop={() => setCorner(i, caught(at))}
          />
        ))}
        {outline.map((at, i) => (
          <Handle
            key={`point ${i + 1}`}
            class="photo-point"
            at={at}
            radius={handlePx * 0.7}
            label={t.drawing.photoPoint(i + 1)}
            toPhoto={toPhoto}
            isTaken={taken?.of === 'outline' && taken.index === i}
            onTake={(isTaken) => setTaken(isTaken ? { of: 'outline', index: i } : null)}
            onMove={(to) => setPoint(i, to)}
            onDrop={() => setPoint(i, caught(at))}
          />
        ))}
      </svg>
      <ZoomButtons view={panZoom} zoom={zoom} />
    </div>
  );
}

/** So many handles would stand side by side across the view. */
const HANDLES_ACROSS = 60;

interface HandleProps {
  readonly class: string;
  readonly at: Point;
  readonly radius: number;
  readonly label: string;
  /** Shown beside it. */
  readonly sign?: string;
  readonly toPhoto: (event: { clientX: number; clientY: number }) => Point | null;
  /** Whether the next press on the photo puts it there. */
  readonly isTaken: boolean;
  readonly onTake: (isTaken: boolean) => void;
  readonly onMove: (to: Point) => void;
  /** Let go of after it was dragged. */
  readonly onDrop: () => void;
}

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/**
 * A point that is dragged, or pressed and then put where the photo is pressed next, or moved by arrow keys: a step its own
 * size, with Shift a pixel.
 */
function Handle({
  class: look,
  at,
  radius,
  label,
  sign,
  toPhoto,
  isTaken,
  onTake,
  onMove,
  onDrop,
}: HandleProps) {
  const isHeld = useRef(false);
  const hasMoved = useRef(false);
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button can't stand in a drawing
    <g
      class={look}
      role="button"
      tabindex={0}
      aria-label={label}
      aria-pressed={isTaken}
      onPointerDown={(event) => {
        event.stopPropagation();
        isHeld.current = true;
        hasMoved.current = false;
        event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={(event) => {
        if (!isHeld.current) return;
        event.stopPropagation();
        const to = toPhoto(event);
        // A hand that trembles while it presses does not drag.
        const off = to ? Math.hypot(to[0] - at[0], to[1] - at[1]) : 0;
        if (!to || (!hasMoved.current && off < radius)) return;
        hasMoved.current = true;
        onMove(to);
      }}
      onPointerUp={(event) => {
        event.stopPropagation();
        isHeld.current = false;
        if (hasMoved.current) onDrop();
        onTake(!hasMoved.current && !isTaken);
      }}
      onPointerCancel={() => {
        isHeld.current = false;
      }}
      onKeyDown={(event) => {
        if (event.key === 'Enter' || event.key === ' ') {
          event.preventDefault();
          onTake(!isTaken);
        }
        const step = ARROWS[event.key];
        if (!step) return;
        event.preventDefault();
        event.stopPropagation();
        const by = event.shiftKey ? 1 : radius;
        onMove([at[0] + step[0] * by, at[1] + step[1] * by]);
      }}
    >
      <circle cx={at[0]} cy={at[1]} r={radius * 1.6} class="photo-reach" />
      <circle cx={at[0]} cy={at[1]} r={radius} vector-effect="non-scaling-stroke" />
      <circle cx={at[0]} cy={at[1]} r={radius / 12} class="photo-dot" />
      {sign !== undefined && (
        <text x={at[0] + radius * 1.2} y={at[1] - radius * 0.8} font-size={radius * 2}>
          {sign}
        </text>
      )}
    </g>
  );
}
