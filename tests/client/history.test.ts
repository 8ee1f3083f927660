import { describe, expect, it } from 'vitest';
import { addMaterial, makePairs, setCount } from '../../client/state/cutListCommands.ts';
import {
  addMeasuredPieces,
  copyPiece,
  removePieces,
  renamePiece,
  turnGrain,
} from '../../client/state/pieceCommands.ts';
import { renameProject, withUnits } from '../../client/state/projectCommands.ts';
import { Maker } from './harness.ts';

const strap = {
  name: 'Strap',
  alongMm: 600,
  acrossMm: 40,
  counts: { plain: 2, mirrored: 0, onFold: 0 },
  material: 'Canvas',
};

describe('undo and redo', () => {
  it('takes back and makes again exactly what was done', () => {
    const maker = new Maker();
    const empty = maker.project;
    maker.does(addMeasuredPieces([strap]));
    const withStrap = maker.project;
    maker.does(turnGrain(maker.piece('Strap'), 45));
    const turned = maker.project;
    maker.undoes();
    expect(maker.project).toBe(withStrap);
    maker.undoes();
    expect(maker.project).toBe(empty);
    maker.redoes(2);
    expect(maker.project).toBe(turned);
  });

  it('joins a name typed letter by letter into one step, until the maker pauses', () => {
    const maker = new Maker().does(addMeasuredPieces([strap]));
    const before = maker.history.past.length;
    for (const name of ['Strap l', 'Strap lo', 'Strap long']) {
      maker.does(renamePiece(maker.project.pieces[0]!, name));
    }
    expect(maker.history.past.length).toBe(before + 1);
    maker.pauses().does(renamePiece(maker.project.pieces[0]!, 'Strap, long'));
    expect(maker.history.past.length).toBe(before + 2);
    maker.undoes();
    expect(maker.project.pieces[0]!.name).toBe('Strap long');
    maker.undoes();
    expect(maker.project.pieces[0]!.name).toBe('Strap');
  });

  it('leaves no step for a command that changes nothing', () => {
    const maker = new Maker().does(addMeasuredPieces([strap]));
    const steps = maker.history.past.length;
    const strapPiece = maker.piece('Strap');
    maker.does(turnGrain(strapPiece, 90)).does(turnGrain(strapPiece, 450)).does(renameProject('Test'));
    expect(maker.history.past.length).toBe(steps);
  });

  it('forgets what was undone as soon as something else is done', () => {
    const maker = new Maker().does(renameProject('A')).pauses().does(renameProject('B'));
    maker
      .undoes()
      .does(addMeasuredPieces([strap]))
      .redoes();
    expect(maker.project.name).toBe('A');
    expect(maker.project.pieces.length).toBe(1);
  });

  it('keeps the chosen units through undo and redo', () => {
    const maker = new Maker().does(addMeasuredPieces([strap])).receives(withUnits('in'));
    maker.undoes();
    expect(maker.project.units).toBe('in');
    maker.redoes();
    expect(maker.project.units).toBe('in');
  });

  it('has no bottom: a thousand steps come back one by one', () => {
    const maker = new Maker().does(addMeasuredPieces([strap]));
    const canvas = maker.material('Canvas');
    const id = maker.piece('Strap').id;
    for (let i = 1; i <= 1000; i++) {
      maker.does(setCount(maker.project, id, canvas.id, 'plain', i)).pauses();
    }
    maker.undoes(1000);
    expect(maker.cell('Strap', 'Canvas')).toBe('2/0/0');
  });
});

describe('pieces and the cut list go together', () => {
  it('names a material once, whatever its letters, and takes it up again', () => {
    const maker = new Maker().does(
      addMeasuredPieces([strap, { ...strap, name: 'Tab', material: ' canvas ' }]),
    );
    expect(maker.project.materials.map((material) => material.name)).toEqual(['Canvas']);
    expect(maker.cell('Tab', 'Canvas')).toBe('2/0/0');
  });

  it('removes a piece with its counts, and undo brings both back', () => {
    const maker = new Maker().does(addMeasuredPieces([strap]));
    maker.does(removePieces(maker.project, [maker.piece('Strap').id]));
    expect(maker.project.cutList).toEqual([]);
    maker.undoes();
    expect(maker.cell('Strap', 'Canvas')).toBe('2/0/0');
  });

  it('copies a piece with its counts, right after it', () => {
    const maker = new Maker().does(addMeasuredPieces([strap, { ...strap, name: 'Tab' }]));
    maker.does(copyPiece(maker.piece('Strap'), 'Strap 2'));
    expect(maker.project.pieces.map((piece) => piece.name)).toEqual(['Strap', 'Strap 2', 'Tab']);
    expect(maker.cell('Strap 2', 'Canvas')).toBe('2/0/0');
  });

  it('makes mirrored pairs in one step: 4 become 2 + 2, 3 become 2 + 2', () => {
    const maker = new Maker().does(
      addMeasuredPieces([{ ...strap, counts: { plain: 4, mirrored: 0, onFold: 0 } }]),
    );
    const ids = [maker.piece('Strap').id, maker.material('Canvas').id] as const;
    maker.does(makePairs(maker.project, ...ids));
    expect(maker.cell('Strap', 'Canvas')).toBe('2/2/0');
    maker.does(setCount(maker.project, ...ids, 'mirrored', 1)).does(makePairs(maker.project, ...ids));
    expect(maker.cell('Strap', 'Canvas')).toBe('2/2/0');
  });

  it('guesses what a material is for from its name', () => {
    const maker = new Maker();
    for (const name of ['Canvas', 'Lining cotton', 'Fusible interfacing', 'Foam 5 mm', 'Red canvas']) {
      maker.does(addMaterial(name));
    }
    expect(maker.project.materials.map((material) => material.role)).toEqual([
      'main',
      'lining',
      'interfacing',
      'foam',
      'contrast',
    ]);
  });
});
