import { describe, expect, it } from 'vitest';
import {
  addMaterial,
  addSet,
  followAgain,
  holdBack,
  moveAll,
  moveRow,
  removeMaterial,
  setCompanion,
  setCount,
  setElsewhere,
  setJoins,
  setSizing,
} from '../../client/state/cutListCommands.ts';
import { materialMark } from '../../client/state/fingerprint.ts';
import { lacksOf } from '../../client/state/lacks.ts';
import { currentPlan, recordOfRun } from '../../client/state/layCommands.ts';
import {
  addMeasuredPieces,
  addVariant,
  changeVariant,
  detachVariant,
  removePieces,
  resizePiece,
  setAllowance,
  setEdgeAllowance,
} from '../../client/state/pieceCommands.ts';
import { copiesOf } from '../../pattern/cutList/index.ts';
import type { ClothLay } from '../../pattern/exchange/project.ts';
import { shapeSize, wholeShape } from '../../pattern/pieces/index.ts';
import { Maker } from './harness.ts';

function workshop(): Maker {
  const one = { plain: 1, mirrored: 0, onFold: 0 };
  const maker = new Maker().does(
    addMeasuredPieces([
      { name: 'Flap', alongMm: 200, acrossMm: 300, counts: one, material: 'Cotton' },
      { name: 'Panel', alongMm: 220, acrossMm: 170, counts: { ...one, plain: 2 }, material: 'Cotton' },
    ]),
  );
  return maker.does(addMaterial('Vinyl')).does(addMaterial('Fusible fleece', 'interfacing'));
}

const sizeOf = (maker: Maker, name: string): string => {
  const { widthMm, heightMm } = shapeSize(wholeShape(maker.piece(name)), 90);
  return `${Math.round(widthMm * 100) / 100} × ${Math.round(heightMm * 100) / 100}`;
};

describe('layers on the page', () => {
  it('follow, can be set by hand and let follow again, each one step to take back', () => {
    const maker = workshop();
    const fleece = maker.material('Fusible fleece').id;
    maker.does(setCompanion(maker.material('Cotton'), fleece, true));
    expect(maker.cell('Panel', 'Fusible fleece')).toBe('2/0/0');
    maker.does(setCount(maker.project, maker.piece('Panel').id, maker.material('Cotton').id, 'plain', 4));
    expect(maker.cell('Panel', 'Fusible fleece')).toBe('4/0/0');
    maker.does(setCount(maker.project, maker.piece('Flap').id, fleece, 'plain', 0));
    expect(maker.cell('Flap', 'Fusible fleece')).toBe('0/0/0');
    maker.does(setCount(maker.project, maker.piece('Flap').id, maker.material('Cotton').id, 'plain', 3));
    expect(maker.cell('Flap', 'Fusible fleece')).toBe('0/0/0');
    maker.does(followAgain(maker.project, maker.piece('Flap').id, fleece));
    expect(maker.cell('Flap', 'Fusible fleece')).toBe('3/0/0');
    maker.undoes(4);
    expect(maker.cell('Panel', 'Fusible fleece')).toBe('2/0/0');
    maker.undoes();
    expect(maker.cell('Panel', 'Fusible fleece')).toBe('none');
  });

  it('go when everything is cut from a material without them, in one step', () => {
    const maker = workshop();
    const fleece = maker.material('Fusible fleece').id;
    maker.does(setCompanion(maker.material('Cotton'), fleece, true));
    maker.does(moveAll(maker.material('Cotton'), maker.material('Vinyl').id));
    expect(maker.cell('Panel', 'Vinyl')).toBe('2/0/0');
    expect(maker.project.cutList.filter((row) => row.materialId === fleece)).toEqual([]);
    maker.undoes();
    expect(maker.cell('Flap', 'Fusible fleece')).toBe('1/0/0');
    maker.does(removeMaterial(maker.material('Fusible fleece')));
    expect(maker.material('Cotton').companions).toBeUndefined();
  });

  it('keep what is said of a cell when it moves to another material', () => {
    const maker = workshop();
    const [flap, cotton, vinyl] = [
      maker.piece('Flap').id,
      maker.material('Cotton').id,
      maker.material('Vinyl').id,
    ];
    maker
      .does(holdBack(maker.project, flap, cotton, true))
      .does(
        setJoins(maker.project, flap, cotton, {
          most: 2,
          allowanceMm: 10,
          slant: 'straight',
          wholeMiddleMm: 0,
        }),
      )
      .does(moveRow(maker.project, flap, cotton, vinyl));
    expect(maker.project.cutList.find((row) => row.pieceId === flap)).toMatchObject({
      materialId: vinyl,
      heldBack: true,
      joins: { most: 2 },
    });
    maker.does(setElsewhere(maker.project, flap, vinyl, [cotton]));
    maker.does(removeMaterial(maker.material('Cotton')));
    expect(maker.project.cutList.find((row) => row.pieceId === flap)?.elsewhere).toBeUndefined();
  });
});

