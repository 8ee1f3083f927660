import { isAsDrawn } from '../../pattern/cutList/index.ts';
import type {
  BagSet,
  ByAreaSale,
  CutRow,
  Joins,
  Material,
  Project,
  Sizing,
} from '../../pattern/exchange/project.ts';
import type { SetsVary } from '../../pattern/exchange/setsQuestion.ts';
import { projectWithSets } from '../../pattern/lay/sets/projectWithSets.ts';
import { type Command, type CommandName, replaceById } from './command.ts';
import { freshId } from './ids.ts';
import { type Counts, guessRole } from './pieceCommands.ts';

const NO_COUNTS: Counts = { plain: 0, mirrored: 0, onFold: 0 };

/** The counts of one cell; zeros where the piece is not cut from the material. */
export function countsOf(project: Project, pieceId: string, materialId: string): Counts {
  const row = project.cutList.find((entry) => entry.pieceId === pieceId && entry.materialId === materialId);
  return row ? { plain: row.plain, mirrored: row.mirrored, onFold: row.onFold } : NO_COUNTS;
}

/**
 * Writes a cell. An empty cell has no row, unless it was emptied against what other materials ask for; a cell keeps
 * its place in the list.
 */
function writeCell(project: Project, pieceId: string, materialId: string, counts: Counts): Project {
  const at = project.cutList.findIndex((row) => row.pieceId === pieceId && row.materialId === materialId);
  const old = project.cutList[at];
  const empty = counts.plain + counts.mirrored + counts.onFold === 0;
  if (!old) {
    if (empty) return project;
    return { ...project, cutList: [...project.cutList, { pieceId, materialId, ...counts }] };
  }
  if (old.plain === counts.plain && old.mirrored === counts.mirrored && old.onFold === counts.onFold) {
    return project;
  }
  if (old.follows) {
    const row = { ...old, ...counts, follows: { ...old.follows, own: true } };
    return { ...project, cutList: project.cutList.with(at, row) };
  }
  if (empty) return { ...project, cutList: project.cutList.toSpliced(at, 1) };
  return { ...project, cutList: project.cutList.with(at, { ...old, ...counts }) };
}

/** Changes what is said of a cell beside its counts. A cell that is not there stays so. */
function changeRow(
  name: CommandName,
  project: Project,
  pieceId: string,
  materialId: string,
  change: (row: CutRow) => CutRow,
): Command {
  return {
    name,
    subject: nameOf(project, pieceId),
    run: (current) => {
      const at = current.cutList.findIndex((row) => row.pieceId === pieceId && row.materialId === materialId);
      const old = current.cutList[at];
      const next = old && change(old);
      return !next || next === old ? current : { ...current, cutList: current.cutList.with(at, next) };
    },
  };
}

/** The cell follows the materials that ask for it again: the maker's own counts go. */
export function followAgain(project: Project, pieceId: string, materialId: string): Command {
  return changeRow('followAgain', project, pieceId, materialId, (row) => ({
    ...row,
    follows: { from: row.follows?.from ?? [], own: false },
  }));
}

/** The copies are cut later, to measure, and their places stay free. */
export function holdBack(project: Project, pieceId: string, materialId: string, isHeld: boolean): Command {
  return changeRow('holdBack', project, pieceId, materialId, ({ heldBack: _old, ...row }) =>
    isHeld ? { ...row, heldBack: true } : row,
  );
}

/** Other materials from which a piece that is never seen may come, the first choice in front. */
export function setElsewhere(
  project: Project,
  pieceId: string,
  materialId: string,
  materialIds: readonly string[],
): Command {
  return changeRow('setElsewhere', project, pieceId, materialId, ({ elsewhere: _old, ...row }) =>
    materialIds.length > 0 ? { ...row, elsewhere: materialIds } : row,
  );
}

export function setJoins(
  project: Project,
  pieceId: string,
  materialId: string,
  joins: Joins | null,
): Command {
  return changeRow('setJoins', project, pieceId, materialId, ({ joins: _old, ...row }) =>
    joins ? { ...row, joins } : row,
  );
}

