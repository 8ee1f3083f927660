import type { Material, Project } from '../../pattern/exchange/project.ts';
import type { Basket, Offer } from '../../pattern/exchange/whatToBuy.ts';
import type { Command } from './command.ts';
import { freshId } from './ids.ts';

/** What shops have for a material. */
export function offersFor(project: Project, materialId: string): readonly Offer[] {
  return (project.offers ?? []).filter((one) => one.materialId === materialId).map(({ offer }) => offer);
}

/** Replaces what shops have for a material. @param together key of one undo step, while something is typed */
export function setOffers(material: Material, offers: readonly Offer[], together?: string): Command {
  return {
    name: 'setOffers',
    subject: material.name,
    ...(together === undefined ? {} : { together }),
    run: (project) => ({
      ...project,
      offers: [
        ...(project.offers ?? []).filter(({ materialId }) => materialId !== material.id),
        ...offers.map((offer) => ({ materialId: material.id, offer })),
      ],
    }),
  };
}

/**
 * The cloths bought of a basket become cloths of the project, in the size bought, and are what the material is laid on,
 * after the cloths of its own that the basket uses.
 */
export function takeBasket(material: Material, basket: Basket): Command {
  const bought = basket.lines.flatMap((line) => {
    const cloth = basket.cloths.find(({ id }) => id === line.clothId);
    if (line.offerId === null || !cloth) return [];
    const id = freshId('cloth');
    return [cloth.kind === 'remnant' ? { ...cloth, id, quantity: line.count } : { ...cloth, id }];
  });
  const own = basket.lines.filter(({ offerId }) => offerId === null).map(({ clothId }) => clothId);
  return {
    name: 'takeBasket',
    subject: bought.map(({ name }) => name).join(', '),
    run: (project) => {
      const there = own.filter((id) => project.cloths.some((cloth) => cloth.id === id));
      const clothIds = [...there, ...bought.map(({ id }) => id)];
      const others = project.layChoices.filter(({ materialId }) => materialId !== material.id);
      const before = project.layChoices.find(({ materialId }) => materialId === material.id);
      const choice = { spread: 'single' as const, ...before, materialId: material.id, clothIds };
      return { ...project, cloths: [...project.cloths, ...bought], layChoices: [...others, choice] };
    },
  };
}
