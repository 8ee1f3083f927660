import {
  type Cloth,
  clothSchema,
  type Project,
  type Remnant,
  type Roll,
} from '../../pattern/exchange/project.ts';
import { type Command, type CommandName, replaceById } from './command.ts';
import { freshId } from './ids.ts';
import { rectangleOutline } from './pieceCommands.ts';

/** Kinds of cloth a maker may start from; each only fills in fields that can all be changed afterwards. */
export const CLOTH_KINDS = ['woven', 'napped', 'vinyl', 'interfacing', 'foam'] as const;
export type ClothKind = (typeof CLOTH_KINDS)[number];

type Rules = Pick<Roll, 'turn' | 'nap' | 'reversible' | 'gapMm' | 'edgeMarginMm'>;

/** Usual rules of a kind of cloth: vinyl and foam have no grain and are never folded, pile runs one way. */
function rulesOf(kind: ClothKind): Rules & Pick<Roll, 'widthMm' | 'selvedgeMm' | 'squaringMm' | 'foldable'> {
  const woven = {
    turn: 'grain',
    nap: 'none',
    reversible: false,
    gapMm: 3,
    edgeMarginMm: 0,
    widthMm: 1400,
    selvedgeMm: 10,
    squaringMm: 20,
    foldable: true,
  } as const;
  switch (kind) {
    case 'woven':
      return woven;
    case 'napped':
      return { ...woven, nap: 'oneWay' };
    case 'vinyl':
      return { ...woven, turn: 'quarter', foldable: false, selvedgeMm: 5 };
    case 'interfacing':
      return { ...woven, turn: 'quarter', reversible: true, widthMm: 900, selvedgeMm: 0 };
    case 'foam':
      return {
        ...woven,
        turn: 'free',
        reversible: true,
        foldable: false,
        widthMm: 1500,
        selvedgeMm: 0,
        squaringMm: 0,
      };
  }
}

/** The kind that suits what a material is for. */
export function kindForRole(role: Project['materials'][number]['role']): ClothKind {
  return role === 'interfacing' || role === 'foam' ? role : 'woven';
}

function addCloth(cloth: Cloth): Command & { readonly id: string } {
  return {
    id: cloth.id,
    name: 'addCloth',
    subject: cloth.name,
    run: (project) => ({ ...project, cloths: [...project.cloths, cloth] }),
  };
}

export function addRoll(
  materialId: string,
  name: string,
  kind: ClothKind,
): Command & { readonly id: string } {
  return addCloth(
    clothSchema.parse({ kind: 'roll', id: freshId('cloth'), name, materialId, ...rulesOf(kind) }),
  );
}

/** A remnant starts as a rectangle, `alongMm` along its grain and `acrossMm` across it. */
export function addRemnant(
  materialId: string,
  name: string,
  kind: ClothKind,
  alongMm: number,
  acrossMm: number,
): Command & { readonly id: string } {
  const { turn, nap, reversible, gapMm, edgeMarginMm } = rulesOf(kind);
  return addCloth(
    clothSchema.parse({
      kind: 'remnant',
      id: freshId('cloth'),
      name,
      materialId,
      turn,
      nap,
      reversible,
      gapMm,
      edgeMarginMm,
      outline: rectangleOutline(alongMm, acrossMm),
    }),
  );
}

function editCloth(
  name: CommandName,
  cloth: Cloth,
  change: (cloth: Cloth) => Cloth,
  together?: string,
): Command {
  return {
    name,
    subject: cloth.name,
    ...(together === undefined ? {} : { together }),
    run: (project) => {
      const cloths = replaceById(project.cloths, cloth.id, change);
      return cloths === project.cloths ? project : { ...project, cloths };
    },
  };
}

type RollPatch = Partial<Omit<Roll, 'id' | 'kind'>>;
type RemnantPatch = Partial<Omit<Remnant, 'id' | 'kind' | 'outline' | 'flaws'>>;

function isSame<T extends object>(old: T, patch: Partial<T>): boolean {
  return Object.entries(patch).every(([key, value]) => old[key as keyof T] === value);
}

/** Changes fields of a roll; a remnant is left alone. */
export function changeRoll(cloth: Roll, patch: RollPatch, together?: string): Command {
  return editCloth(
    'changeCloth',
    cloth,
    (old) => (old.kind !== 'roll' || isSame(old, patch) ? old : { ...old, ...patch }),
    together,
  );
}

/** Changes fields that a roll and a remnant share. */
export function changeCloth(cloth: Cloth, patch: RollPatch & RemnantPatch, together?: string): Command {
  return editCloth(
    'changeCloth',
    cloth,
    (old) => {
      if (old.kind === 'roll') return isSame(old, patch) ? old : { ...old, ...patch };
      return isSame(old, patch) ? old : { ...old, ...patch };
    },
    together,
  );
}

export function reshapeRemnant(cloth: Remnant, outline: Remnant['outline'], together?: string): Command {
  return editCloth(
    'reshapeRemnant',
    cloth,
    (old) => (old.kind === 'remnant' && outline.length >= 3 ? { ...old, outline } : old),
    together,
  );
}

export function changeFlaws(cloth: Remnant, flaws: Remnant['flaws'], together?: string): Command {
  return editCloth(
    'changeFlaws',
    cloth,
    (old) => (old.kind === 'remnant' ? { ...old, flaws } : old),
    together,
  );
}

export function copyCloth(cloth: Cloth, name: string): Command & { readonly id: string } {
  const id = freshId('cloth');
  return {
    id,
    name: 'copyCloth',
    subject: cloth.name,
    run: (project) => {
      const at = project.cloths.findIndex((entry) => entry.id === cloth.id);
      const original = project.cloths[at];
      if (!original) return project;
      return { ...project, cloths: project.cloths.toSpliced(at + 1, 0, { ...original, id, name }) };
    },
  };
}

/** Takes a cloth away, also from the lay choices that name it. */
export function removeCloth(cloth: Cloth): Command {
  return {
    name: 'removeCloth',
    subject: cloth.name,
    run: (project) =>
      project.cloths.some((entry) => entry.id === cloth.id)
        ? {
            ...project,
            cloths: project.cloths.filter((entry) => entry.id !== cloth.id),
            layChoices: project.layChoices.map((choice) =>
              choice.clothIds.includes(cloth.id)
                ? { ...choice, clothIds: choice.clothIds.filter((id) => id !== cloth.id) }
                : choice,
            ),
          }
        : project,
  };
}
