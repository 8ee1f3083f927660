import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { drawLay } from '../../../pattern/plan/drawLay.ts';
import { LayView } from '../../render/layView.ts';
import { language, t } from '../../strings/index.ts';
import { ZoomButtons } from '../shared/ZoomButtons.tsx';

interface LayPictureProps {
  readonly project: Project;
  readonly lay: ClothLay;
  readonly label: string;
}

/** The layout drawn to scale, to be looked around in; what it shows is also there as a list. */
export function LayPicture({ project, lay, label }: LayPictureProps) {
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<LayView | null>(null);
  const [zoom, setZoom] = useState(1);
  const drawing = useMemo(
    () => drawLay(lay, project, { page: 'fit', bare: true, units: project.units, language }),
    [lay, project.units],
  );
  useLayoutEffect(() => {
    if (!host.current) return;
    view.current = new LayView(host.current, setZoom);
    return () => view.current?.destroy();
  }, []);
  useLayoutEffect(() => view.current?.show(drawing, label, t.plan.viewer), [drawing, label]);
  return (
    <figure class="lay-picture">
      <div ref={host} class="lay-host" />
      <ZoomButtons view={view} zoom={zoom} />
      <figcaption>
        <details class="help">
          <summary>{t.plan.pieceList}</summary>
          <p>{drawing.description}</p>
          <PlacedList project={project} lay={lay} />
        </details>
      </figcaption>
    </figure>
  );
}

function PlacedList({ project, lay }: Pick<LayPictureProps, 'project' | 'lay'>) {
  const counts = new Map<string, number>();
  for (const segment of lay.segments) {
    for (const { pieceId, hand } of segment.placed) {
      const key = `${pieceId} ${hand}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  const nameOf = (id: string): string => project.pieces.find((piece) => piece.id === id)?.name ?? id;
  return (
    <ul class="plain-list">
      {[...counts].map(([key, count]) => {
        const [pieceId = '', hand = ''] = key.split(' ');
        return (
          <li key={key}>
            {nameOf(pieceId)}: {count} × {t.plan.hands[hand as keyof typeof t.plan.hands] ?? hand}
          </li>
        );
      })}
    </ul>
  );
}
