import { describe, expect, it } from 'vitest';
import { addRemnant, addRoll, changeCloth, changeRoll } from '../../client/state/clothCommands.ts';
import { addMaterial, setCount } from '../../client/state/cutListCommands.ts';
import { materialMark } from '../../client/state/fingerprint.ts';
import { type Lack, lacksOf } from '../../client/state/lacks.ts';
import { recordLay } from '../../client/state/layCommands.ts';
import { addDrawnPieces, addMeasuredPieces, resizePiece, setFold } from '../../client/state/pieceCommands.ts';
import { setMotif, setTurnsAt, setTurnsOver, splitPieceOver } from '../../client/state/printCommands.ts';
import { readRoute, writeRoute } from '../../client/state/route.ts';
import { type Piece, projectSchema, type Roll, repeatSchema } from '../../pattern/exchange/project.ts';
import { pieceOf } from '../pattern/pieces/shapes.ts';
import { Maker } from './harness.ts';

const kinds = (lacks: readonly Lack[]): string[] => lacks.map((lack) => lack.kind);

const panel = (material: string, plain: number) => ({
  name: 'Panel',
  alongMm: 300,
  acrossMm: 200,
  counts: { plain, mirrored: 0, onFold: 0 },
  material,
});

/** A shape with a left and a right hand. */
const handed = pieceOf(
  [
    [0, 0],
    [200, 0],
    [200, 100],
    [120, 180],
    [0, 180],
  ],
  { id: 'handed', name: 'Pocket' },
);

