import type { Project } from '../../pattern/exchange/project.ts';
import { isSameJson } from './patch.ts';

/** Things of one kind that differ between two documents, by name. */
export interface KindDifference {
  readonly kind: 'pieces' | 'materials' | 'cutList' | 'cloths' | 'plans';
  readonly added: readonly string[];
  readonly removed: readonly string[];
  readonly changed: readonly string[];
}

export type RestName = 'name' | 'notes' | 'layChoices' | 'sets' | 'matches' | 'cutting';
const REST: readonly RestName[] = ['name', 'notes', 'layChoices', 'sets', 'matches', 'cutting'];

export interface Differences {
  readonly kinds: readonly KindDifference[];
  /** Other parts that differ. */
  readonly rest: readonly RestName[];
}

interface Thing {
  readonly key: string;
  readonly name: string;
  readonly value: unknown;
}

/** What was done between two documents, in names a maker knows. */
export function differencesOf(then: Project, now: Project): Differences {
  const kinds = (['pieces', 'materials', 'cutList', 'cloths', 'plans'] as const)
    .map((kind) => kindDifference(kind, thingsOf(then, kind), thingsOf(now, kind)))
    .filter(({ added, removed, changed }) => added.length + removed.length + changed.length > 0);
  return { kinds, rest: REST.filter((name) => !isSameJson(then[name], now[name])) };
}

function kindDifference(
  kind: KindDifference['kind'],
  then: readonly Thing[],
  now: readonly Thing[],
): KindDifference {
  const before = new Map(then.map((thing) => [thing.key, thing]));
  const after = new Map(now.map((thing) => [thing.key, thing]));
  return {
    kind,
    added: now.filter(({ key }) => !before.has(key)).map(({ name }) => name),
    removed: then.filter(({ key }) => !after.has(key)).map(({ name }) => name),
    changed: now
      .filter(({ key, value }) => before.has(key) && !isSameJson(before.get(key)?.value, value))
      .map(({ name }) => name),
  };
}

function thingsOf(project: Project, kind: KindDifference['kind']): Thing[] {
  if (kind === 'cutList') {
    return project.cutList.map((row) => ({
      key: `${row.pieceId} ${row.materialId}`,
      name: rowName(project, row.pieceId, row.materialId),
      value: row,
    }));
  }
  const things: readonly { readonly id: string; readonly name: string }[] = project[kind];
  return things.map((thing) => ({ key: thing.id, name: thing.name, value: thing }));
}

/** A row of the cut list as a maker calls it: "Flap, Canvas". */
export function rowName(project: Project, pieceId: string, materialId: string): string {
  const piece = project.pieces.find(({ id }) => id === pieceId)?.name ?? pieceId;
  const material = project.materials.find(({ id }) => id === materialId)?.name ?? materialId;
  return `${piece}, ${material}`;
}
