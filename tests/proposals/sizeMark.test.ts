/** Print-scale arithmetic: what is drawn at a share s of its size is true again at 1/s, lengths by it, areas by its square. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { checkProject } from '../../pattern/cutList/index.ts';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { projectSchema } from '../../pattern/exchange/project.ts';
import {
  correctedPiece,
  markedPiece,
  sizeMarkIn,
  sizeMarkOf,
  sizeWarnings,
} from '../../pattern/proposals/sizeMark.ts';
import { findTestSquare } from '../../pattern/reading/index.ts';
import { read } from '../reading/readings.ts';

const project = demoProject();
const drawn = project.pieces.find(({ source }) => source?.kind === 'drawing')!;
const factor = fc.double({ min: 0.8, max: 1.25, noNaN: true });

describe('a drawing that is not true to size', () => {
  it('is marked by a sure test square only', () => {
    const square = (mm: number, words: string) =>
      sizeMarkOf(
        findTestSquare(
          read(`<rect x="10" y="10" width="${mm}" height="${mm}" fill="none" stroke="#000" stroke-width="0.01"/>
            <text x="14" y="34" font-size="4">${words}</text>`),
        ),
      );
    // Letter fitted to A4, or so: 94.07 % and 97.27 % are what printers make of it.
    expect(square(47.035, 'Test square 5 cm')?.factorX).toBeCloseTo(1 / 0.9407, 3);
    expect(square(50.1, 'Test square 5 cm')).toBeNull();
    expect(square(47.035, 'Pocket')).toBeNull();
  });

  it('keeps the mark in the project, warns of it, and says so on the plan', () => {
    const marked = markedPiece(drawn, { factorX: 1.063, factorY: 1.063 });
    const changed = { ...project, pieces: project.pieces.map((piece) => (piece === drawn ? marked : piece)) };
    const kept = projectSchema.parse(JSON.parse(JSON.stringify(changed)));
    expect(kept.pieces.map(sizeMarkIn).filter((mark) => mark !== null)).toHaveLength(1);
    const codes = (of: typeof project) => checkProject(of).map(({ code }) => code);
    expect(codes(kept)).toContain('notTrueToSize');
    expect(codes(project)).not.toContain('notTrueToSize');
    expect(sizeWarnings(kept, new Set([drawn.id]), 'en')).toHaveLength(1);
    expect(sizeWarnings(kept, new Set(), 'en')).toEqual([]);
  });

  it('is corrected in length and area, and bears no mark afterwards', () => {
    fc.assert(
      fc.property(factor, factor, (factorX, factorY) => {
        const corrected = correctedPiece(markedPiece(drawn, { factorX, factorY }));
        expect(signedArea(corrected.outline) / (signedArea(drawn.outline) * factorX * factorY)).toBeCloseTo(
          1,
          9,
        );
        expect(sizeMarkIn(corrected)).toBeNull();
        const grain = (degrees: number) => Math.tan((degrees * Math.PI) / 180);
        const slanted = correctedPiece(markedPiece({ ...drawn, grainDeg: 30 }, { factorX, factorY }));
        expect(grain(slanted.grainDeg)).toBeCloseTo((grain(30) * factorY) / factorX, 9);
      }),
    );
  });

  it('is left as it is where the maker says so', () => {
    expect(markedPiece(markedPiece(drawn, { factorX: 1.1, factorY: 1.1 }), null)).toEqual(drawn);
  });
});
