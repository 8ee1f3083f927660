import { describe, expect, it } from 'vitest';
import type { ClothLay, Project } from '../../pattern/exchange/project.ts';
import { shoppingList, shoppingSheets, shoppingTable, toCsv } from '../../pattern/output/index.ts';
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
    expect(lines[0]?.taken).toMatchObject([{ clothId: sample.lay.clothId }]);
    expect(lines[0]?.state).toBe('settled');
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