/** The sets laid at once; an empty list is one set, as drawn. */
export function setSets(sets: readonly BagSet[], together?: string): Command {
  return {
    name: 'setSets',
    subject: '',
    ...(together === undefined ? {} : { together }),
    run: ({ sets: _old, ...project }) => (sets.length > 0 ? { ...project, sets } : project),
  };
}

/** One more set, or size. The first one is written down with it: what was cut so far is the set as drawn. */
export function addSet(project: Project, name: string, firstName: string): Command {
  const first: BagSet = {
    id: freshId('set'),
    name: firstName,
    times: 1,
    alongPercent: 100,
    acrossPercent: 100,
  };
  const before = project.sets ?? [first];
  return setSets([...before, { ...first, id: freshId('set'), name }]);
}

/** Takes an answer over: so many sets, and the size that was found for them. */
export function takeSets(times: number, vary: SetsVary | null, sizeMm: number | null): Command {
  return {
    name: 'setSets',
    subject: '',
    run: (project) => projectWithSets(project, times, vary, sizeMm),
  };
}

function changeMaterial(
  name: CommandName,
  material: Material,
  change: (material: Material) => Material,
): Command {
  return {
    name,
    subject: material.name,
    run: (project) => {
      const materials = replaceById(project.materials, material.id, change);
      return materials === project.materials ? project : { ...project, materials };
    },
  };
}

/** Whether what is cut from a material is cut from another one as well. */
export function setCompanion(material: Material, companionId: string, isOn: boolean): Command {
  return changeMaterial('setCompanion', material, ({ companions = [], ...rest }) => {
    const others = companions.filter((id) => id !== companionId);
    const next = isOn ? [...others, companionId] : others;
    return next.length > 0 ? { ...rest, companions: next } : rest;
  });
}

/** How pieces are cut from a material where that differs from their own cut line. */
export function setSizing(material: Material, sizing: Sizing): Command {
  return changeMaterial('setSizing', material, ({ sizing: _old, ...rest }) =>
    isAsDrawn(sizing) ? rest : { ...rest, sizing },
  );
}

/** A material sold by the area of hides, with what is known of them; null where it is not. */
export function setByArea(material: Material, byArea: ByAreaSale | null, together?: string): Command {
  const command = changeMaterial('setByArea', material, ({ byArea: _old, ...rest }) =>
    byArea === null ? rest : { ...rest, byArea },
  );
  return together === undefined ? command : { ...command, together };
}

/** Everything cut from one material is cut from another instead: its rows move over, those that follow come anew. */
export function moveAll(from: Material, toId: string): Command {
  return {
    name: 'moveAll',
    subject: from.name,
    run: (project) =>
      project.cutList
        .filter((row) => row.materialId === from.id && !row.follows)
        .reduce((current, row) => movedRow(current, row.pieceId, from.id, toId), project),
  };
}

const nameOf = (project: Project, pieceId: string): string =>
  project.pieces.find((piece) => piece.id === pieceId)?.name ?? '';

export function setCount(
  project: Project,
  pieceId: string,
  materialId: string,
  hand: keyof Counts,
  count: number,
): Command {
  return {
    name: 'setCount',
    subject: nameOf(project, pieceId),
    together: `count ${pieceId} ${materialId} ${hand}`,
    run: (current) =>
      writeCell(current, pieceId, materialId, {
        ...countsOf(current, pieceId, materialId),
        [hand]: count,
      }),
  };
}

/** Mirrored pairs out of the copies there are: half plain, half mirrored; an odd one more makes the last pair whole. */
export function inPairs(counts: Counts): Counts {
  const half = Math.ceil((counts.plain + counts.mirrored) / 2);
  return { ...counts, plain: half, mirrored: half };
}

export function makePairs(project: Project, pieceId: string, materialId: string): Command {
  return {
    name: 'makePairs',
    subject: nameOf(project, pieceId),
    run: (current) =>
      writeCell(current, pieceId, materialId, inPairs(countsOf(current, pieceId, materialId))),
  };
}

