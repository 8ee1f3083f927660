import type { CutRow, Project } from '../exchange/project.ts';
import { copiesOf } from './totals.ts';

/** Layers that follow: what is cut from one material is cut from its companions as well. */

interface Asked {
  readonly plain: number;
  readonly mirrored: number;
  readonly onFold: number;
  /** Materials that ask. */
  readonly from: readonly string[];
}

const keyOf = (pieceId: string, materialId: string): string => `${pieceId} ${materialId}`;

/** How many copies of a piece other materials ask for in this one; null where none does. */
export function askedFor(
  project: Pick<Project, 'materials' | 'cutList'>,
  pieceId: string,
  materialId: string,
): Asked | null {
  return asked(project, project.cutList).get(keyOf(pieceId, materialId)) ?? null;
}

function asked(project: Pick<Project, 'materials'>, rows: readonly CutRow[]): Map<string, Asked> {
  const known = new Map(project.materials.map((material) => [material.id, material]));
  const found = new Map<string, Asked>();
  for (const row of rows) {
    if (copiesOf(row) === 0) continue;
    for (const companion of known.get(row.materialId)?.companions ?? []) {
      if (companion === row.materialId || !known.has(companion)) continue;
      const key = keyOf(row.pieceId, companion);
      const before = found.get(key) ?? { plain: 0, mirrored: 0, onFold: 0, from: [] };
      found.set(key, {
        plain: before.plain + row.plain,
        mirrored: before.mirrored + row.mirrored,
        onFold: before.onFold + row.onFold,
        from: [...before.from, row.materialId],
      });
    }
  }
  return found;
}

/**
 * The project with every layer as the cut list asks for it now: rows that follow get the counts of the materials that
 * ask for them, new ones are added, and those that nobody asks for any longer go. Counts the maker set herself stay,
 * and so do rows she typed; where nobody asks any longer, such a row becomes one she typed. Companions of companions
 * follow too. The same object comes back where nothing changed.
 */
export function followLayers(project: Project): Project {
  const isConcerned =
    project.materials.some((material) => (material.companions?.length ?? 0) > 0) ||
    project.cutList.some((row) => row.follows);
  if (!isConcerned) return project;
  let rows: readonly CutRow[] = project.cutList;
  // A chain of companions is at most as long as there are materials; a ring of them is cut off there.
  for (let pass = 0; pass <= project.materials.length; pass++) {
    const next = settled(rows, asked(project, rows));
    if (next === rows) break;
    rows = next;
  }
  return rows === project.cutList ? project : { ...project, cutList: rows };
}

function settled(rows: readonly CutRow[], wanted: ReadonlyMap<string, Asked>): readonly CutRow[] {
  const open = new Map(wanted);
  let isSame = true;
  const next = rows.flatMap((row): CutRow[] => {
    const key = keyOf(row.pieceId, row.materialId);
    const ask = open.get(key);
    open.delete(key);
    const found = row.follows ? following(row, row.follows.own, ask) : row;
    if (found !== row) isSame = false;
    return found === null ? [] : [found];
  });
  for (const [key, { from, ...counts }] of open) {
    const [pieceId = '', materialId = ''] = key.split(' ');
    next.push({ pieceId, materialId, ...counts, follows: { from, own: false } });
    isSame = false;
  }
  return isSame ? rows : next;
}

function following(row: CutRow, own: boolean, ask: Asked | undefined): CutRow | null {
  if (!ask) {
    if (!own || copiesOf(row) === 0) return null;
    const { follows: _follows, ...typed } = row;
    return typed;
  }
  const { from, plain, mirrored, onFold } = ask;
  const isSameFrom = row.follows?.from.join(' ') === from.join(' ');
  if (own) return isSameFrom ? row : { ...row, follows: { from, own } };
  const isSame = isSameFrom && row.plain === plain && row.mirrored === mirrored && row.onFold === onFold;
  return isSame ? row : { ...row, plain, mirrored, onFold, follows: { from, own } };
}

/** What following changed in one material. */
export interface LayerChange {
  readonly materialId: string;
  /** Pieces by id. */
  readonly added: readonly string[];
  readonly gone: readonly string[];
}

/** Which rows came and went because they follow, from one state of the project to the next. */
export function layerChanges(
  before: Pick<Project, 'cutList'>,
  after: Pick<Project, 'cutList' | 'materials' | 'pieces'>,
): LayerChange[] {
  if (before.cutList === after.cutList) return [];
  const followed = (rows: readonly CutRow[]): Map<string, CutRow> =>
    new Map(
      rows
        .filter((row) => row.follows && copiesOf(row) > 0)
        .map((row) => [keyOf(row.pieceId, row.materialId), row]),
    );
  const [then, now] = [followed(before.cutList), followed(after.cutList)];
  const stays = new Set(after.cutList.map((row) => keyOf(row.pieceId, row.materialId)));
  const pieces = new Set(after.pieces.map((piece) => piece.id));
  return after.materials.flatMap(({ id }): LayerChange[] => {
    const of = (rows: Map<string, CutRow>, isIn: (key: string) => boolean): string[] =>
      [...rows].filter(([key, row]) => row.materialId === id && isIn(key)).map(([, row]) => row.pieceId);
    const added = of(now, (key) => !then.has(key));
    const gone = of(then, (key) => !stays.has(key)).filter((pieceId) => pieces.has(pieceId));
    return added.length + gone.length === 0 ? [] : [{ materialId: id, added, gone }];
  });
}
