import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  layerChanges,
  pieceIn,
  projectAsCut,
  settleProject,
  totals,
} from '../../../pattern/cutList/index.ts';
import { emptyProject } from '../../../pattern/exchange/emptyProject.ts';
import type { CutRow, Material, Piece, Project, Sizing } from '../../../pattern/exchange/project.ts';
import { demandsFor } from '../../../pattern/lay/demands.ts';
import { cutShape, shapeSize, wholeShape } from '../../../pattern/pieces/index.ts';
import { areaOf, pieceOf, rectangle } from '../pieces/shapes.ts';

const INCH = 25.4;

function row(pieceId: string, materialId: string, plain: number, more: Partial<CutRow> = {}): CutRow {
  return { pieceId, materialId, plain, mirrored: 0, onFold: 0, ...more };
}

function project(
  materials: readonly Material[],
  cutList: readonly CutRow[],
  pieces?: readonly Piece[],
): Project {
  return {
    ...emptyProject('Picnic bag', 'cm'),
    materials,
    cutList,
    pieces:
      pieces ?? ['flap', 'panel', 'strap'].map((id) => ({ ...pieceOf(rectangle(100, 200)), id, name: id })),
  };
}

const COTTON: Material = { id: 'cotton', name: 'Cotton', role: 'main', companions: ['fleece'] };
const VINYL: Material = { id: 'vinyl', name: 'Vinyl', role: 'main' };
const FLEECE: Material = { id: 'fleece', name: 'Fleece', role: 'interfacing' };

const cells = ({ cutList }: Project, materialId: string): string[] =>
  cutList
    .filter((entry) => entry.materialId === materialId)
    .map(({ pieceId, plain, mirrored, onFold }) => `${pieceId} ${plain}/${mirrored}/${onFold}`);

describe('layers that follow', () => {
  const bag = project(
    [COTTON, VINYL, FLEECE],
    [row('flap', 'cotton', 1), row('panel', 'cotton', 2, { mirrored: 2 })],
  );
  const settled = settleProject(bag);

  it('cuts the companions of what is cut, with the same hands', () => {
    expect(cells(settled, 'fleece')).toEqual(['flap 1/0/0', 'panel 2/2/0']);
    expect(settleProject(settled)).toBe(settled);
  });

  it('takes the rows away when the outer becomes a material without companions, and says so', () => {
    const moved = settleProject({
      ...settled,
      cutList: settled.cutList.map((entry) =>
        entry.materialId === 'cotton' ? { ...entry, materialId: 'vinyl' } : entry,
      ),
    });
    expect(cells(moved, 'fleece')).toEqual([]);
    expect(layerChanges(settled, moved)).toEqual([
      { materialId: 'fleece', added: [], gone: ['flap', 'panel'] },
    ]);
    expect(layerChanges(moved, settled)).toEqual([
      { materialId: 'fleece', added: ['flap', 'panel'], gone: [] },
    ]);
  });

  it('keeps the maker’s own counts, none included, and turns them into hers when nobody asks any longer', () => {
    const own = settleProject({
      ...settled,
      cutList: settled.cutList.map((entry) =>
        entry.materialId === 'fleece'
          ? { ...entry, plain: entry.pieceId === 'flap' ? 0 : 1, follows: { from: ['cotton'], own: true } }
          : entry,
      ),
    });
    expect(cells(own, 'fleece')).toEqual(['flap 0/0/0', 'panel 1/2/0']);
    const alone = settleProject({ ...own, materials: [{ ...COTTON, companions: [] }, VINYL, FLEECE] });
    expect(cells(alone, 'fleece')).toEqual(['panel 1/2/0']);
    expect(alone.cutList.find((entry) => entry.materialId === 'fleece')?.follows).toBeUndefined();
  });

  it('leaves rows that were typed alone, adds up what several materials ask for, and follows chains', () => {
    const contrast: Material = { id: 'contrast', name: 'Contrast', role: 'contrast', companions: ['fleece'] };
    const chain = settleProject(
      project(
        [COTTON, contrast, { ...FLEECE, companions: ['vinyl'] }, VINYL],
        [
          row('flap', 'cotton', 1),
          row('flap', 'contrast', 2),
          row('panel', 'cotton', 3),
          row('panel', 'fleece', 9),
        ],
      ),
    );
    expect(cells(chain, 'fleece')).toEqual(['panel 9/0/0', 'flap 3/0/0']);
    expect(cells(chain, 'vinyl')).toEqual(['panel 9/0/0', 'flap 3/0/0']);
  });

  it('settles in one go whatever asks for whatever, rings included', () => {
    const ids = ['a', 'b', 'c', 'd'];
    fc.assert(
      fc.property(
        fc.array(fc.subarray(ids), { minLength: 4, maxLength: 4 }),
        fc.array(fc.tuple(fc.constantFrom('flap', 'panel'), fc.constantFrom(...ids), fc.nat(3)), {
          maxLength: 6,
        }),
        (companions, typed) => {
          const rows = new Map(
            typed.map(([piece, material, n]) => [`${piece} ${material}`, row(piece, material, n)]),
          );
          const once = settleProject(
            project(
              ids.map((id, i) => ({ id, name: id, role: 'other', companions: companions[i]! })),
              [...rows.values()],
            ),
          );
          const keys = once.cutList.map((entry) => `${entry.pieceId} ${entry.materialId}`);
          expect(new Set(keys).size).toBe(keys.length);
          for (const [key, entry] of rows) expect(once.cutList[keys.indexOf(key)]).toBe(entry);
        },
      ),
    );
  });
});

