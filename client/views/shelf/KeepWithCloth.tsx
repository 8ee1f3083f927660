import { useEffect } from 'preact/hooks';
import type { Cloth, ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { ON_SHELF } from '../../../pattern/exchange/shelf.ts';
import { shelfPlan } from '../../../pattern/shelf/shelfPlan.ts';
import { changeCloth } from '../../state/clothCommands.ts';
import { freshId } from '../../state/ids.ts';
import { t } from '../../strings/index.ts';
import { useSession, useStore } from '../shared/hooks.ts';
import { Icon } from '../shared/Icon.tsx';
import { shelfHere } from './shelfHere.ts';

interface KeepWithClothProps {
  readonly project: Project;
  readonly cloth: Cloth;
  readonly lay: ClothLay;
}

/**
 * Keeps a plan with the cloth on the shelf. A remnant that is not there yet is put there first; what is bought anew is
 * no matter of the shelf.
 */
export function KeepWithCloth({ project, cloth, lay }: KeepWithClothProps) {
  const session = useSession();
  const entries = useStore(shelfHere.entries);
  const isKnown = entries !== null;
  useEffect(() => {
    if (!isKnown) void shelfHere.read();
  }, [isKnown]);
  if (cloth.kind === 'roll' && cloth.shelfId === undefined) return null;
  const material = project.materials.find(({ id }) => id === lay.materialId)?.name ?? '';
  const keep = async (): Promise<void> => {
    const { projectId } = session;
    const name = `${material}, ${t.plan.spreadNames[lay.spread]}`;
    const plan = shelfPlan(project, lay, { projectId, name, now: new Date().toISOString() });
    const there = entries?.find(({ id }) => id === cloth.shelfId);
    const said = t.shelf.plan.kept(cloth.name);
    if (there) {
      const done = await shelfHere.do({ kind: 'plan', ids: [there.id], plan }, said);
      if (done) session.announce(said);
      return;
    }
    const id = freshId('shelf');
    const item = { id, cloth: { ...cloth, id, materialId: ON_SHELF }, plan };
    if (!(await shelfHere.do({ kind: 'put', items: [item] }, said))) return;
    await shelfHere.do({ kind: 'reserve', ids: [id], projectId, projectName: project.name }, said);
    session.do(changeCloth(cloth, { shelfId: id }));
    session.announce(said);
  };
  return (
    <div>
      <button type="button" title={t.shelf.plan.keepHelp} onClick={() => void keep()}>
        <Icon name="keep" />
        {t.shelf.plan.keep}
      </button>
    </div>
  );
}
