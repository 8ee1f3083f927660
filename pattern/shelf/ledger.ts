import {
  MOST_ENTRIES,
  ON_SHELF,
  type ShelfChange,
  type ShelfEntry,
  type ShelfItem,
} from '../exchange/shelf.ts';

/** An entry before and after a step; null where it was not there, or is not any longer. */
export interface Touched {
  readonly before: ShelfEntry | null;
  readonly after: ShelfEntry | null;
}

export type ShelfOutcome =
  | { readonly ok: true; readonly touched: readonly Touched[] }
  | { readonly ok: false; readonly message: string };

/**
 * What a step makes of the shelf, or why it can't be done: cloth that is reserved for one project is not given to
 * another, and what is cut up is not there. Nothing of a refused step is done.
 * @param now ISO time
 */
export function applyShelfChange(
  entries: ReadonlyMap<string, ShelfEntry>,
  change: ShelfChange,
  now: string,
): ShelfOutcome {
  switch (change.kind) {
    case 'put':
      return within(
        entries,
        change.items.map((item) => put(entries, item, now)),
      );
    case 'remove':
      return each(entries, change.ids, (entry) => ({ before: entry, after: null }));
    case 'reserve':
      return each(entries, change.ids, (entry) => {
        const fault = notFor(entry, change.projectId);
        if (fault !== null) return fault;
        const { projectId, projectName } = change;
        return {
          before: entry,
          after: { ...entry, state: { kind: 'reserved', projectId, projectName, at: now } },
        };
      });
    case 'release':
      return each(entries, change.ids, (entry) => ({
        before: entry,
        after: { ...entry, state: { kind: 'free' } },
      }));
    case 'plan':
      return each(entries, change.ids, (entry) => {
        const { plan: _before, ...rest } = entry;
        return { before: entry, after: change.plan === null ? rest : { ...rest, plan: change.plan } };
      });
    case 'cut': {
      const taken = each(entries, change.ids, (entry) => {
        const fault = notFor(entry, change.projectId);
        if (fault !== null) return fault;
        const { projectId, projectName } = change;
        return {
          before: entry,
          after: { ...entry, state: { kind: 'taken', projectId, projectName, at: now } },
        };
      });
      if (!taken.ok) return taken;
      // What is left of a roll stays under its own id: it is cut shorter, not cut up.
      const items = change.items.map((item) => put(entries, item, now));
      const kept = new Set(change.items.map(({ id }) => id));
      return within(entries, [
        ...taken.touched.filter(({ before }) => !kept.has(before?.id ?? '')),
        ...items,
      ]);
    }
  }
}

/** The step the other way round, or why it can't be taken back: what it touched was changed since. */
export function takeBackShelfChange(
  entries: ReadonlyMap<string, ShelfEntry>,
  touched: readonly Touched[],
): ShelfOutcome {
  const same = (a: ShelfEntry | null, b: ShelfEntry | null): boolean =>
    JSON.stringify(a) === JSON.stringify(b);
  for (const { before, after } of touched) {
    const id = after?.id ?? before?.id ?? '';
    if (!same(entries.get(id) ?? null, after)) {
      const name = after?.cloth.name ?? before?.cloth.name ?? id;
      return {
        ok: false,
        message: `${name} was changed since on the shelf: this step can no longer be taken back.`,
      };
    }
  }
  return { ok: true, touched: touched.map(({ before, after }) => ({ before: after, after: before })) };
}

function put(entries: ReadonlyMap<string, ShelfEntry>, item: ShelfItem, now: string): Touched {
  const before = entries.get(item.id) ?? null;
  const { shelfId: _, ...cloth } = item.cloth;
  return {
    before,
    after: {
      ...item,
      cloth: { ...cloth, id: item.id, materialId: ON_SHELF },
      state: before?.state ?? { kind: 'free' },
      addedAt: before?.addedAt ?? now,
    },
  };
}

function within(entries: ReadonlyMap<string, ShelfEntry>, touched: readonly Touched[]): ShelfOutcome {
  const ids = touched.map(({ after, before }) => after?.id ?? before?.id);
  const twice = ids.find((id, i) => ids.indexOf(id) !== i);
  if (twice !== undefined) return { ok: false, message: `The id ${twice} is used twice in one step.` };
  const added = touched.filter(({ before }) => before === null).length;
  if (entries.size + added > MOST_ENTRIES)
    return {
      ok: false,
      message: `The shelf holds at most ${MOST_ENTRIES} entries. Remove some that are cut up.`,
    };
  return { ok: true, touched };
}

function each(
  entries: ReadonlyMap<string, ShelfEntry>,
  ids: readonly string[],
  change: (entry: ShelfEntry) => Touched | string,
): ShelfOutcome {
  const touched: Touched[] = [];
  for (const id of new Set(ids)) {
    const entry = entries.get(id);
    if (!entry) return { ok: false, message: 'It is no longer on the shelf: it was removed meanwhile.' };
    const one = change(entry);
    if (typeof one === 'string') return { ok: false, message: one };
    touched.push(one);
  }
  return { ok: true, touched };
}

/** Why a project can't have an entry; null if it can. */
function notFor({ cloth, state }: ShelfEntry, projectId: string): string | null {
  if (state.kind === 'taken')
    return `${cloth.name} was cut for ${state.projectName}; it is not there any more.`;
  if (state.kind === 'reserved' && state.projectId !== projectId)
    return `${cloth.name} is reserved for ${state.projectName}. Release it on the shelf first.`;
  return null;
}
