import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeProjects } from '../../client/state/merge.ts';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { expectValid } from './harness.ts';

const base = demoProject();
const piece = (project: Project, n: number) => project.pieces[n]!;

function withPiece(project: Project, n: number, change: object): Project {
  return {
    ...project,
    pieces: project.pieces.map((entry, i) => (i === n ? { ...entry, ...change } : entry)),
  };
}

function withoutPiece(project: Project, id: string): Project {
  return {
    ...project,
    pieces: project.pieces.filter((entry) => entry.id !== id),
    cutList: project.cutList.filter(({ pieceId }) => pieceId !== id),
  };
}

describe('what two people made of one project', () => {
  it('is joined where they touched different things', () => {
    const mine = withPiece(base, 0, { name: 'Mine' });
    const theirs = withPiece({ ...base, notes: 'theirs' }, 1, { name: 'Theirs' });
    const { project, clashes } = mergeProjects(base, mine, theirs, 'mine');
    expect(clashes).toEqual([]);
    expect(piece(project, 0).name).toBe('Mine');
    expect(piece(project, 1).name).toBe('Theirs');
    expect(project.notes).toBe('theirs');
  });

  it('is joined in one piece too where the name and the shape were changed', () => {
    const outline = piece(base, 0).outline.map(([x, y]) => [x * 2, y] as const);
    const { project, clashes } = mergeProjects(
      base,
      withPiece(base, 0, { name: 'Mine' }),
      withPiece(base, 0, { outline }),
      'mine',
    );
    expect(clashes).toEqual([]);
    expect(piece(project, 0)).toMatchObject({ name: 'Mine', outline });
  });

  it('clashes where both changed the same, or parts that hang together', () => {
    const outline = piece(base, 0).outline.map(([x, y]) => [x * 2, y] as const);
    const mine = withPiece(base, 0, { name: 'Mine', outline });
    const theirs = withPiece(base, 0, { name: 'Theirs', allowanceMm: 17 });
    for (const side of ['mine', 'theirs'] as const) {
      const { project, clashes } = mergeProjects(base, mine, theirs, side);
      const { id } = piece(base, 0);
      expect(clashes.map(({ path }) => path)).toEqual([
        ['pieces', id, 'name'],
        ['pieces', id, ''],
      ]);
      const chosen = piece(side === 'mine' ? mine : theirs, 0);
      expect(piece(project, 0)).toEqual(chosen);
    }
  });

  it('keeps the same change of both without asking', () => {
    const both = withPiece(base, 0, { name: 'Both' });
    expect(mergeProjects(base, both, structuredClone(both), 'mine')).toEqual({ project: both, clashes: [] });
  });

  it('takes over what was removed, unless the other changed it or began to use it', () => {
    const { id } = piece(base, 0);
    const gone = withoutPiece(base, id);
    expect(mergeProjects(base, { ...base, notes: 'n' }, gone, 'mine').project).toEqual({
      ...gone,
      notes: 'n',
    });
    const renamed = withPiece(base, 0, { name: 'Still needed' });
    const merged = mergeProjects(base, renamed, gone, 'theirs');
    expect(merged.clashes).toEqual([expect.objectContaining({ path: ['pieces', id], theirs: undefined })]);
    const other = base.materials.find(
      (material) => !base.cutList.some((row) => row.pieceId === id && row.materialId === material.id),
    )!;
    const row = { ...base.cutList.find(({ pieceId }) => pieceId === id)!, materialId: other.id };
    const used: Project = { ...base, cutList: [...base.cutList, row] };
    const { project } = mergeProjects(base, used, gone, 'mine');
    expect(project.pieces.some((entry) => entry.id === id)).toBe(true);
    expectValid(project);
  });

  it('puts what either added where it was added', () => {
    const extra = (id: string) => ({ ...piece(base, 0), id, name: id });
    const mine: Project = { ...base, pieces: [extra('first'), ...base.pieces] };
    const theirs: Project = { ...base, pieces: [...base.pieces, extra('last')] };
    const { project, clashes } = mergeProjects(base, mine, theirs, 'mine');
    expect(clashes).toEqual([]);
    expect(project.pieces.map(({ id }) => id)).toEqual(['first', ...base.pieces.map(({ id }) => id), 'last']);
  });

  it('is always a sound project, both ways round the same but for order, and nothing is lost that one changed alone', () => {
    const change = fc.record({
      name: fc.option(fc.nat(base.pieces.length - 1)),
      gone: fc.option(fc.nat(base.pieces.length - 1)),
      cloth: fc.option(fc.nat(base.cloths.length - 1)),
      notes: fc.option(fc.constantFrom('a', 'b')),
    });
    const made = (
      who: string,
      { name, gone, cloth, notes }: typeof change extends fc.Arbitrary<infer T> ? T : never,
    ) => {
      let project = base;
      if (name !== null) project = withPiece(project, name, { name: `${who} ${name}` });
      if (cloth !== null) {
        const cloths = project.cloths.map((entry, i) =>
          i === cloth ? { ...entry, gapMm: who.length } : entry,
        );
        project = { ...project, cloths };
      }
      if (notes !== null) project = { ...project, notes: `${who} ${notes}` };
      if (gone !== null) project = withoutPiece(project, base.pieces[gone]!.id);
      return project;
    };
    fc.assert(
      fc.property(change, change, (one, other) => {
        const mine = made('me', one);
        const theirs = made('they', other);
        const here = mergeProjects(base, mine, theirs, 'mine');
        const there = mergeProjects(base, theirs, mine, 'theirs');
        expectValid(here.project);
        expect(here.clashes).toHaveLength(there.clashes.length);
        const sorted = ({ pieces }: Project) => [...pieces].sort((a, b) => a.id.localeCompare(b.id));
        expect(sorted(here.project)).toEqual(sorted(there.project));
        if (one.notes !== null && other.notes === null) expect(here.project.notes).toBe(mine.notes);
        if (other.notes !== null && one.notes === null) expect(here.project.notes).toBe(theirs.notes);
        expect(mergeProjects(base, mine, base, 'theirs')).toEqual({ project: mine, clashes: [] });
      }),
      { numRuns: 200 },
    );
  });
});
