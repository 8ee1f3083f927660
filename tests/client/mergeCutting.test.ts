import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { holdBack } from '../../client/state/cutListCommands.ts';
import { chooseToCut, setTable, withTicks } from '../../client/state/cuttingCommands.ts';
import { mergeCutting, mergeDocuments } from '../../client/state/mergeCutting.ts';
import { renameProject } from '../../client/state/projectCommands.ts';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import type { Cutting } from '../../pattern/exchange/project.ts';
import { expectValid, Maker } from './harness.ts';

const marks = fc.uniqueArray(fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f'));
const state = (ticks: readonly string[], more: Partial<Cutting> = {}): Cutting => ({
  tableMm: null,
  ticks,
  notions: [],
  cutBy: [],
  ...more,
});

describe('two pages at one table', () => {
  it('keep each tick that one of them set and lose each that one took away', () => {
    fc.assert(
      fc.property(marks, marks, marks, (before, ours, theirs) => {
        const merged = new Set(mergeCutting(state(before), state(ours), state(theirs)).ticks);
        for (const mark of ['a', 'b', 'c', 'd', 'e', 'f'] as const) {
          const [was, here, there] = [before, ours, theirs].map((list) => list.includes(mark));
          const expected = here === there ? here : here !== was ? here : there;
          expect([mark, merged.has(mark)]).toEqual([mark, expected]);
        }
      }),
    );
  });

  it('come to the same whichever of them joins', () => {
    fc.assert(
      fc.property(marks, marks, marks, (before, ours, theirs) => {
        const one = mergeCutting(state(before), state(ours), state(theirs));
        const other = mergeCutting(state(before), state(theirs), state(ours));
        expect(one.ticks).toEqual(other.ticks);
      }),
    );
  });

  it('keep lines that either added, and what either changed', () => {
    const line = (id: string, amount = '') => ({ id, name: id, amount, costCents: null, bought: false });
    const base = state([], { notions: [line('thread'), line('zip'), line('tape')] });
    const ours = state([], {
      notions: [line('thread', '2 spools'), line('zip'), line('tape'), line('glue')],
    });
    const theirs = state([], {
      notions: [line('thread'), line('zip', '60 cm'), line('rivet')],
      tableMm: 1800,
    });
    const merged = mergeCutting(base, ours, theirs);
    expect(merged.notions.map(({ id, amount }) => `${id} ${amount}`)).toEqual([
      'thread 2 spools',
      'zip 60 cm',
      'rivet ',
      'glue ',
    ]);
    expect(merged.tableMm).toBe(1800);
  });

  it('keep which layout either chose to cut; of a material for which both chose, ours', () => {
    const by = (materialId: string, spread: 'single' | 'folded' | 'middle') => ({
      materialId,
      clothId: 'roll',
      spread,
    });
    const base = state([], { cutBy: [by('outer', 'single')] });
    const ours = state([], { cutBy: [by('outer', 'folded'), by('lining', 'single')] });
    const theirs = state([], { cutBy: [by('outer', 'middle'), by('felt', 'folded')] });
    expect(mergeCutting(base, ours, theirs).cutBy).toEqual([
      by('outer', 'folded'),
      by('felt', 'folded'),
      by('lining', 'single'),
    ]);
    expect(mergeCutting(base, base, theirs).cutBy).toEqual(theirs.cutBy);
  });

  it('choose nothing where both changed the pattern', () => {
    const base = demoProject();
    const ours = { ...base, name: 'Mine' };
    const theirs = { ...base, name: 'Theirs' };
    expect(mergeDocuments(base, ours, theirs)).toBeNull();
    const ticked = withTicks(['cut canvas body plain 1'], true)(base);
    expect(mergeDocuments(base, ours, ticked)).toMatchObject({ name: 'Mine', cutting: ticked.cutting });
    expect(mergeDocuments(base, ticked, theirs)).toMatchObject({ name: 'Theirs', cutting: ticked.cutting });
  });
});

describe('ticks', () => {
  it('outlive undo: a piece that is cut stays cut', () => {
    const maker = new Maker(demoProject()).does(renameProject('Other'));
    maker.receives(withTicks(['cut canvas body plain 1'], true)).undoes();
    expect(maker.project.cutting.ticks).toEqual(['cut canvas body plain 1']);
    expectValid(maker.project);
    maker.redoes();
    expect(maker.project.cutting.ticks).toEqual(['cut canvas body plain 1']);
  });

  it('leave the document as it is where nothing changes', () => {
    const project = withTicks(['x'], true)(demoProject());
    expect(withTicks(['x'], true)(project)).toBe(project);
    expect(withTicks(['y'], false)(project)).toBe(project);
    expect(withTicks(['x'], false)(project).cutting.ticks).toEqual([]);
  });
});

describe('work at the table that can be taken back', () => {
  it('is the table’s length, what is held back and which layout is cut', () => {
    const maker = new Maker(demoProject());
    const row = maker.project.cutList[0]!;
    maker.does(setTable(1800));
    maker.does(holdBack(maker.project, row.pieceId, row.materialId, true));
    expect(maker.project.cutting.tableMm).toBe(1800);
    expect(maker.project.cutList.filter(({ heldBack }) => heldBack)).toEqual([{ ...row, heldBack: true }]);
    expectValid(maker.project);
    const choice = { materialId: row.materialId, clothId: 'any', spread: 'folded' } as const;
    maker.does(chooseToCut(choice, ''));
    maker.does(chooseToCut({ ...choice, spread: 'single' }, ''));
    expect(maker.project.cutting.cutBy).toEqual([{ ...choice, spread: 'single' }]);
    expectValid(maker.project);
    maker.undoes(4);
    expect(maker.project).toEqual(demoProject());
  });
});