/** The same copies from another material; added to what is cut from it already. */
export function moveRow(project: Project, pieceId: string, fromId: string, toId: string): Command {
  return {
    name: 'moveRow',
    subject: nameOf(project, pieceId),
    run: (current) => movedRow(current, pieceId, fromId, toId),
  };
}

function movedRow(current: Project, pieceId: string, fromId: string, toId: string): Project {
  if (fromId === toId) return current;
  const isFrom = (row: CutRow): boolean => row.pieceId === pieceId && row.materialId === fromId;
  const there = current.cutList.some((row) => row.pieceId === pieceId && row.materialId === toId);
  const from = current.cutList.find(isFrom);
  if (from && !there && !from.follows) {
    // Nothing to add it to: the row goes over with all that is said of it.
    return {
      ...current,
      cutList: current.cutList.map((row) => (isFrom(row) ? { ...row, materialId: toId } : row)),
    };
  }
  const moved = countsOf(current, pieceId, fromId);
  const target = countsOf(current, pieceId, toId);
  return writeCell(writeCell(current, pieceId, fromId, NO_COUNTS), pieceId, toId, {
    plain: target.plain + moved.plain,
    mirrored: target.mirrored + moved.mirrored,
    onFold: target.onFold + moved.onFold,
  });
}

/** So many copies of a piece that needs no hands: all of them plain. */
export function setTotal(project: Project, pieceId: string, materialId: string, count: number): Command {
  return {
    name: 'setCount',
    subject: nameOf(project, pieceId),
    together: `count ${pieceId} ${materialId} total`,
    run: (current) =>
      writeCell(current, pieceId, materialId, {
        ...countsOf(current, pieceId, materialId),
        plain: count,
        mirrored: 0,
      }),
  };
}

export function addMaterial(name: string, role?: Material['role']): Command & { readonly id: string } {
  const id = freshId('material');
  return {
    id,
    name: 'addMaterial',
    subject: name,
    run: (project) => ({
      ...project,
      materials: [...project.materials, { id, name, role: role ?? guessRole(name, project.materials) }],
    }),
  };
}

export function renameMaterial(material: Material, name: string): Command {
  return {
    name: 'renameMaterial',
    subject: material.name,
    together: `material ${material.id}`,
    run: (project) => {
      const materials = replaceById(project.materials, material.id, (old) =>
        old.name === name ? old : { ...old, name },
      );
      return materials === project.materials ? project : { ...project, materials };
    },
  };
}

export function setRole(material: Material, role: Material['role']): Command {
  return {
    name: 'setRole',
    subject: material.name,
    run: (project) => {
      const materials = replaceById(project.materials, material.id, (old) =>
        old.role === role ? old : { ...old, role },
      );
      return materials === project.materials ? project : { ...project, materials };
    },
  };
}

/** Takes a material away with its counts, its cloths and its lay choice. The pieces stay. */
export function removeMaterial(material: Material): Command {
  return {
    name: 'removeMaterial',
    subject: material.name,
    run: (project) =>
      project.materials.some((entry) => entry.id === material.id)
        ? {
            ...project,
            materials: project.materials
              .filter((entry) => entry.id !== material.id)
              .map((entry) => withoutCompanion(entry, material.id)),
            cutList: project.cutList
              .filter((row) => row.materialId !== material.id)
              .map((row) => withoutElsewhere(row, material.id)),
            cloths: project.cloths.filter((cloth) => cloth.materialId !== material.id),
            layChoices: project.layChoices.filter((choice) => choice.materialId !== material.id),
          }
        : project,
  };
}

function withoutCompanion(material: Material, id: string): Material {
  if (!material.companions?.includes(id)) return material;
  const { companions, ...rest } = material;
  const others = companions.filter((companion) => companion !== id);
  return others.length > 0 ? { ...rest, companions: others } : rest;
}

function withoutElsewhere(row: CutRow, id: string): CutRow {
  if (!row.elsewhere?.includes(id)) return row;
  const { elsewhere, ...rest } = row;
  const others = elsewhere.filter((materialId) => materialId !== id);
  return others.length > 0 ? { ...rest, elsewhere: others } : rest;
}
