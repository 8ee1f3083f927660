/** Interfacing fused as a block: as large as its pieces lie, and given up again without a trace. */
import { beforeAll, describe, expect, it } from 'vitest';
import { fuseBlocks, unfuseBlocks } from '../../client/state/blockCommands.ts';
import { followLayers } from '../../pattern/cutList/layers.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type ClothLay, type Project, projectSchema, type Spread } from '../../pattern/exchange/project.ts';
import { type FusedBlock, fusedBlocks, rowsToFuse, stripsOfBlock } from '../../pattern/lay/fusedBlock.ts';
import { layProject } from '../../pattern/lay/layProject.ts';
import { box, solveChecked } from '../support/layOf.ts';

const project: Project = followLayers(
  projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: 'test',
    pieces: [
      { id: 'panel', name: 'Panel', outline: box(300, 400) },
      { id: 'strap', name: 'Strap', outline: box(60, 500) },
    ],
    materials: [
      { id: 'outer', name: 'outer', companions: ['fuse'] },
      { id: 'fuse', name: 'fuse', role: 'interfacing' },
    ],
    cutList: [
      { pieceId: 'panel', materialId: 'outer', plain: 2 },
      { pieceId: 'strap', materialId: 'outer', plain: 1 },
      // A strap gets none.
      { pieceId: 'strap', materialId: 'fuse', follows: { from: ['outer'], own: true } },
    ],
    cloths: [
      {
        id: 'c',
        name: 'c',
        materialId: 'outer',
        kind: 'roll',
        widthMm: 1000,
        selvedgeMm: 20,
        squaringMm: 30,
      },
      { id: 'f', name: 'f', materialId: 'fuse', kind: 'roll', widthMm: 450, selvedgeMm: 0 },
    ],
  }),
);
const lays = async (of: Project, materialId: string, spread: Spread = 'single') => {
  const request = layRequestSchema.parse({
    project: of,
    choices: [{ materialId, spread }],
    seconds: 20,
    maxSteps: 30,
  });
  return (await layProject(request, solveChecked, () => {}, new AbortController().signal)).results;
};
const [outer, fuse] = project.materials as [Project['materials'][number], Project['materials'][number]];

describe('interfacing fused as a block', () => {
  let laid: readonly ClothLay[];
  let blocks: readonly FusedBlock[];
  beforeAll(async () => {
    laid = await lays(project, 'outer');
    const ids = new Set(rowsToFuse(project, 'fuse', 'outer').map(({ pieceId }) => pieceId));
    expect([...ids]).toEqual(['panel']);
    blocks = fusedBlocks(project, laid, ids) as readonly FusedBlock[];
  });

  it('covers every copy that lies on the cloth, and says where it begins there', () => {
    expect(blocks).toMatchObject([{ clothId: 'c', copies: 2 }]);
    const placed = laid[0]!.segments[0]!.placed.filter(({ pieceId }) => pieceId === 'panel');
    const xs = placed.flatMap(({ outline }) => outline.map(([x]) => x));
    const ys = placed.flatMap(({ outline }) => outline.map(([, y]) => y));
    expect(blocks[0]!.alongMm).toBe(Math.ceil(Math.max(...xs) - Math.min(...xs) - 1e-6));
    expect(blocks[0]!.fromEndMm).toBeCloseTo(30 + Math.min(...xs), 6);
    expect(blocks[0]!.fromSelvedgeMm).toBeCloseTo(20 + Math.min(...ys), 6);
  });

  it('is cut in place of its pieces, in strips where the interfacing is narrower, and given up again', async () => {
    const command = fuseBlocks(
      fuse,
      outer,
      blocks,
      (n) => `Block ${n}`,
      () => 'where',
    );
    const fused = followLayers(command.run(project));
    const rows = fused.cutList.filter(({ materialId, plain }) => materialId === 'fuse' && plain > 0);
    expect(rows).toHaveLength(1);
    const [only] = blocks as [FusedBlock];
    expect(stripsOfBlock(project, 'fuse', only)).toBe(Math.ceil(only.acrossMm / 450));
    const results = await lays(fused, 'fuse');
    expect(results[0]?.verdict).toBe('fits');
    expect(results[0]!.pieceAreaMm2).toBeCloseTo(only.alongMm * only.acrossMm, 3);
    expect(projectSchema.parse(fused)).toEqual(fused);

    const back = followLayers(unfuseBlocks(fuse, outer).run(fused));
    expect(back.pieces).toEqual(project.pieces);
    expect(back.cutList.filter(({ materialId }) => materialId === 'fuse')).toEqual(
      project.cutList.filter(({ materialId }) => materialId === 'fuse'),
    );
    // Made once more it stands alone: the block before goes.
    const again = followLayers(command.run(fused));
    expect(again.cutList.filter(({ block }) => block)).toHaveLength(1);
  });

  it('is not offered for pieces in two layers, before they are laid, or for several sizes', async () => {
    const pieces = new Set(['panel']);
    expect(fusedBlocks(project, [], pieces)).toBe('notLaid');
    const doubled = await lays(project, 'outer', 'folded');
    expect(fusedBlocks(project, doubled, pieces)).toBe('doubled');
    const sizes: Project = {
      ...project,
      sets: [{ id: 's', name: 's', times: 1, alongPercent: 110, acrossPercent: 100 }],
    };
    expect(fusedBlocks(sizes, laid, pieces)).toBe('sizes');
  });
});
