import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { drawLay } from '../../../pattern/plan/drawLay.ts';
import { drawingToSvg } from '../../../pattern/plan/svg.ts';
import type { LayFileQuery } from '../../api/files.ts';
import { language, t } from '../../strings/index.ts';
import { saveFile } from '../shared/files.ts';
import { Help } from '../shared/Help.tsx';
import { Icon } from '../shared/Icon.tsx';
import { DesignerTablePart } from '../take/DesignerTable.tsx';
import { FileButton, FilesFault, PaperSelect, useFiles } from '../take/FileButton.tsx';
import { FullSizePart } from '../take/FullSizePart.tsx';
import { LabelsPart } from '../take/LabelsPart.tsx';
import { PrintPreview } from '../take/PrintPreview.tsx';
import { ShoppingPart } from '../take/ShoppingPart.tsx';

/** The plan itself and the lists and labels that go with it, for every cloth at once. */
export function TakeToTable({ isStale }: { readonly isStale: boolean }) {
  const files = useFiles();
  return (
    <section class="take panel" aria-label={t.take.title}>
      <h3>{t.take.title}</h3>
      <p class="field-help">{isStale ? t.take.stale : t.take.lead}</p>
      <div class="row">
        <FileButton files={files} file="plan.pdf" query={{}} label={t.take.plan} disabled={isStale} primary />
        <FileButton
          files={files}
          file="positions.csv"
          query={{}}
          label={t.take.positions}
          disabled={isStale}
        />
        <PaperSelect />
      </div>
      <FilesFault files={files} />
      <ShoppingPart isStale={isStale} />
      <Help title={t.take.fullTitle}>
        <FullSizePart files={files} isStale={isStale} />
      </Help>
      <Help title={t.take.projectTitle}>
        <div class="row">
          <FileButton files={files} file="cutlist.csv" query={{}} label={t.take.cutList} />
        </div>
        <LabelsPart files={files} />
      </Help>
      <DesignerTablePart />
    </section>
  );
}

interface LayFilesProps {
  readonly project: Project;
  readonly lay: ClothLay;
  /** Of a kept plan; the latest layouts if left out. */
  readonly planId?: string | undefined;
  readonly clothName: string;
  /** Pieces or cloths have changed since: nothing is to be cut from it. */
  readonly isStale: boolean;
}

/** The files of one layout. */
export function LayFiles({ project, lay, planId, clothName, isStale }: LayFilesProps) {
  const files = useFiles();
  const query: LayFileQuery = {
    cloth: lay.clothId,
    material: lay.materialId,
    spread: lay.spread,
    ...(planId === undefined ? {} : { plan: planId }),
  };
  const saveSvg = (): void => {
    const drawing = drawLay(lay, project, { page: 'a4', units: project.units, language });
    saveFile(`${fileWord(clothName)}-${lay.spread}.svg`, 'image/svg+xml', drawingToSvg(drawing));
  };
  return (
    <>
      <PrintPreview project={project} lay={lay} />
      <details class="help lay-files">
        <summary>{t.take.one}</summary>
        {isStale && <p class="field-help">{t.take.stale}</p>}
        <div class="row">
          <FileButton files={files} file="plan.pdf" query={query} label={t.take.plan} disabled={isStale} />
          <FileButton files={files} file="full.pdf" query={query} label={t.take.full} disabled={isStale} />
          <button type="button" onClick={saveSvg}>
            <Icon name="down" />
            {t.plan.download}
          </button>
          <FileButton files={files} file="layout.dxf" query={query} label={t.take.dxf} disabled={isStale} />
          <FileButton
            files={files}
            file="positions.csv"
            query={query}
            label={t.take.positions}
            disabled={isStale}
          />
        </div>
        <FilesFault files={files} />
      </details>
    </>
  );
}

/** A name as part of a file name. */
function fileWord(name: string): string {
  return (
    name
      .trim()
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-|-$/g, '')
      .toLowerCase() || 'lay'
  );
}
