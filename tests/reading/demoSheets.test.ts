import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { saddleRollTiled } from '../../fixtures/patterns/drawTiled.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import { bodyPanel, liningBodyHalf, sideGusset } from '../../pattern/demo/shapes.ts';
import { pieceSchema } from '../../pattern/exchange/project.ts';
import { joinPieces } from '../../pattern/parts/index.ts';
import { jointProposals } from '../../pattern/proposals/jointLetters.ts';
import { linesInside } from '../../pattern/proposals/linesInside.ts';
import type { DrawingOutline, ReadDrawing } from '../../pattern/reading/drawing.ts';
import { readPdf } from '../../pattern/reading/index.ts';
import { findTestSquare } from '../../pattern/reading/trueSize.ts';
import { ROOT } from '../support/sharedFolder.ts';
import { drawn } from './readings.ts';

const bytes = new Uint8Array(readFileSync(`${ROOT}fixtures/patterns/saddle-roll-a4.pdf`));

describe('the demo pattern in sheets', () => {
  let drawing: ReadDrawing;
  const named = (name: string): DrawingOutline => {
    const found = drawing.outlines.find(({ suggestedName }) => suggestedName === name);
    if (!found) throw new Error(`no outline ${name}`);
    return found;
  };
  beforeAll(async () => {
    drawing = drawn(await readPdf(bytes, 'saddle-roll-a4.pdf', { sheets: 'find' }));
  });

  it('is what the script draws', () => {
    expect(Buffer.from(bytes).equals(Buffer.from(saddleRollTiled()))).toBe(true);
  });

  it('comes together from twelve sheets, at true size by its test square', () => {
    expect(drawing.sheets).toMatchObject({ sheets: 12, loose: 0 });
    expect(findTestSquare(drawing)).toMatchObject({ sure: true, verdict: { trueToSize: true } });
    expect(drawing.outlines.filter(({ depth }) => depth === 0)).toHaveLength(8);
  });

  it('has its parts joined at their letters to the shapes of the demo project', () => {
    const { pairs, lone } = jointProposals(drawing);
    expect(lone).toEqual([]);
    expect(pairs.map(({ letter }) => letter)).toEqual(['A', 'B']);
    const pieceOf = (id: string) => {
      const outline = drawing.outlines.find((entry) => entry.id === id);
      return pieceSchema.parse({ id: 'part', name: id, outline: outline?.ring });
    };
    for (const [pair, whole] of [
      [pairs[0], bodyPanel()],
      [pairs[1], sideGusset()],
    ] as const) {
      if (!pair) throw new Error('a pair is missing');
      const { first, second } = pair;
      const at = { way: 'butt', lapMm: 0, first, second } as const;
      const { shape } = joinPieces(pieceOf(first.outlineId), pieceOf(second.outlineId), at, 'mm');
      const [box, drawnBox] = [boundingBox(shape.outline), boundingBox(whole)];
      expect(box.maxX - box.minX).toBeCloseTo(drawnBox.maxX, 2);
      expect(box.maxY - box.minY).toBeCloseTo(drawnBox.maxY, 2);
      // The file holds coordinates to a millionth of a point, and the joint takes its side's straight part as drawn.
      expect(signedArea(shape.outline) / signedArea(whole)).toBeCloseTo(1, 3);
    }
  });

  it('marks the fold of the lining with a bracket, and every grain with an arrow', () => {
    const lining = named('Lining body');
    const { fold, grain } = linesInside(drawing, lining);
    expect(fold).toMatchObject({ by: 'bracket' });
    const edge = [0, 1].map(
      (i) => lining.ring[((fold?.edge ?? 0) + i) % lining.ring.length]?.[0] ?? Number.NaN,
    );
    for (const x of edge) expect(x - lining.box.minX).toBeCloseTo(0, 4);
    expect(grain).toMatchObject({ deg: 90, by: 'arrow', sure: true });
    // Twice the half is the body (the lining is drawn by the same line).
    expect((2 * lining.areaMm2) / (2 * signedArea(liningBodyHalf()))).toBeCloseTo(1, 3);
    for (const name of ['Body', 'Body, right part', 'Flap', 'Front pocket', 'Side gusset'])
      expect(linesInside(drawing, named(name)).grain, name).toMatchObject({ deg: 90, sure: true });
  });
});