describe('how a material is cut', () => {
  const sizing = (more: Partial<Sizing>): { sizing: Sizing } => ({
    sizing: { allowance: 'full', inSeamMm: 0, largerMm: 0, roughMm: 0, ...more },
  });
  const sizeIn = (piece: Piece, more: Partial<Sizing>): [number, number] => {
    const sized = pieceIn(piece, sizing(more));
    if (!sized.ok) throw new Error('nothing is left');
    const { widthMm, heightMm } = shapeSize(cutShape(sized.piece), 90);
    return [widthMm / INCH, heightMm / INCH].map((inches) => Math.round(inches * 1e6) / 1e6) as [
      number,
      number,
    ];
  };
  const panel = pieceOf(rectangle(13 * INCH, 15 * INCH), { line: 'cut', allowanceMm: 0.375 * INCH });

  it('leaves the allowance of foam out, or so much of it in the seam', () => {
    // Panel 13 × 15 in with 3/8 in allowance: foam 12 1/4 × 14 1/4 in without, 12 1/2 × 14 1/2 with 1/8 left in the
    // seam (worked from the practice described at getasquiltingstudio.com, "Tips for sewing with foam", 2021).
    expect(sizeIn(panel, { allowance: 'none' })).toEqual([12.25, 14.25]);
    expect(sizeIn(panel, { allowance: 'partly', inSeamMm: INCH / 8 })).toEqual([12.5, 14.5]);
    expect(sizeIn(panel, { allowance: 'partly', inSeamMm: INCH })).toEqual([13, 15]);
  });

  it('cuts larger for quilting and smaller for a lining, the same from cut line or sew line', () => {
    const sewn = pieceOf(rectangle(12.25 * INCH, 14.25 * INCH), { line: 'sew', allowanceMm: 0.375 * INCH });
    for (const piece of [panel, sewn]) {
      expect(sizeIn(piece, { roughMm: INCH })).toEqual([15, 17]);
      expect(sizeIn(piece, { largerMm: -INCH / 4 })).toEqual([12.5, 14.5]);
      expect(sizeIn(piece, { allowance: 'none' })).toEqual([12.25, 14.25]);
    }
  });

  it('never moves a fold edge', () => {
    fc.assert(
      fc.property(fc.integer({ min: 40, max: 200 }), fc.integer({ min: -10, max: 30 }), (width, by) => {
        const half = pieceOf(rectangle(width, 100), { foldEdge: 3 });
        const sized = pieceIn(half, sizing({ largerMm: by }));
        if (!sized.ok) throw new Error('nothing is left');
        expect(areaOf(wholeShape(sized.piece))).toBeCloseTo((2 * width + 2 * by) * (100 + 2 * by), 6);
      }),
    );
  });

  it('says what can’t be cut, and packs and totals what can', () => {
    const foam: Material = { id: 'foam', name: 'Foam', role: 'foam', ...sizing({ allowance: 'none' }) };
    const tiny = { ...pieceOf(rectangle(15, 15), { allowanceMm: 10 }), id: 'tiny', name: 'Tab' };
    const one = project([foam], [row('p', 'foam', 2), row('tiny', 'foam', 1)], [panel, tiny]);
    const { demands, notices } = demandsFor(one, 'foam');
    expect(demands.map(({ demand }) => [demand.id, demand.plain])).toEqual([['p', 2]]);
    expect(notices.map(({ text }) => text)).toEqual([
      expect.stringContaining('Tab in Foam: nothing of it is left'),
    ]);
    expect(totals(one)[0]!.areaMm2).toBeCloseTo(2 * 12.25 * 14.25 * INCH * INCH, 3);
  });
});

