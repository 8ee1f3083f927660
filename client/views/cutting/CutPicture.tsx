import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { type CuttingStretch, orderMarks } from '../../../pattern/output/index.ts';
import { drawLay } from '../../../pattern/plan/drawLay.ts';
import { LayView } from '../../render/layView.ts';
import { language, t } from '../../strings/index.ts';
import { ZoomButtons } from '../shared/ZoomButtons.tsx';

interface CutPictureProps {
  readonly project: Project;
  readonly lay: ClothLay;
  readonly stretch: CuttingStretch;
  /** Placements that are cut, by `placementKey`. */
  readonly done: ReadonlySet<string>;
  readonly label: string;
}

/** A stretch of cloth with its cuts numbered and what is cut marked, to be looked around in. */
export function CutPicture({ project, lay, stretch, done, label }: CutPictureProps) {
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<LayView | null>(null);
  const [zoom, setZoom] = useState(1);
  const doneKey = [...done].join('|');
  const drawing = useMemo(() => {
    const { segment } = stretch;
    const cut = stretch.pieces.filter((piece) => done.has(piece.key));
    return drawLay(lay, project, {
      page: 'fit',
      bare: true,
      tagsOnly: true,
      units: project.units,
      language,
      marks: [
        ...cut.map(({ outline }) => ({ kind: 'done', segment, outline }) as const),
        ...orderMarks(stretch, project.units, language),
      ],
      ...(lay.segments.length > 1 ? { segment } : {}),
    });
  }, [lay, project.units, project.cutList, project.cutting.tableMm, stretch.segment, doneKey]);
  useLayoutEffect(() => {
    if (!host.current) return;
    view.current = new LayView(host.current, setZoom);
    return () => view.current?.destroy();
  }, []);
  useLayoutEffect(() => view.current?.show(drawing, label, t.plan.viewer), [drawing, label]);
  return (
    <figure class="lay-picture cut-picture">
      <div ref={host} class="lay-host" />
      <ZoomButtons view={view} zoom={zoom} />
    </figure>
  );
}
