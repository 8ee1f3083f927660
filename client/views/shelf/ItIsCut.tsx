import { useState } from 'preact/hooks';
import type { Cloth, ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { t } from '../../strings/index.ts';
import { Icon } from '../shared/Icon.tsx';
import { lazyView } from '../shared/lazyView.tsx';

const CutDialog = lazyView(async () => (await import('./CutDialog.tsx')).CutDialog);

interface ItIsCutProps {
  readonly project: Project;
  readonly cloth: Cloth;
  readonly lay: ClothLay;
}

/** Once it is cut: what is left goes on the shelf. */
export function ItIsCut({ project, cloth, lay }: ItIsCutProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <div>
      <button type="button" onClick={() => setOpen(true)}>
        <Icon name="shelf" />
        {t.shelf.cut}
      </button>
      {isOpen && <CutDialog project={project} cloth={cloth} lay={lay} onClose={() => setOpen(false)} />}
    </div>
  );
}
