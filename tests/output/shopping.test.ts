import { describe, expect, it } from 'vitest';
import type { ClothLay, Project } from '../../pattern/exchange/project.ts';
import { shoppingList, shoppingSheets, shoppingTable, toCsv, toRecords } from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { remnant, singleLayer, twoSegments } from '../plan/sampleLays.ts';

const withPrice = (project: Project, cents: number | null): Project => ({
  ...project,
  cloths: project.cloths.map((cloth) => ({ ...cloth, priceCentsPerMetre: cents })),
});

describe('the shopping list', () => {
  const { lay, project } = singleLayer();
  const complete: ClothLay = { ...lay, verdict: 'fits', costCents: 1230 };

  it('has the cheapest complete layout of each material in steps of the shop, and what it leaves', () => {
    const dearer: ClothLay = { ...complete, spread: 'folded', usedMm: lay.usedMm - 100, costCents: 1500 };
    const open: ClothLay = { ...complete, spread: 'middle', verdict: 'not found', costCents: 1 };
    const { lines, costCents } = shoppingList(withPrice(project, 2000), [dearer, complete, open]);
    expect(lines[0]?.buy).toMatchObject({
      buyMm: lay.buyMm,
      spread: 'single',
      spareMm: lay.buyMm - lay.usedMm,
    });
    expect(costCents).toBe(1230);
  });

  it('takes the shortest where not everything has a price, and says that the sum is not all', () => {
    const other: ClothLay = {
      ...complete,
      spread: 'folded',
      buyMm: lay.buyMm - 100,
      usedMm: 1,
      costCents: null,
    };
    const list = shoppingList(
      {
        ...project,
        cutting: {
          ...project.cutting,
          notions: [{ id: 'n', name: 'Thread', amount: '2 spools', costCents: 450, bought: true }],
        },
      },
      [complete, other],
    );
    expect(list.lines[0]?.buy?.spread).toBe('folded');
    expect(list).toMatchObject({ costCents: 450, isPartly: true });
  });

  it('buys nothing where a remnant is enough, and says which is taken', () => {
    const sample = remnant();
    const { lines } = shoppingList(sample.project, [{ ...sample.lay, verdict: 'fits' }]);
    expect(lines[0]?.buy).toBeNull();
    expect(lines[0]?.taken).toMatchObject([{ clothId: sample.lay.clothId, place: null, lengthMm: null }]);
    expect(lines[0]?.state).toBe('settled');
  });

  it('takes what is on the shelf from where it lies there, a length of a roll too, and buys and charges nothing', () => {
    const shelved = (of: Project, shelfId: string): Project => ({
      ...withPrice(of, 2000),
      cloths: of.cloths.map((cloth) => ({ ...cloth, shelfId })),
    });
    const roll = shelved(project, 'bolt');
    const list = shoppingList(roll, [complete], { bolt: 'box 3' });
    const pieces = lay.segments
      .flatMap(({ placed }) => placed)
      .reduce((sum, { hand }) => sum + (hand === 'pair' ? 2 : 1), 0);
    expect(list.lines[0]).toMatchObject({
      buy: null,
      state: 'settled',
      taken: [{ clothId: lay.clothId, place: 'box 3', lengthMm: lay.usedMm, pieces }],
    });
    expect(list.costCents).toBeNull();
    const [row] = toRecords(shoppingTable(list)).rows;
    expect(row).toMatchObject({ kind: 'shelf', place: 'box 3', take_mm: lay.usedMm, buy_mm: null, pieces });

    const sample = remnant();
    const rest = shoppingList(shelved(sample.project, 'rest'), [{ ...sample.lay, verdict: 'fits' }]);
    expect(rest.lines[0]?.taken).toMatchObject([{ place: '', lengthMm: null }]);
    const words = (of: typeof list) =>
      shoppingSheets(project, of, { page: 'a4', units: 'cm' })
        .flatMap(({ drawing }) => flatItems(drawing))
        .flatMap((item) => (item.kind === 'text' ? [item.text] : []));
    expect(words(list).some((text) => text.startsWith('from the shelf, box 3 · '))).toBe(true);
    expect(words(rest).some((text) => text.startsWith('from the shelf · '))).toBe(true);
  });

  it('says what is not laid out, and what has no complete layout', () => {
    expect(shoppingList(project, []).lines.map(({ state }) => state)).toContain('notLaid');
    expect(shoppingList(project, [{ ...lay, verdict: 'not found' }]).lines[0]?.state).toBe('open');
  });

  it('is written with names that would run as names only', () => {
    const sample = twoSegments();
    const list = shoppingList(
      {
        ...sample.project,
        cutting: {
          ...sample.project.cutting,
          notions: [{ id: 'n', name: '=1+1', amount: '<i>3</i>', costCents: null, bought: false }],
        },
      },
      [{ ...sample.lay, verdict: 'fits' }],
    );
    expect(toCsv(shoppingTable(list))).toContain(",'=1+1,<i>3</i>,");
    const words = shoppingSheets(sample.project, list, { page: 'letter', units: 'in' })
      .flatMap(({ drawing }) => flatItems(drawing))
      .flatMap((item) => (item.kind === 'text' ? [item.text] : []));
    expect(words).toContain('<i>3</i>');
    expect(words.some((text) => / yd$/.test(text))).toBe(true);
  });
});
