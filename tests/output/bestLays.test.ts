import { describe, expect, it } from 'vitest';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type ClothLay, type Roll, remnantSchema, rollSchema } from '../../pattern/exchange/project.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { bestOnRoll, laysToCut } from '../../pattern/output/bestLays.ts';
import { box, smallProject, solveChecked } from '../support/layOf.ts';

/** A layout as the engine gives it, with other lengths and counts. */
async function layouts(...of: Partial<ClothLay>[]): Promise<ClothLay[]> {
  const request = layRequestSchema.parse({
    project: smallProject({
      cloth: { kind: 'roll', widthMm: 500, shopStepMm: 100 },
      pieces: [{ name: 'p', outline: box(200, 200), plain: 2 }],
    }),
    choices: [{ materialId: 'cloth', spread: 'single' }],
    maxSteps: 5,
  });
  const { results } = await runLay(request, solveChecked, () => {}, new AbortController().signal);
  return of.map((over) => ({ ...results[0]!, ...over }));
}

/** A roll that the layout could be of. */
function rollOf({ clothId, materialId }: ClothLay): Roll {
  return rollSchema.parse({ kind: 'roll', id: clothId, name: 'Roll', materialId, widthMm: 500 });
}

describe('the layout taken of several ways to lay a roll', () => {
  it('is the cheapest, then the shortest, then the one with the fewest pieces to trace', async () => {
    const lays = await layouts(
      { costCents: 900, usedMm: 300, piecesToTrace: 1 },
      { costCents: 800, usedMm: 420, piecesToTrace: 1 },
      { costCents: 800, usedMm: 400.2, piecesToTrace: 9 },
      { costCents: 800, usedMm: 400.9, piecesToTrace: 5 },
      { costCents: 800, usedMm: 400, piecesToTrace: 6 },
    );
    expect(bestOnRoll(lays)).toBe(lays[3]);
  });

  it('goes by the length to buy where a price is missing, and is never one that is not complete', async () => {
    const lays = await layouts(
      { costCents: null, buyMm: 500 },
      { costCents: 800, buyMm: 400 },
      { costCents: 100, buyMm: 300, verdict: 'not found' },
    );
    expect(bestOnRoll(lays)).toBe(lays[1]);
    expect(bestOnRoll(lays.slice(2))).toBeNull();
    expect(bestOnRoll([])).toBeNull();
  });
});

describe('what is cut from when ways to lay were compared', () => {
  async function compared() {
    const [short, long, open] = await layouts(
      { spread: 'folded', usedMm: 400, buyMm: 400 },
      { spread: 'single', usedMm: 450, buyMm: 500 },
      { clothId: 'second', verdict: 'not found', spread: 'single' },
    );
    const roll = rollOf(short!);
    const remnant = remnantSchema.parse({
      kind: 'remnant',
      id: 'rest',
      name: 'Rest',
      materialId: short!.materialId,
      outline: box(300, 300),
    });
    const onRest: ClothLay = { ...open!, clothId: 'rest', usedMm: 0 };
    const lays = [onRest, { ...open!, clothId: 'gone' }, long!, short!, open!];
    const project = { ...emptyProject('Small'), cloths: [remnant, roll, { ...roll, id: 'second' }] };
    const { materialId, clothId } = short!;
    const chosen = (cut: { clothId?: string; spread: ClothLay['spread'] }): typeof project => ({
      ...project,
      cutting: { ...project.cutting, cutBy: [{ materialId, clothId, ...cut }] },
    });
    return { lays, project, chosen, onRest, short, long, open };
  }

  it('is every remnant and the best layout of all rolls of the material', async () => {
    const { lays, project, onRest, short } = await compared();
    expect(laysToCut(project, lays)).toEqual([onRest, short]);
  });

  it('is the layout the maker chose, complete or not, and the best again where that is gone', async () => {
    const { lays, chosen, onRest, short, long, open } = await compared();
    expect(laysToCut(chosen({ spread: 'single' }), lays)).toEqual([onRest, long]);
    expect(laysToCut(chosen({ clothId: 'second', spread: 'single' }), lays)).toEqual([onRest, open]);
    expect(laysToCut(chosen({ spread: 'middle' }), lays)).toEqual([onRest, short]);
    expect(laysToCut(chosen({ clothId: 'gone', spread: 'single' }), lays)).toEqual([onRest, short]);
  });

  it('is one of each material', async () => {
    const { lays, chosen, onRest, short, long } = await compared();
    const other = lays.map((lay) => ({ ...lay, materialId: 'other' }));
    const both = laysToCut(chosen({ spread: 'single' }), [...lays, ...other]);
    expect(both).toEqual([onRest, long, ...[onRest, short].map((lay) => ({ ...lay, materialId: 'other' }))]);
  });
});
