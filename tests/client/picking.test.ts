import { describe, expect, it } from 'vitest';
import { draftOf, joinPicks, measureOf, newPick, withAlike } from '../../client/reading/picking.ts';
import { pickAll } from '../../client/reading/takeAll.ts';
import { checkPiece } from '../../pattern/pieces/index.ts';
import type { ReadDrawing } from '../../pattern/reading/drawing.ts';
import { readDxf } from '../../pattern/reading/dxf.ts';
import { readSvg } from '../../pattern/reading/svg.ts';
import { box, dxf, line, type Rec } from '../reading/dxfText.ts';

/** A drawing of 400 × 300 mm whose units are millimetres. */
function read(body: string): ReadDrawing {
  const reading = readSvg(
    `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">${body}</svg>`,
    'test.svg',
  );
  if (!reading.ok) throw new Error(reading.message);
  return reading;
}

const outline = (reading: ReadDrawing, id: string) => {
  const found = reading.outlines.find((entry) => entry.elementId === id);
  if (!found) throw new Error(`no outline ${id}`);
  return found;
};

describe('choosing pieces of a drawing', () => {
  it('takes outlines drawn alike as copies of one piece', () => {
    const reading = read(
      '<rect id="a" x="10" y="10" width="80" height="50"/><rect id="b" x="100" y="10" width="80" height="50"/>' +
        '<rect id="c" x="200" y="10" width="80" height="40"/><circle id="dot" cx="300" cy="100" r="2"/>',
    );
    const picks = pickAll(reading);
    expect(picks.map((pick) => pick.count)).toEqual([2, 1]);
    expect(picks.flatMap((pick) => pick.alike)).toEqual([outline(reading, 'b').id]);
  });

  it('guesses what lies inside: one large outline is the sew line, small ones are holes', () => {
    const sewn = read(
      '<rect id="cut" x="10" y="10" width="100" height="80"/><rect id="sew" x="20" y="20" width="80" height="60"/>',
    );
    expect(newPick(sewn, outline(sewn, 'cut')).inside).toEqual({ [outline(sewn, 'sew').id]: 'sewLine' });
    const holed = read(
      '<rect id="cut" x="10" y="10" width="100" height="80"/><circle id="h1" cx="30" cy="30" r="3"/>' +
        '<circle id="h2" cx="80" cy="30" r="3"/>',
    );
    expect(Object.values(newPick(holed, outline(holed, 'cut')).inside)).toEqual(['hole', 'hole']);
  });

  it('makes a sound piece with its holes, sew line and grain', () => {
    const reading = read(
      '<rect id="cut" x="10" y="10" width="100" height="80"/><circle id="h" cx="30" cy="30" r="3"/>' +
        '<path id="grain" d="M40 80 L90 30"/>',
    );
    const { piece, counts } = draftOf(
      reading,
      { ...newPick(reading, outline(reading, 'cut')), count: 3 },
      'Felt',
    );
    expect(checkPiece(piece).filter((problem) => problem.level === 'error')).toEqual([]);
    expect(piece.holes.length).toBe(1);
    // Drawn from lower left to upper right, where y runs down in the file and up on the piece.
    expect(piece.grainDeg).toBe(45);
    expect(counts).toEqual({ plain: 3, mirrored: 0, onFold: 0 });
  });

  it('joins parts that touch into one piece, and says no to parts that don’t', () => {
    const reading = read(
      '<rect id="stem" x="50" y="50" width="40" height="100"/><rect id="bar" x="10" y="10" width="120" height="40"/>' +
        '<rect id="far" x="300" y="200" width="40" height="40"/>',
    );
    const pick = (id: string) => newPick(reading, outline(reading, id));
    const joined = joinPicks(reading, [pick('stem'), pick('bar')]);
    expect(joined).not.toBeNull();
    if (joined) {
      const { piece } = draftOf(reading, joined, '');
      expect(piece.outline.length).toBe(8);
    }
    expect(joinPicks(reading, [pick('stem'), pick('far')])).toBeNull();
  });

  it('measures what a maker may know the true length of', () => {
    const reading = read(
      '<path id="p" stroke="#000" stroke-width="2" fill="none" d="M10 10 h60 v40 l-60 40 z"/>',
    );
    const shape = outline(reading, 'p');
    expect(measureOf(shape, 'width')).toBeCloseTo(60, 6);
    expect(measureOf(shape, 'height')).toBeCloseTo(80, 6);
    expect(measureOf(shape, 'outerWidth')).toBeCloseTo(62, 6);
    expect(measureOf(shape, 'edge')).toBeCloseTo(80, 6);
  });

  it('leaves a pick alone that has no likeness', () => {
    const reading = read('<rect id="a" x="10" y="10" width="80" height="50"/>');
    const pick = newPick(reading, outline(reading, 'a'));
    expect(withAlike(reading, pick)).toEqual({ ...pick, alike: [], count: 1 });
  });

  it('takes count and material from the entries of a file of piece blocks, and marks its drill holes', () => {
    const text = (y: number, words: string): Rec => ['TEXT', 8, '15', 10, 5, 20, y, 40, 4, 1, words];
    const block = (...records: Rec[]): Rec[] => [...box('1', 200, 100), ...records];
    const reading = readDxf(
      dxf({
        blocks: {
          LID: block(text(80, 'Piece Name: Lid'), text(70, 'Quantity: 2'), text(60, 'Material: Lining')),
          SIDE: block(
            text(80, 'Piece Name: Side'),
            text(70, 'Quantity: 1,1'),
            text(60, 'Material: Tarpaulin'),
            ['POINT', 8, '13', 10, 50, 20, 50],
          ),
          BACK: block(line('6', 0, 0, 0, 100), text(80, 'Piece Name: Back'), text(70, 'Quantity: 3')),
        },
        entities: ['LID', 'SIDE', 'BACK'].map((name): Rec => ['INSERT', 8, '1', 2, name, 10, 0, 20, 0]),
      }),
      'blocks.dxf',
    );
    if (!reading.ok) throw new Error(reading.message);
    const picks = new Map(pickAll(reading).map((pick) => [pick.name, pick]));
    const rows = (name: string) => picks.get(name)?.rows.map(({ said: _said, ...row }) => row);
    // Two: alike or a pair is asked. "1,1" is one of each. A half on its mirror line is cut on the fold.
    expect(rows('Lid')).toEqual([
      { plain: 2, mirrored: 0, onFold: 0, material: 'lining', question: 'hands' },
    ]);
    expect(rows('Side')).toEqual([
      { plain: 1, mirrored: 1, onFold: 0, material: 'Tarpaulin', question: null },
    ]);
    expect(rows('Back')).toEqual([{ plain: 0, mirrored: 0, onFold: 3, material: '', question: null }]);
    const side = picks.get('Side');
    expect(side && draftOf(reading, side, 'Main').piece.marks).toEqual([
      { kind: 'notch', points: [[50, 50]], closed: false },
    ]);
  });
});