describe('what each step lacks', () => {
  it('begins with no pieces and ends with nothing', () => {
    const maker = new Maker();
    expect(kinds(lacksOf(maker.project).pieces)).toEqual(['noPieces']);
    maker.does(addMeasuredPieces([panel('', 0)]));
    expect(kinds(lacksOf(maker.project).cutlist)).toEqual(['noMaterials']);
    maker.does(addMaterial('Canvas'));
    expect(kinds(lacksOf(maker.project).cutlist)).toEqual(['notCut']);
    const ids = [maker.piece('Panel').id, maker.material('Canvas').id] as const;
    maker.does(setCount(maker.project, ...ids, 'plain', 2));
    expect(kinds(lacksOf(maker.project).cloths)).toEqual(['noCloth']);
    maker.does(addRoll(ids[1], 'Roll', 'woven'));
    expect(kinds(lacksOf(maker.project).plan)).toEqual(['notLaid']);
    const mark = materialMark(maker.project, ids[1]);
    maker.receives(
      recordLay(
        ids[1],
        'Canvas',
        [
          {
            materialId: ids[1],
            clothId: maker.cloth('Roll').id,
            spread: 'single',
            verdict: 'fits',
            segments: [],
            unplaced: [],
            usedMm: 320,
            buyMm: 400,
            usePercent: 20,
            piecesToTrace: 2,
            pieceAreaMm2: 120_000,
            clothAreaMm2: 448_000,
            costCents: null,
          },
        ],
        mark,
        '2026-01-01T00:00:00.000Z',
      ),
    );
    const lacks = lacksOf(maker.project);
    expect([lacks.pieces, lacks.cutlist, lacks.cloths, lacks.plan]).toEqual([[], [], [], []]);
    maker.does(resizePiece(maker.piece('Panel'), 310, 200));
    expect(kinds(lacksOf(maker.project).plan)).toEqual(['outOfDate']);
  });

  it('leads to the piece whose hands don’t pair, until they do', () => {
    const maker = new Maker().does(
      addDrawnPieces([{ piece: handed, counts: { plain: 2, mirrored: 0, onFold: 0 }, material: 'Canvas' }]),
    );
    const [lack] = lacksOf(maker.project).cutlist;
    expect(lack).toMatchObject({ kind: 'told', goTo: { step: 'cutlist', open: 'handed' } });
    expect(lack?.text).toMatch(/Pocket/);
    maker.does(setCount(maker.project, 'handed', maker.material('Canvas').id, 'mirrored', 2));
    expect(lacksOf(maker.project).cutlist).toEqual([]);
  });

  it('notices when one piece’s counts change although the piece does not', () => {
    const maker = new Maker().does(
      addDrawnPieces([{ piece: handed, counts: { plain: 1, mirrored: 1, onFold: 0 }, material: 'Canvas' }]),
    );
    expect(lacksOf(maker.project).cutlist).toEqual([]);
    maker.does(setCount(maker.project, 'handed', maker.material('Canvas').id, 'plain', 3));
    expect(lacksOf(maker.project).cutlist.length).toBe(1);
  });

  it('moves counts onto the fold with the fold edge, and back', () => {
    const maker = new Maker().does(addMeasuredPieces([panel('Canvas', 2)]));
    maker.does(setFold(maker.piece('Panel'), 3));
    expect(maker.cell('Panel', 'Canvas')).toBe('0/0/2');
    expect(lacksOf(maker.project).cutlist).toEqual([]);
    maker.does(setFold(maker.piece('Panel'), null));
    expect(maker.cell('Panel', 'Canvas')).toBe('2/0/0');
  });

  it('tells of a strap on a print with an up before it is laid, and not once it is split', () => {
    const maker = new Maker().does(addMeasuredPieces([panel('Canvas', 1)]));
    maker.does(addRoll(maker.material('Canvas').id, 'Roll', 'woven'));
    maker.does(changeCloth(maker.project.cloths[0]!, { printUp: 'away' }));
    maker.does(setTurnsOver(maker.piece('Panel'), true));
    maker.does(setTurnsAt(maker.piece('Panel'), 'top'));
    const { id } = maker.piece('Panel');
    expect(lacksOf(maker.project).cloths).toMatchObject([
      { kind: 'told', goTo: { step: 'pieces', open: id, at: 'print' } },
    ]);
    const names = { both: 'Half', front: 'Front', back: 'Back' };
    const split = splitPieceOver(maker.project, maker.piece('Panel'), 10, names);
    maker.does(split!);
    expect(maker.cell('Half', 'Canvas')).toBe('2/0/0');
    expect(lacksOf(maker.project).cloths).toEqual([]);
    // The whole piece is kept, and nobody misses it in the cut list.
    expect(lacksOf(maker.project).cutlist).toEqual([]);
  });

  it('tells of a piece that finds no place on the repeat, unless the repeat itself cannot be', () => {
    const maker = new Maker().does(addMeasuredPieces([panel('Canvas', 1)]));
    maker.does(addRoll(maker.material('Canvas').id, 'Roll', 'woven'));
    maker.does(setMotif(maker.piece('Panel'), { at: [100, 150], onMotif: [0, 0], toleranceMm: 0 }));
    const withRepeat = (over: object): readonly Lack[] => {
      const repeat = repeatSchema.parse({ alongMm: 300, acrossMm: 280, fromSelvedgeMm: 20, ...over });
      maker.does(changeRoll(maker.project.cloths[0] as Roll, { widthMm: 300, repeat }));
      return lacksOf(maker.project).cloths;
    };
    const { id } = maker.piece('Panel');
    expect(withRepeat({})).toMatchObject([{ kind: 'told', goTo: { step: 'pieces', open: id, at: 'print' } }]);
    expect(withRepeat({ fromSelvedgeMm: 140 })).toEqual([]);
    const [only, ...others] = withRepeat({ acrossMm: 800 });
    expect(only?.text).toMatch(/repeat/);
    expect(others).toEqual([]);
  });

  it('calls a faulty piece by its name', () => {
    const crossed: Piece = {
      ...handed,
      outline: [
        [0, 0],
        [100, 100],
        [100, 0],
        [0, 100],
      ],
    };
    const maker = new Maker().does(
      addDrawnPieces([{ piece: crossed, counts: { plain: 1, mirrored: 0, onFold: 0 }, material: 'Canvas' }]),
    );
    expect(lacksOf(maker.project).pieces).toMatchObject([
      { kind: 'pieceFaulty', pieces: ['Pocket'], goTo: { step: 'pieces', open: 'handed' } },
    ]);
  });
});

describe('the address', () => {
  it('says project, step and what is open, and is read back', () => {
    const route = { projectId: 'p.1', step: 'cloths', open: 'cloth-7' } as const;
    expect(readRoute(writeRoute(route))).toEqual(route);
    expect(readRoute(writeRoute({ ...route, open: null }))).toEqual({ ...route, open: null });
  });

  it('makes the best of anything else', () => {
    expect(readRoute('')).toEqual({ projectId: '', step: 'pieces', open: null });
    expect(readRoute('#/p1/nowhere/x')).toEqual({ projectId: 'p1', step: 'pieces', open: 'x' });
    expect(readRoute('#/%E0%A4%A')).toEqual({ projectId: '', step: 'pieces', open: null });
  });
});

describe('the mark of what a plan was made from', () => {
  it('is the same for a project read back from the server, whatever the order of its fields', () => {
    const maker = new Maker();
    maker.does(addMeasuredPieces([panel('Canvas', 4)]));
    const { id } = maker.material('Canvas');
    maker.does(addRoll(id, 'Roll', 'woven'));
    maker.does(addRemnant(id, 'Remnant', 'woven', 500, 400));
    const readBack = projectSchema.parse(JSON.parse(JSON.stringify(maker.project)));
    expect(materialMark(readBack, id)).toBe(materialMark(maker.project, id));
  });
});
