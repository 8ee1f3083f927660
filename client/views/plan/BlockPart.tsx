import type { Material, Project } from '../../../pattern/exchange/project.ts';
import { type FusedBlock, fusedBlocks, rowsToFuse, stripsOfBlock } from '../../../pattern/lay/fusedBlock.ts';
import { laysToCut } from '../../../pattern/output/bestLays.ts';
import { blockRows, fuseBlocks, lengthOfPart, unfuseBlocks } from '../../state/blockCommands.ts';
import { laysOf } from '../../state/planView.ts';
import { t } from '../../strings/index.ts';
import { formatLength, formatSize } from '../../strings/lengths.ts';
import { useSession, useStore } from '../shared/hooks.ts';

interface BlockPartProps {
  readonly project: Project;
  readonly material: Material;
}

/** Interfacing may be fused as a block before its pieces are cut: offered for each material it backs. */
export function BlockPart({ project, material }: BlockPartProps) {
  if (material.role !== 'interfacing') return null;
  const backed = project.materials.filter(
    (under) =>
      under.id !== material.id &&
      under.role !== 'interfacing' &&
      under.role !== 'foam' &&
      (rowsToFuse(project, material.id, under.id).length > 0 ||
        blockRows(project, material.id, under.id).length > 0),
  );
  return backed.length === 0 ? null : (
    <details class="help fused-block">
      <summary>{t.block.title}</summary>
      <p class="field-help">{t.block.lead}</p>
      {backed.map((under) => (
        <BlockOn key={under.id} project={project} material={material} under={under} />
      ))}
    </details>
  );
}

function BlockOn({ project, material, under }: BlockPartProps & { readonly under: Material }) {
  const session = useSession();
  const run = useStore(session.lay.state);
  const { results, standing } = laysOf(project, under.id, run);
  const now = blockRows(project, material.id, under.id);
  const isFused = now.length > 0;
  const pieceIds = new Set([
    ...rowsToFuse(project, material.id, under.id).map(({ pieceId }) => pieceId),
    ...now.flatMap(({ block }) => block?.instead.map(({ pieceId }) => pieceId) ?? []),
  ]);
  const blocks =
    standing === 'fresh' ? fusedBlocks(project, laysToCut(project, results), pieceIds) : 'notLaid';
  const { units } = project;
  const size = ({ acrossMm, alongMm }: FusedBlock): string => formatSize(acrossMm, alongMm, units);
  const where = (block: FusedBlock): string =>
    t.block.where(
      project.cloths.find(({ id }) => id === block.clothId)?.name ?? under.name,
      formatLength(block.fromEndMm, units),
      formatLength(block.fromSelvedgeMm, units),
    );
  const fuse = (): void => {
    if (typeof blocks === 'string') return;
    const nameOf = (number: number, of: number): string => t.block.name(under.name, number, of);
    session.do(fuseBlocks(material, under, blocks, nameOf, where));
    session.announce(t.block.fused(material.name));
  };
  const isSameSize =
    typeof blocks !== 'string' &&
    blocks.length === now.length &&
    blocks.every((block, i) => {
      const source = project.pieces.find(({ id }) => id === now[i]?.pieceId)?.source;
      return (
        source?.kind === 'measured' &&
        source.alongMm === lengthOfPart(block) &&
        source.acrossMm === block.acrossMm
      );
    });
  return (
    <section aria-label={t.block.on(under.name)}>
      <h4>{t.block.on(under.name)}</h4>
      {typeof blocks === 'string' ? (
        <p>{t.block.no[blocks](under.name)}</p>
      ) : (
        <ul class="plain-list">
          {blocks.map((block) => (
            <li key={`${block.clothId} ${block.fromEndMm}`}>
              <strong>{t.block.takes(size(block))}</strong>{' '}
              {stripsOfBlock(project, material.id, block) > 1 &&
                t.block.inStrips(stripsOfBlock(project, material.id, block))}{' '}
              {block.sets > 1 && t.block.inParts(block.sets)} {where(block)} {t.block.saves(block.copies)}
            </li>
          ))}
        </ul>
      )}
      {isFused && typeof blocks !== 'string' && !isSameSize && <p class="field-fault">{t.block.stale}</p>}
      <div class="buttons">
        {typeof blocks !== 'string' && !(isFused && isSameSize) && (
          <button type="button" onClick={fuse}>
            {isFused ? t.block.again : t.block.doIt}
          </button>
        )}
        {isFused && (
          <button
            type="button"
            onClick={() => {
              session.do(unfuseBlocks(material, under));
              session.announce(t.block.unfused(material.name));
            }}
          >
            {t.block.undo}
          </button>
        )}
      </div>
    </section>
  );
}
