import { describe, expect, it } from 'vitest';
import { Shelf, type ShelfWorld } from '../../client/state/shelf.ts';
import { offersFor, setOffers, takeBasket } from '../../client/state/shopCommands.ts';
import { projectSchema } from '../../pattern/exchange/project.ts';
import type { ShelfChangeInput, ShelfEntry } from '../../pattern/exchange/shelf.ts';
import type { Basket, Offer } from '../../pattern/exchange/whatToBuy.ts';
import { box, smallProject } from '../support/layOf.ts';

const entry = (id: string): ShelfEntry => ({ id, state: { kind: 'free' } }) as ShelfEntry;

/** A server whose shelf holds the ids it was given; it refuses to remove what is not there. */
function shelfOf(...ids: string[]) {
  const asked: ShelfChangeInput[] = [];
  const undone: number[] = [];
  const world: ShelfWorld = {
    read: async () => ids.map(entry),
    change: async (change) => {
      asked.push(change);
      if (change.kind === 'remove' && !ids.includes(change.ids[0]!)) throw new Error('not there');
      return { entries: [], change: asked.length };
    },
    undo: async (number) => {
      undone.push(number);
      return { entries: ids.map(entry) };
    },
    explain: (error) => (error as Error).message,
    words: { undone: 'taken back' },
  };
  return { shelf: new Shelf(world), asked, undone };
}

describe('the shelf on the page', () => {
  it('says what was done and takes it back', async () => {
    const { shelf, undone } = shelfOf('a');
    await shelf.read();
    expect(shelf.entries.value).toHaveLength(1);
    expect(await shelf.do({ kind: 'remove', ids: ['a'] }, 'gone')).toBe(true);
    expect(shelf.entries.value).toEqual([]);
    expect(shelf.news.value).toMatchObject({ text: 'gone', isBad: false });
    await shelf.news.value?.takeBack?.();
    expect(undone).toEqual([1]);
    expect(shelf.entries.value).toHaveLength(1);
    expect(shelf.news.value).toMatchObject({ text: 'taken back', takeBack: null });
  });

  it('says why a step was refused, and shows what was there before', async () => {
    const { shelf } = shelfOf('a');
    await shelf.read();
    expect(await shelf.do({ kind: 'remove', ids: ['b'] }, 'gone')).toBe(false);
    expect(shelf.news.value).toMatchObject({ text: 'not there', isBad: true, takeBack: null });
    expect(shelf.entries.value).toHaveLength(1);
  });
});

describe('offers and baskets', () => {
  const project = smallProject({
    pieces: [{ name: 'panel', outline: box(300, 200), plain: 1 }],
    cloth: { kind: 'remnant', outline: box(100, 100) },
  });
  const material = project.materials[0]!;
  const offer: Offer = {
    kind: 'sheet',
    id: 'o',
    name: 'Fat quarter',
    alongMm: 500,
    acrossMm: 550,
    priceCents: 350,
    left: null,
  };

  it('keeps what shops have with the project, material by material', () => {
    const changed = projectSchema.parse(setOffers(material, [offer]).run(project));
    expect(offersFor(changed, material.id)).toEqual([offer]);
    expect(offersFor(changed, 'other')).toEqual([]);
    expect(offersFor(projectSchema.parse(setOffers(material, []).run(changed)), material.id)).toEqual([]);
  });

  it('plans with a basket: what is there first, then as many sheets as are bought', () => {
    const own = project.cloths[0]!;
    const sheet = { ...own, id: 'o', name: 'Fat quarter', quantity: 9 };
    const line = { name: '', lengthMm: 0, spareMm: 0, costCents: 0 };
    const basket: Basket = {
      lines: [
        { ...line, offerId: null, clothId: own.id, count: 1 },
        { ...line, offerId: 'o', clothId: 'o', count: 2 },
      ],
      costCents: 700,
      cloths: [own, sheet],
      results: [],
    };
    const command = takeBasket(material, basket);
    const changed = projectSchema.parse(command.run(project));
    expect(changed.cloths).toHaveLength(2);
    const bought = changed.cloths[1]!;
    expect(bought).toMatchObject({ name: 'Fat quarter', quantity: 2 });
    expect(changed.layChoices).toMatchObject([{ materialId: material.id, clothIds: [own.id, bought.id] }]);
    // The same command gives the same document: it can be redone.
    expect(command.run(project)).toEqual(command.run(project));
  });
});
