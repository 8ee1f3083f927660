import { describe, expect, it } from 'vitest';
import { presetFor } from '../../client/state/clothCommands.ts';
import { addMeasuredPieces } from '../../client/state/pieceCommands.ts';
import { usualLine } from '../../client/views/pieces/sizesLine.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';

const ONE = { plain: 1, mirrored: 0, onFold: 0 };
const BODY = { name: 'Body', acrossMm: 420, alongMm: 280, counts: ONE, material: 'Vinyl' };

describe('sizes without their seam allowance', () => {
  const sewn = addMeasuredPieces([{ ...BODY, more: [{ counts: ONE, material: 'Lining' }] }], {
    line: 'sew',
    allowanceMm: 10,
  }).run(emptyProject('Roll', 'cm'));

  it('keep what was typed and get the allowance all round', () => {
    const [piece] = sewn.pieces;
    expect(piece).toMatchObject({ line: 'sew', allowanceMm: 10, source: { acrossMm: 420, alongMm: 280 } });
  });

  it('are cut from every material the line gave a count', () => {
    expect(sewn.materials.map(({ name }) => name)).toEqual(['Vinyl', 'Lining']);
    expect(sewn.cutList.map(({ plain }) => plain)).toEqual([1, 1]);
  });

  it('are how the next ones are asked for; with the allowance in them where none was typed yet', () => {
    expect(usualLine(sewn)).toEqual({ line: 'sew', allowanceMm: 10 });
    expect(usualLine(emptyProject('Roll', 'in'))).toEqual({ line: 'cut', allowanceMm: 9.525 });
    const plain = addMeasuredPieces([BODY]).run(sewn);
    expect(plain.pieces.at(-1)).toMatchObject({ line: 'cut', allowanceMm: 0 });
    expect(usualLine(plain).line).toBe('cut');
  });
});

describe('the kind of cloth that a material is asked for first', () => {
  it.each([
    ['Vinyl', 'main', 'vinyl'],
    ['Kunstleder rot', 'contrast', 'vinyl'],
    ['Leather', 'main', 'leather'],
    ['Waxed canvas', 'main', 'canvas'],
    ['Breitcord', 'other', 'napped'],
    ['Insgesamt', 'main', 'woven'],
    ['Fusible', 'interfacing', 'fusible'],
    ['Stiff one', 'interfacing', 'interfacing'],
    ['Lining', 'lining', 'woven'],
  ] as const)('%s (%s): %s', (name, role, preset) => {
    expect(presetFor({ name, role })).toBe(preset);
  });
});
