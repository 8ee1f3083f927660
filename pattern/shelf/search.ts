import type { ShelfEntry } from '../exchange/shelf.ts';

/** The entries in whose words every word looked for appears, in any order, capitals and accents aside. */
export function searchShelf(entries: readonly ShelfEntry[], query: string): readonly ShelfEntry[] {
  const words = plain(query)
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return entries;
  return entries.filter((entry) => {
    const text = plain(
      [
        entry.cloth.name,
        entry.fibre,
        entry.place,
        entry.cloth.notes,
        entry.leftFrom ?? '',
        ...(entry.plan
          ? [entry.plan.projectName, entry.plan.name, ...entry.plan.pieces.map(({ name }) => name)]
          : []),
        stateText(entry),
      ].join(' '),
    );
    return words.every((word) => text.includes(word));
  });
}

function stateText({ state }: ShelfEntry): string {
  return state.kind === 'free' ? '' : state.projectName;
}

function plain(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase();
}
