import { describe, expect, it } from 'vitest';
import { type Solve, search } from '../../../nesting/index.ts';
import { checkProject, totalCopies } from '../../../pattern/cutList/index.ts';
import { demoProject } from '../../../pattern/demo/demoProject.ts';
import { layRequestSchema } from '../../../pattern/exchange/lay.ts';
import { projectSchema } from '../../../pattern/exchange/project.ts';
import { runLay } from '../../../pattern/lay/runLay.ts';
import { checkPiece } from '../../../pattern/pieces/index.ts';

describe('the demo project', () => {
  const project = demoProject();

  it('is a valid project that nothing is to be said about', () => {
    expect(projectSchema.parse(project)).toEqual(project);
    expect(checkProject(project)).toEqual([]);
    for (const piece of project.pieces) expect(checkPiece(piece)).toEqual([]);
  });

  it('is made anew each time, always the same', () => {
    expect(demoProject()).toEqual(project);
  });

  it('shows each rule: pairs, the fold, measurements, nap, free turning, a flaw, six materials', () => {
    expect(totalCopies(project)).toBeGreaterThanOrEqual(30);
    expect(totalCopies(project)).toBeLessThanOrEqual(45);
    expect(project.materials).toHaveLength(6);
    expect(project.cutList.some((row) => row.plain > 0 && row.plain === row.mirrored)).toBe(true);
    expect(project.cutList.some((row) => row.onFold > 0)).toBe(true);
    expect(project.pieces.some((piece) => piece.source?.kind === 'measured')).toBe(true);
    expect(project.cloths.some((cloth) => cloth.nap === 'oneWay')).toBe(true);
    expect(project.cloths.some((cloth) => cloth.turn === 'free')).toBe(true);
    expect(project.cloths.some((cloth) => cloth.kind === 'remnant' && cloth.flaws.length > 0)).toBe(true);
    expect(project.layChoices.map((choice) => choice.materialId)).toEqual(
      project.materials.map(({ id }) => id),
    );
  });

  it('fits: every piece finds its place on every cloth, the costly remnant included', async () => {
    // A few steps are enough. The questions are counted too, for a layout that can't get shorter takes no step.
    const solve: Solve = async (problem, { seed }) => {
      let asked = 0;
      return search(problem, { seed, maxSteps: 3, shouldStop: () => ++asked > 20_000 });
    };
    const request = layRequestSchema.parse({ project, seconds: 5 });
    const { results } = await runLay(request, solve, () => {}, new AbortController().signal);
    expect(results.map(({ clothId, spread, verdict }) => `${clothId} ${spread} ${verdict}`)).toEqual([
      'canvas-roll single fits',
      'canvas-roll folded fits',
      'canvas-roll sequence fits',
      'canvas-roll partial fits',
      'canvas-roll middle fits',
      'canvas-roll crosswise fits',
      'vinyl-remnant single fits',
      'lining-roll folded fits',
      'interfacing-roll single fits',
      'foam-sheet single fits',
      'corduroy-roll single fits',
    ]);
    expect(results.flatMap((result) => result.unplaced)).toEqual([]);
    // Tight, but not a puzzle.
    const vinyl = results.find((result) => result.clothId === 'vinyl-remnant')!;
    expect(vinyl.usePercent).toBeGreaterThan(60);
    expect(vinyl.usePercent).toBeLessThan(75);
  });
});
