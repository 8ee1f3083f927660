import { describe, expect, it } from 'vitest';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';
import type { SetsVary } from '../../pattern/exchange/setsQuestion.ts';
import { answerRequest } from '../../pattern/lay/answerRequest.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';
import { pieceFromRectangle } from '../../pattern/measurements/index.ts';
import { pieceFromShape } from '../../pattern/shapes/index.ts';
import { INCH, solveChecked } from '../support/layOf.ts';

/** Tote bags of two panels and one gusset, cut from one piece of cloth of known length. */
function totes(gussetIn: number, cloth: object = {}): Project {
  const piece = (id: string, across: number, along: number) =>
    pieceFromRectangle({ id, name: id, acrossMm: across * INCH, alongMm: along * INCH });
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: 'totes',
    units: 'in',
    pieces: [piece('panel', 15, 13), piece('gusset', 43, gussetIn)],
    materials: [{ id: 'main', name: 'Paisley' }],
    cutList: [
      { pieceId: 'panel', materialId: 'main', plain: 2 },
      { pieceId: 'gusset', materialId: 'main', plain: 1 },
    ],
    cloths: [
      {
        kind: 'roll',
        id: 'c',
        name: 'Paisley',
        materialId: 'main',
        widthMm: 45 * INCH,
        availableMm: 118 * INCH,
        ...cloth,
      },
    ],
  });
}

const never = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} };

function ask(
  project: Project,
  vary: SetsVary | null = null,
  report: (progress: LayProgress) => void = () => {},
  signal = never,
): Promise<LayProgress> {
  const request = layRequestSchema.parse({
    project,
    seconds: 4,
    maxSteps: 4000,
    question: { kind: 'sets', vary },
  });
  return answerRequest(request, solveChecked, report, signal);
}

// A tote-bag case: 118 × 45 in of cloth, a bag of two 13 × 15 in panels and a 43 in gusset of 7 to 9 in (Peschel Press,
// "Tote bag case study: laying brown floral paisley cloth",
// https://peschelpress.com/tote-bag-case-study-laying-brown-floral-paisley-cloth). Six bags with 8 in gussets take
// 4 × 13 + 6 × 8 = 100 in, seven 5 × 13 + 7 × 8 = 121 in; with 7 1/2 in gussets seven take 117 1/2 in (our arithmetic).
describe('how many sets a cloth gives', () => {
  it('finds six bags with gussets of 8 inches, and says that seven were not found', async () => {
    const seen: number[] = [];
    const { answer, results } = await ask(totes(8), null, (progress) =>
      seen.push(progress.answer!.tries.length),
    );
    expect(answer!.found).toEqual([{ sets: 6, sizeMm: null }]);
    // 5310 sq in of cloth, 734 a bag.
    expect(answer!.atMost).toBe(7);
    expect(answer!.tries.find(({ sets }) => sets === 7)?.verdict).not.toBe('fits');
    expect(results[0]!.verdict).toBe('fits');
    expect(results[0]!.segments[0]!.placed).toHaveLength(18);
    expect(results[0]!.usedMm).toBeLessThanOrEqual(118 * INCH);
    expect(seen.length).toBeGreaterThan(1);
  });

  it('finds seven where the gusset may be narrower, and the widest gusset for each number', async () => {
    const vary = {
      pieceIds: ['gusset'],
      side: 'along',
      fromMm: 7 * INCH,
      toMm: 9 * INCH,
      stepMm: INCH / 2,
    } as const;
    const { answer, results } = await ask(totes(8), vary);
    expect(answer!.found.map(({ sets, sizeMm }) => [sets, Math.round((sizeMm! / INCH) * 100) / 100])).toEqual(
      [
        [7, 7.5],
        [6, 9],
      ],
    );
    expect(results[0]!.segments[0]!.placed).toHaveLength(21);
  });

  it('varies a measure of a piece by formula: the depth of the bag', async () => {
    const gusset = pieceFromShape('gusset', 'gusset', {
      shape: 'gusset',
      measures: { width: 13 * INCH, height: 15 * INCH, depth: 8 * INCH, seam: 0, hem: 0 },
      line: 'cut',
      allowanceMm: 0,
    });
    const base = totes(8);
    // The gusset's length runs along its own grain: laid across the cloth here, as above.
    const project = { ...base, pieces: [base.pieces[0]!, { ...gusset, grainDeg: 0 }] };
    const vary = {
      pieceIds: ['gusset'],
      side: 'depth',
      fromMm: 7 * INCH,
      toMm: 9 * INCH,
      stepMm: INCH,
    } as const;
    const { answer } = await ask(project, vary);
    expect(answer!.found.map(({ sets, sizeMm }) => [sets, Math.round(sizeMm! / INCH)])).toEqual([
      [7, 7],
      [6, 9],
    ]);
  });

  it('asks for cloth with an end and for measurements that can vary', async () => {
    const endless = await ask(totes(8, { availableMm: null }));
    expect(endless.notices.map(({ code }) => code)).toEqual(['needsLength']);
    const drawn = totes(8);
    const { source: _source, ...panel } = drawn.pieces[0]!;
    const vary = { pieceIds: ['panel'], side: 'along', fromMm: 100, toMm: 200, stepMm: 10 } as const;
    const fixed = await ask({ ...drawn, pieces: [panel, drawn.pieces[1]!] }, vary);
    expect(fixed.notices.map(({ code }) => code)).toEqual(['notMeasured']);
  });

  it('answers with none where not even one fits, and ends when it is told to', async () => {
    const { answer } = await ask(totes(8, { availableMm: 14 * INCH, widthMm: 50 * INCH }));
    expect(answer!.found).toEqual([]);
    const listeners = new Set<() => void>();
    const signal = {
      aborted: false,
      addEventListener: (_type: 'abort', listener: () => void) => listeners.add(listener),
      removeEventListener: (_type: 'abort', listener: () => void) => listeners.delete(listener),
    };
    const stopped = await ask(
      totes(8),
      null,
      () => {
        signal.aborted = true;
        for (const listener of [...listeners]) listener();
      },
      signal as unknown as typeof never,
    );
    expect(stopped.answer!.tries).toHaveLength(1);
  });
});
