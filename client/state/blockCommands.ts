import type { CutRow, Material, Project } from '../../pattern/exchange/project.ts';
import { type FusedBlock, rowsToFuse, stripsOfBlock } from '../../pattern/lay/fusedBlock.ts';
import { pieceFromRectangle } from '../../pattern/measurements/index.ts';
import type { Command } from './command.ts';
import { freshId } from './ids.ts';

/** Rows of a material that are blocks fused to another. */
export const blockRows = ({ cutList }: Project, materialId: string, underId: string): readonly CutRow[] =>
  cutList.filter((row) => row.materialId === materialId && row.block?.underId === underId);

/** What each set gets of the block's length, butted to the next, in whole millimetres. */
export const lengthOfPart = ({ alongMm, sets }: FusedBlock): number => Math.ceil(alongMm / sets - 1e-9);

/**
 * Blocks of interfacing in place of its pieces: each a piece of its own, in strips butted edge to edge where the
 * interfacing is narrower. The rows they stand for are emptied, and remembered.
 *
 * @param nameOf what the blocks are called, counted from 1; `of` in all
 * @param noteOf where each is fused
 */
export function fuseBlocks(
  material: Material,
  under: Material,
  blocks: readonly FusedBlock[],
  nameOf: (number: number, of: number) => string,
  noteOf: (block: FusedBlock) => string,
): Command {
  const ids = blocks.map(() => freshId('piece'));
  return {
    name: 'fuseBlock',
    subject: material.name,
    run: (current) => {
      const project = withoutBlocks(current, material.id, under.id);
      const rows = rowsToFuse(project, material.id, under.id);
      const instead = rows.map(({ pieceId, plain, mirrored, onFold }) => ({
        pieceId,
        plain,
        mirrored,
        onFold,
      }));
      const pieces = blocks.map((block, i) => ({
        ...pieceFromRectangle({
          id: ids[i]!,
          name: nameOf(i + 1, blocks.length),
          alongMm: lengthOfPart(block),
          acrossMm: block.acrossMm,
        }),
        notes: noteOf(block),
      }));
      const blockRow = (block: FusedBlock, i: number): CutRow => {
        const strips = stripsOfBlock(project, material.id, block);
        return {
          pieceId: ids[i]!,
          materialId: material.id,
          plain: 1,
          mirrored: 0,
          onFold: 0,
          // What stood there before is remembered once.
          block: { underId: under.id, instead: i === 0 ? instead : [] },
          ...(strips > 1
            ? {
                joins: {
                  most: Math.min(20, strips - 1),
                  allowanceMm: 0,
                  slant: 'straight',
                  wholeMiddleMm: 0,
                  ...(block.acrossMm < block.alongMm ? { divides: 'width' as const } : {}),
                },
              }
            : {}),
        };
      };
      const cutList = project.cutList.flatMap((row): CutRow[] => {
        if (!rows.includes(row)) return [row];
        // A row that follows stays, emptied against what asks for it; else it would come back at once.
        return row.follows
          ? [{ ...row, plain: 0, mirrored: 0, onFold: 0, follows: { ...row.follows, own: true } }]
          : [];
      });
      return {
        ...project,
        pieces: [...project.pieces, ...pieces],
        cutList: [...cutList, ...blocks.map(blockRow)],
      };
    },
  };
}

/** The pieces are cut one by one again. */
export function unfuseBlocks(material: Material, under: Material): Command {
  return {
    name: 'unfuseBlock',
    subject: material.name,
    run: (project) => withoutBlocks(project, material.id, under.id),
  };
}

function withoutBlocks(project: Project, materialId: string, underId: string): Project {
  const blocks = blockRows(project, materialId, underId);
  if (blocks.length === 0) return project;
  const gone = new Set(blocks.map(({ pieceId }) => pieceId));
  const instead = new Map(
    blocks.flatMap(({ block }) => block?.instead ?? []).map((row) => [row.pieceId, row] as const),
  );
  const there = new Set<string>();
  const kept = project.cutList.flatMap((row): CutRow[] => {
    if (row.materialId === materialId && gone.has(row.pieceId)) return [];
    const before = row.materialId === materialId ? instead.get(row.pieceId) : undefined;
    if (!before) return [row];
    there.add(row.pieceId);
    return [
      row.follows ? { ...row, ...before, follows: { ...row.follows, own: false } } : { ...row, ...before },
    ];
  });
  const known = new Set(project.pieces.map(({ id }) => id));
  const back = [...instead.values()].filter(({ pieceId }) => !there.has(pieceId) && known.has(pieceId));
  return {
    ...project,
    pieces: project.pieces.filter(({ id }) => !gone.has(id)),
    cutList: [...kept, ...back.map((row) => ({ ...row, materialId }))],
  };
}