describe('the project as it is cut', () => {
  it('has a piece for each size, and leaves out what no material cuts as drawn', () => {
    const none: Sizing = { allowance: 'none', inSeamMm: 0, largerMm: 0, roughMm: 0 };
    const foam: Material = { id: 'foam', name: 'Foam', role: 'foam', sizing: none };
    const pad = { ...pieceOf(rectangle(100, 100), { allowanceMm: 10 }), id: 'pad', name: 'Pad' };
    const flap = { ...pad, id: 'flap', name: 'Flap' };
    const spare = { ...pad, id: 'spare', name: 'Spare' };
    const cut = projectAsCut(
      project(
        [VINYL, foam],
        [row('flap', 'vinyl', 1), row('flap', 'foam', 2), row('pad', 'foam', 1)],
        [flap, pad, spare],
      ),
    );
    expect(cut.pieces.map(({ name }) => name)).toEqual(['Flap', 'Flap (Foam)', 'Pad (Foam)', 'Spare']);
    expect(areaOf(cutShape(cut.pieces[1]!))).toBeCloseTo(80 * 80, 6);
    expect(cut.cutList.map(({ pieceId }) => pieceId)).toEqual(['flap', 'flap.foam', 'pad.foam']);
    const plain = project([VINYL], [row('flap', 'vinyl', 1)], [flap]);
    expect(projectAsCut(plain)).toBe(plain);
  });
});

describe('sets', () => {
  const bag = project(
    [VINYL],
    [row('p', 'vinyl', 2, { mirrored: 1 })],
    [pieceOf(rectangle(120, 220), { allowanceMm: 10 })],
  );
  const withSets: Project = {
    ...bag,
    sets: [
      { id: 's', name: 'small', times: 2, alongPercent: 50, acrossPercent: 50 },
      { id: 'm', name: 'as drawn', times: 3, alongPercent: 100, acrossPercent: 100 },
    ],
  };

  it('asks for every set, sizes apart, with the numbers of the sets and the allowance unscaled', () => {
    const { demands } = demandsFor(withSets, 'vinyl');
    expect(demands.map(({ demand, sets }) => [demand.id, demand.plain, demand.mirrored, sets])).toEqual([
      ['p', 6, 3, [3, 4, 5]],
      ['p~size2', 4, 2, [1, 2]],
    ]);
    const box = shapeSize({ outline: demands[1]!.demand.outline, holes: [] }, 90);
    // Sew line 100 × 200 becomes 50 × 100; 10 mm stay on each side.
    expect([box.widthMm, box.heightMm]).toEqual([70, 120]);
    expect(totals(withSets)[0]).toMatchObject({ plain: 10, mirrored: 5, copies: 15 });
    expect(totals(withSets)[0]!.areaMm2).toBeCloseTo(9 * 120 * 220 + 6 * 70 * 120, 6);
  });
});
