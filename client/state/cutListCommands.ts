import type { Material, Project } from '../../pattern/exchange/project.ts';
import { type Command, replaceById } from './command.ts';
import { freshId } from './ids.ts';
import { type Counts, guessRole } from './pieceCommands.ts';

const NO_COUNTS: Counts = { plain: 0, mirrored: 0, onFold: 0 };

/** The counts of one cell; zeros where the piece is not cut from the material. */
export function countsOf(project: Project, pieceId: string, materialId: string): Counts {
  const row = project.cutList.find((entry) => entry.pieceId === pieceId && entry.materialId === materialId);
  return row ? { plain: row.plain, mirrored: row.mirrored, onFold: row.onFold } : NO_COUNTS;
}

/** Writes a cell. An empty cell has no row; a cell keeps its place in the list. */
function writeCell(project: Project, pieceId: string, materialId: string, counts: Counts): Project {
  const at = project.cutList.findIndex((row) => row.pieceId === pieceId && row.materialId === materialId);
  const old = project.cutList[at];
  const empty = counts.plain + counts.mirrored + counts.onFold === 0;
  if (!old) {
    if (empty) return project;
    return { ...project, cutList: [...project.cutList, { pieceId, materialId, ...counts }] };
  }
  if (empty) return { ...project, cutList: project.cutList.toSpliced(at, 1) };
  if (old.plain === counts.plain && old.mirrored === counts.mirrored && old.onFold === counts.onFold) {
    return project;
  }
  return { ...project, cutList: project.cutList.with(at, { ...old, ...counts }) };
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
    run: (current) => {
      if (fromId === toId) return current;
      const moved = countsOf(current, pieceId, fromId);
      const there = countsOf(current, pieceId, toId);
      return writeCell(writeCell(current, pieceId, fromId, NO_COUNTS), pieceId, toId, {
        plain: there.plain + moved.plain,
        mirrored: there.mirrored + moved.mirrored,
        onFold: there.onFold + moved.onFold,
      });
    },
  };
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
            materials: project.materials.filter((entry) => entry.id !== material.id),
            cutList: project.cutList.filter((row) => row.materialId !== material.id),
            cloths: project.cloths.filter((cloth) => cloth.materialId !== material.id),
            layChoices: project.layChoices.filter((choice) => choice.materialId !== material.id),
          }
        : project,
  };
}
