import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import type { ClothLay, Project } from '../../pattern/exchange/project.ts';
import {
  placementKey,
  placementMarks,
  progressOf,
  tickParts,
  tickSheets,
} from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { GUSSET, rect } from '../support/handmadeLays.ts';
import { layOf, smallProject } from '../support/layOf.ts';

const asked = (project: Project) =>
  project.cutList.reduce((sum, row) => sum + row.plain + row.mirrored + row.onFold, 0);
const words = (project: Project, by: 'material' | 'part') =>
  tickSheets(project, { page: 'a4', units: 'cm', by })
    .flatMap(({ drawing }) => flatItems(drawing))
    .flatMap((item) => (item.kind === 'text' ? [item.text] : []));

describe('what is ticked', () => {
  it('is every copy the cut list asks for, each by a mark of its own', () => {
    const project = demoProject();
    const marks = tickParts(project).flatMap(({ items }) => items.map(({ mark }) => mark));
    expect(marks).toHaveLength(asked(project));
    expect(new Set(marks).size).toBe(marks.length);
    expect(progressOf(tickParts(project), new Set([marks[0]!, marks[3]!, 'of another day']))).toEqual({
      done: 2,
      total: marks.length,
    });
  });

  it('has what is held back at the end, on paper too', () => {
    const demo = demoProject();
    const project = {
      ...demo,
      cutList: demo.cutList.map((row) => (row.pieceId === 'gusset' ? { ...row, heldBack: true } : row)),
    };
    expect(tickParts(project).at(-1)?.pieceId).toBe('gusset');
    for (const by of ['material', 'part'] as const) {
      const said = words(project, by);
      expect(said.indexOf('Side gusset')).toBeGreaterThan(said.indexOf('Cushion gusset'));
    }
  });

  it('states the size of a piece cut on the fold as it will be opened out', () => {
    const project = demoProject();
    const half = tickParts(project).find(({ pieceId }) => pieceId === 'lining-body');
    const drawn = project.pieces.find(({ id }) => id === 'lining-body')!;
    const width = (ring: readonly (readonly [number, number])[]) =>
      Math.max(...ring.map(([x]) => x)) - Math.min(...ring.map(([x]) => x));
    expect(half?.isOpened).toBe(true);
    expect(half?.size?.widthMm).toBeCloseTo(2 * width(drawn.outline), 6);
  });
});

describe('which pieces a placement gives', () => {
  const pieces = [
    { name: 'Gusset', outline: GUSSET, plain: 3, mirrored: 2 },
    { name: 'Panel', outline: rect(300, 200), plain: 2 },
  ];
  const cloth = { kind: 'roll', widthMm: 1400, foldable: true };

  const everyMarkOnce = (lays: readonly ClothLay[], project: Project) => {
    const given = placementMarks(lays, project).flatMap((marks) => [...marks.values()].flat());
    const expected = tickParts(project).flatMap(({ items }) => items.map(({ mark }) => mark));
    expect([...given].sort()).toEqual([...expected].sort());
  };

  it.each(['single', 'folded'] as const)('is each piece once, cloth %s', async (spread) => {
    const project = smallProject({ pieces, cloth });
    const { results } = await layOf(project, { spread });
    everyMarkOnce(results, project);
    // A pair gives one of each hand while both are asked for.
    const marks = placementMarks(results, project)[0]!;
    for (const placed of results[0]!.segments.flatMap((segment) => segment.placed)) {
      const own = marks.get(placementKey(placed))!;
      if (placed.hand === 'pair' && placed.pieceId === 'Gusset') {
        expect(own.map((mark) => mark.split(' ')[3]).sort()).toEqual(['mirrored', 'plain']);
      }
    }
  });

  it('goes on from a remnant to the roll', async () => {
    const project = smallProject({ pieces, cloth });
    const { results } = await layOf(project);
    const [lay] = results;
    const [segment] = lay!.segments;
    const half = Math.ceil(segment!.placed.length / 2);
    // The same pieces on two cloths, numbered anew on each, as the engine numbers them.
    const renumbered = (list: ClothLay['segments'][number]['placed']): ClothLay => {
      const counts = new Map<string, number>();
      const placed = list.map((entry) => {
        const key = `${entry.pieceId} ${entry.hand}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
        return { ...entry, copy: counts.get(key)! };
      });
      return { ...lay!, segments: [{ ...segment!, placed }] };
    };
    everyMarkOnce(
      [renumbered(segment!.placed.slice(0, half)), renumbered(segment!.placed.slice(half))],
      project,
    );
  });
});
