import { useEffect, useRef, useState } from 'preact/hooks';
import type { ReadDrawing } from '../../../pattern/reading/drawing.ts';
import type { Pick } from '../../reading/picking.ts';
import { DrawingPicker, type OutlineStanding } from '../../render/drawingPicker.ts';
import { t } from '../../strings/index.ts';
import { ZoomButtons } from '../shared/ZoomButtons.tsx';

interface DrawingPartProps {
  readonly reading: ReadDrawing;
  readonly picks: readonly Pick[];
  readonly pointed: string | null;
  readonly onPick: (id: string) => void;
}

/** The drawing itself; its outlines can be clicked, and show how they stand. */
export function DrawingPart({ reading, picks, pointed, onPick }: DrawingPartProps) {
  const host = useRef<HTMLDivElement>(null);
  const picker = useRef<DrawingPicker | null>(null);
  const pick = useRef(onPick);
  pick.current = onPick;
  const [zoom, setZoom] = useState(1);
  useEffect(() => {
    if (!host.current) return;
    picker.current = new DrawingPicker(host.current, { onPick: (id) => pick.current(id), onZoom: setZoom });
    return () => picker.current?.destroy();
  }, []);
  useEffect(() => picker.current?.show(reading, t.drawing.page), [reading]);
  useEffect(() => {
    const picked = new Set(picks.map((entry) => entry.outlineId));
    const copies = new Set(picks.flatMap((entry) => [...entry.alike, ...entry.parts]));
    const inside = new Set(
      picks.flatMap((entry) =>
        Object.entries(entry.inside).flatMap(([id, as]) => (as === 'ignore' ? [] : [id])),
      ),
    );
    const standing = (id: string): OutlineStanding =>
      picked.has(id) ? 'picked' : copies.has(id) ? 'copy' : inside.has(id) ? 'inside' : 'free';
    picker.current?.mark(standing, pointed);
  }, [reading, picks, pointed]);
  return (
    <div class="picker-frame">
      <div ref={host} class="picker-host" />
      <ZoomButtons view={picker} zoom={zoom} />
    </div>
  );
}
