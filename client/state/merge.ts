import { settleProject } from '../../pattern/cutList/index.ts';
import type { Cutting, Project } from '../../pattern/exchange/project.ts';
import { mergeCutting } from './mergeCutting.ts';
import { isPlainObject, isSameJson, type PlainObject } from './patch.ts';

/** Whose word counts where both changed the same. */
export type Side = 'mine' | 'theirs';

/** A thing that both changed, each differently. */
export interface Clash {
  /** Keys from the document down: `['pieces', 'flap', 'name']`. */
  readonly path: readonly string[];
  /** Undefined where one removed what the other changed. */
  readonly mine: unknown;
  readonly theirs: unknown;
}

export interface Merged {
  readonly project: Project;
  readonly clashes: readonly Clash[];
}

/** Lists whose entries are things of their own, by the key that names an entry. */
const KEYED: Readonly<Record<string, (entry: PlainObject) => string>> = {
  pieces: byId,
  materials: byId,
  cloths: byId,
  plans: byId,
  sets: byId,
  matches: byId,
  cutList: (row) => `${row.pieceId} ${row.materialId}`,
  layChoices: (choice) => String(choice.materialId),
  offers: ({ offer }) => byId(offer as PlainObject),
};

/** Of these things the fields named may change apart from the rest, which hangs together: a fold edge is a number in an outline. */
const LOOSE_FIELDS: Readonly<Record<string, readonly string[]>> = {
  pieces: ['name', 'notes'],
  plans: ['name'],
};

function byId(entry: PlainObject): string {
  return String(entry.id);
}

/**
 * Joins what two people made of the same document. What only one of them changed, added or removed is taken over; where
 * both changed the same thing differently, `side` decides, and the clash is listed. Nothing that is still used is lost
 * because the other removed it: a piece that one removed while the other asked for it in the cut list stays.
 */
export function mergeProjects(base: Project, mine: Project, theirs: Project, side: Side): Merged {
  const clashes: Clash[] = [];
  const merged = mergeObjects(
    base as unknown as PlainObject,
    mine as unknown as PlainObject,
    theirs as unknown as PlainObject,
    { side, clashes },
    [],
  ) as unknown as Project;
  return { project: settleProject(withUsedThings(merged, mine, theirs)), clashes };
}

interface Judge {
  readonly side: Side;
  readonly clashes: Clash[];
}

function merge(
  base: unknown,
  mine: unknown,
  theirs: unknown,
  judge: Judge,
  path: readonly string[],
): unknown {
  if (isSameJson(mine, theirs) || isSameJson(base, theirs)) return mine;
  if (isSameJson(base, mine)) return theirs;
  const [list] = path;
  const key = path.length === 1 ? KEYED[list!] : undefined;
  if (key) return mergeKeyed(listOf(base), listOf(mine), listOf(theirs), key, judge, path);
  // Ticks at the table have rules of their own and never clash.
  if (path.length === 1 && list === 'cutting') {
    return mergeCutting(base as Cutting, mine as Cutting, theirs as Cutting);
  }
  const isThing = path.length === 2 && isPlainObject(base) && isPlainObject(mine) && isPlainObject(theirs);
  // A roll that became a remnant has other fields: then there is nothing to join.
  if (isThing && mine.kind === theirs.kind && mine.kind === base.kind) {
    return mergeObjects(base, mine, theirs, judge, path);
  }
  judge.clashes.push({ path, mine, theirs });
  return judge.side === 'mine' ? mine : theirs;
}

/** Some lists are left out where they are empty. */
function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function mergeObjects(
  base: PlainObject,
  mine: PlainObject,
  theirs: PlainObject,
  judge: Judge,
  path: readonly string[],
): PlainObject {
  const loose = path.length === 2 ? LOOSE_FIELDS[path[0]!] : undefined;
  const names = [...new Set([...Object.keys(mine), ...Object.keys(theirs)])];
  const apart = loose === undefined ? names : names.filter((name) => loose.includes(name));
  const entries = new Map<string, unknown>();
  for (const name of apart) {
    entries.set(name, merge(base[name], mine[name], theirs[name], judge, [...path, name]));
  }
  if (loose !== undefined) {
    const rest = (object: PlainObject): PlainObject =>
      Object.fromEntries(Object.entries(object).filter(([name]) => !loose.includes(name)));
    const together = merge(rest(base), rest(mine), rest(theirs), judge, [...path, '']) as PlainObject;
    for (const [name, value] of Object.entries(together)) entries.set(name, value);
  }
  return Object.fromEntries(
    names.flatMap((name) => {
      const value = entries.get(name);
      return value === undefined ? [] : [[name, value]];
    }),
  );
}

function mergeKeyed(
  base: readonly unknown[],
  mine: readonly unknown[],
  theirs: readonly unknown[],
  key: (entry: PlainObject) => string,
  judge: Judge,
  path: readonly string[],
): unknown[] {
  const index = (list: readonly unknown[]) =>
    new Map(list.map((entry) => [key(entry as PlainObject), entry] as const));
  const [was, here, there] = [index(base), index(mine), index(theirs)];
  const merged = new Map<string, unknown>();
  for (const name of joinedOrder([...was.keys()], [...here.keys()], [...there.keys()])) {
    const value = merge(was.get(name), here.get(name), there.get(name), judge, [...path, name]);
    if (value !== undefined) merged.set(name, value);
  }
  return [...merged.values()];
}

/** Our order, or theirs where only they changed it; what the other side added follows what it followed there. */
function joinedOrder(base: readonly string[], mine: readonly string[], theirs: readonly string[]): string[] {
  const common = (list: readonly string[], other: readonly string[]) =>
    list.filter((name) => other.includes(name));
  const isMineAsBefore = isSameJson(common(mine, base), common(base, mine));
  const [leading, other] = isMineAsBefore ? [theirs, mine] : [mine, theirs];
  const order = [...leading];
  other.forEach((name, place) => {
    if (order.includes(name)) return;
    const before = place === 0 ? -1 : order.indexOf(other[place - 1]!);
    order.splice(before + 1 === 0 && place > 0 ? order.length : before + 1, 0, name);
  });
  return order;
}

/** Puts back pieces, materials and cloths that one removed while the other began to use them. */
function withUsedThings(merged: Project, mine: Project, theirs: Project): Project {
  const pieces = withUsed(merged.pieces, mine.pieces, theirs.pieces, [
    ...merged.cutList.map(({ pieceId }) => pieceId),
  ]);
  const materials = withUsed(merged.materials, mine.materials, theirs.materials, [
    ...merged.cutList.map(({ materialId }) => materialId),
    ...merged.cloths.map(({ materialId }) => materialId),
  ]);
  const has = (list: readonly { readonly id: string }[], id: string): boolean =>
    list.some((entry) => entry.id === id);
  return {
    ...merged,
    pieces,
    materials,
    layChoices: merged.layChoices
      .filter(({ materialId }) => has(materials, materialId))
      .map((choice) => ({ ...choice, clothIds: choice.clothIds.filter((id) => has(merged.cloths, id)) })),
  };
}

function withUsed<T extends { readonly id: string }>(
  merged: readonly T[],
  mine: readonly T[],
  theirs: readonly T[],
  used: readonly string[],
): readonly T[] {
  const missing = [...new Set(used)].filter((id) => !merged.some((entry) => entry.id === id));
  const found = missing.flatMap((id) => {
    const entry = mine.find((one) => one.id === id) ?? theirs.find((one) => one.id === id);
    return entry === undefined ? [] : [entry];
  });
  return found.length === 0 ? merged : [...merged, ...found];
}