describe('variants on the page', () => {
  it('follow their piece, say when they can’t, and stay when it goes', () => {
    const maker = workshop();
    maker.does(setAllowance(maker.piece('Panel'), 10));
    const command = addVariant(maker.piece('Panel'), 'Panel, lining', [
      { kind: 'foldBack', edge: 3, insideMm: 10 },
      { kind: 'allowance', mm: 0, edges: [], corners: 'mitred' },
    ]);
    maker.does(command);
    expect(sizeOf(maker, 'Panel, lining')).toBe('300 × 200');
    maker.does(resizePiece(maker.piece('Panel'), 240, 170));
    expect(sizeOf(maker, 'Panel, lining')).toBe('300 × 220');
    maker.does(changeVariant(maker.piece('Panel, lining'), [{ kind: 'foldBack', edge: 9, insideMm: 0 }]));
    expect(lacksOf(maker.project).pieces.map(({ text }) => text)).toEqual([
      expect.stringContaining('edge 10'),
    ]);
    expect(sizeOf(maker, 'Panel, lining')).toBe('300 × 220');
    maker.undoes().does(removePieces(maker.project, [maker.piece('Panel').id]));
    expect(maker.piece('Panel, lining').variant).toBeUndefined();
    expect(sizeOf(maker, 'Panel, lining')).toBe('300 × 220');
    maker.undoes().does(detachVariant(maker.piece('Panel, lining')));
    maker.does(resizePiece(maker.piece('Panel'), 100, 100));
    expect(sizeOf(maker, 'Panel, lining')).toBe('300 × 220');
  });

  it('give one edge an allowance of its own', () => {
    const maker = workshop();
    maker
      .does(setEdgeAllowance(maker.piece('Flap'), 2, 25))
      .does(setEdgeAllowance(maker.piece('Flap'), 2, null));
    expect(maker.piece('Flap').edgeAllowances).toBeUndefined();
  });
});

describe('plans and what they depend on', () => {
  it('go stale with sizes, sets and joins, and stay fresh when nothing of that is used', () => {
    const maker = workshop();
    const cotton = maker.material('Cotton').id;
    const mark = (): string => materialMark(maker.project, cotton);
    const before = mark();
    maker.does(holdBack(maker.project, maker.piece('Flap').id, cotton, true));
    expect(mark()).toBe(before);
    maker.does(
      setSizing(maker.material('Cotton'), { allowance: 'none', inSeamMm: 0, largerMm: 0, roughMm: 0 }),
    );
    expect(mark()).not.toBe(before);
    maker.undoes().does(addSet(maker.project, 'Large', 'As drawn'));
    expect(maker.project.sets?.map(({ name, times }) => [name, times])).toEqual([
      ['As drawn', 1],
      ['Large', 1],
    ]);
    expect(mark()).not.toBe(before);
    maker.undoes();
    expect(mark()).toBe(before);
    expect(maker.project.cutList.reduce((sum, row) => sum + copiesOf(row), 0)).toBe(3);
  });
});

describe('plans of materials that share pieces', () => {
  const lay = (materialId: string, usedMm: number): ClothLay => ({
    materialId,
    clothId: materialId,
    spread: 'single',
    verdict: 'fits',
    segments: [],
    unplaced: [],
    usedMm,
    buyMm: usedMm,
    usePercent: 50,
    piecesToTrace: 1,
    pieceAreaMm2: 1,
    clothAreaMm2: 2,
    costCents: null,
  });

  it('are taken whole from one run, with an empty plan for what is cut elsewhere', () => {
    const maker = workshop();
    const [flap, cotton, vinyl] = [
      maker.piece('Flap').id,
      maker.material('Cotton').id,
      maker.material('Vinyl').id,
    ];
    maker.does(setCount(maker.project, flap, vinyl, 'plain', 1));
    const record = (materialId: string, results: readonly ClothLay[], isDone = true): void => {
      const mark = materialMark(maker.project, materialId);
      maker.receives(recordOfRun(materialId, 'Plan', { results, isDone }, mark, '2026-01-01T00:00:00.000Z'));
    };
    const used = (materialId: string): number | undefined =>
      currentPlan(maker.project, materialId)?.results[0]?.usedMm;
    // Alone, a better layout of an earlier run stays, and nothing found writes nothing.
    record(cotton, [lay(cotton, 500)]);
    record(cotton, [lay(cotton, 700)]);
    record(vinyl, []);
    expect([used(cotton), currentPlan(maker.project, vinyl)]).toEqual([500, undefined]);
    // Shared, the run that ended last is what counts, whole or not at all.
    maker.does(setElsewhere(maker.project, flap, vinyl, [cotton]));
    record(cotton, [lay(cotton, 500), lay(vinyl, 100)]);
    record(cotton, [lay(cotton, 700)]);
    record(vinyl, [lay(cotton, 700)]);
    expect([used(cotton), currentPlan(maker.project, vinyl)?.results]).toEqual([700, []]);
    record(cotton, [lay(cotton, 900)], false);
    expect(used(cotton)).toBe(700);
  });
});
