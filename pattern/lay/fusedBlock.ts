import { boundingBox } from '../../nesting/geometry/rings.ts';
import { edgeLossMm, washed } from '../cloths/measures.ts';
import { setsTimes, sizesOf } from '../cutList/sets.ts';
import type { ClothLay, CutRow, Project } from '../exchange/project.ts';
import { clothFrame } from '../plan/clothFrame.ts';

/**
 * Fusing first and cutting after: instead of every piece of interfacing, one block of it is cut, fused to the part of the
 * cloth on which those pieces lie, and cut together with them. It saves tracing and takes more interfacing
 * (https://marshalawrence.com/2016/02/hey-mercedes-sewalong-day-1).
 */
export interface FusedBlock {
  readonly clothId: string;
  /** Along the cloth and across it, in whole millimetres. */
  readonly alongMm: number;
  readonly acrossMm: number;
  /** Of so many sets each gets its part of the length. */
  readonly sets: number;
  /** Where it begins on the cloth: from the cut end, and from the lower selvedge or edge. */
  readonly fromEndMm: number;
  readonly fromSelvedgeMm: number;
  /** Pieces that are cut through both, once each. */
  readonly copies: number;
}

/**
 * Why no block can be fused: a piece would lie on cloth in two layers, none lies anywhere yet, or there are sets of
 * several sizes, whose blocks would be scaled with them.
 */
export type NoBlock = 'doubled' | 'notLaid' | 'sizes';

/**
 * The blocks that cover all copies of some pieces on finished lays, one for each stretch of cloth they lie on.
 *
 * @param lays of the material they are fused to, one for each cloth that is used
 */
export function fusedBlocks(
  project: Project,
  lays: readonly ClothLay[],
  pieceIds: ReadonlySet<string>,
): readonly FusedBlock[] | NoBlock {
  const sizes = sizesOf(project);
  if (
    sizes.length > 1 ||
    sizes.some(({ alongPercent, acrossPercent }) => alongPercent !== 100 || acrossPercent !== 100)
  )
    return 'sizes';
  const sets = setsTimes(project);
  const blocks: FusedBlock[] = [];
  for (const lay of lays) {
    const cloth = project.cloths.find(({ id }) => id === lay.clothId);
    for (const stretch of clothFrame(lay, cloth).stretches) {
      const { segment, originMm, lowMm } = stretch;
      const there = segment.placed.filter(({ pieceId }) => pieceIds.has(pieceId));
      if (there.length === 0) continue;
      const isDoubled = there.some(({ hand }) => hand === 'pair' || hand === 'fold');
      if (isDoubled || segment.spread !== 'single') return 'doubled';
      const box = boundingBox(there.flatMap(({ outline }) => outline));
      blocks.push({
        clothId: lay.clothId,
        alongMm: Math.ceil(box.maxX - box.minX - SLACK_MM),
        acrossMm: Math.ceil(box.maxY - box.minY - SLACK_MM),
        sets,
        fromEndMm: originMm[0] + box.minX,
        fromSelvedgeMm: originMm[1] - lowMm + box.minY,
        copies: there.length,
      });
    }
  }
  return blocks.length === 0 ? 'notLaid' : blocks;
}

/** Sums of decimal measures round, mm. */
const SLACK_MM = 1e-6;

/**
 * Into how many strips butted edge to edge a block is divided where the interfacing is narrower than it: than its shorter
 * side, if it may lie across as well.
 */
export function stripsOfBlock(
  project: Project,
  materialId: string,
  { acrossMm, alongMm, sets }: FusedBlock,
): number {
  const needed = project.cloths.flatMap((cloth) => {
    if (cloth.materialId !== materialId || cloth.kind !== 'roll') return [];
    const width = (cloth.widthMm - 2 * edgeLossMm(cloth)) * washed(cloth).across - 2 * cloth.edgeMarginMm;
    const turns = cloth.nap === 'none' && cloth.printUp === 'none' && cloth.turn !== 'grain';
    const side = turns ? Math.min(acrossMm, alongMm / sets) : acrossMm;
    return width > 0 ? [Math.ceil(side / width - SLACK_MM)] : [];
  });
  return needed.length === 0 ? 1 : Math.max(1, Math.min(...needed));
}

/** Rows of a material that could be fused as a block to another: the same pieces are cut from that one too. */
export function rowsToFuse(project: Project, materialId: string, underId: string): readonly CutRow[] {
  const under = new Set(
    project.cutList
      .filter((row) => row.materialId === underId && row.plain + row.mirrored + row.onFold > 0)
      .map(({ pieceId }) => pieceId),
  );
  return project.cutList.filter(
    (row) =>
      row.materialId === materialId &&
      row.block === undefined &&
      row.plain + row.mirrored + row.onFold > 0 &&
      under.has(row.pieceId),
  );
}
