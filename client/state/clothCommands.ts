import { type Preset, type PresetId, presetOf } from '../../pattern/cloths/presets.ts';
import {
  type Cloth,
  clothSchema,
  type Material,
  type Remnant,
  type Roll,
} from '../../pattern/exchange/project.ts';
import { type Command, type CommandName, replaceById } from './command.ts';
import { freshId } from './ids.ts';
import { rectangleOutline } from './pieceCommands.ts';

/** The preset that suits a material by its name, else by what it is for. */
export function presetFor({ name, role }: Pick<Material, 'name' | 'role'>): PresetId {
  const named = PRESET_WORDS.find(([, words]) => words.test(name));
  if (named) return named[0];
  return role === 'interfacing' || role === 'foam' ? role : 'woven';
}

/** What makers call materials, in English and German, and the kind of cloth it nearly always is; the first that fits. */
const PRESET_WORDS: readonly (readonly [PresetId, RegExp])[] = [
  ['laminated', /laminat|oilcloth|wachstuch|beschichtet/iu],
  ['vinyl', /vinyl|(?:faux|imitation) leather|leatherette|kunstleder/iu],
  ['leather', /leather|leder/iu],
  ['cork', /\bcork\b|\bkork/iu],
  ['napped', /velvet|\bsamt|\b(?:breit|fein)?cord(?:samt|uroy)?\b/iu],
  ['plush', /plush|plüsch/iu],
  ['denim', /denim|jeans/iu],
  ['canvas', /canvas|\bduck\b|segeltuch/iu],
  ['foam', /foam|schaumstoff/iu],
  ['fusible', /fusible|iron-on|aufbügel/iu],
];

/** Adds a cloth as it is: one from the shelf, with its outline and rules. */
export function addCloth(cloth: Cloth): Command & { readonly id: string } {
  return {
    id: cloth.id,
    name: 'addCloth',
    subject: cloth.name,
    run: (project) => ({ ...project, cloths: [...project.cloths, cloth] }),
  };
}

/** A roll with the usual rules of its kind; what is sold in sheets has no roll of its own and gets a woven's width. */
export function addRoll(
  materialId: string,
  name: string,
  preset: PresetId,
): Command & { readonly id: string } {
  const { rules, roll } = presetNamed(preset);
  const woven = presetNamed('woven').roll;
  return addCloth(
    clothSchema.parse({
      kind: 'roll',
      id: freshId('cloth'),
      name,
      materialId,
      preset,
      ...woven,
      ...rules,
      ...roll,
    }),
  );
}

/** A remnant starts as a rectangle, `alongMm` along its grain and `acrossMm` across it. */
export function addRemnant(
  materialId: string,
  name: string,
  preset: PresetId,
  alongMm: number,
  acrossMm: number,
): Command & { readonly id: string } {
  return addOutlined(materialId, name, preset, rectangleOutline(alongMm, acrossMm), 1);
}

/** Sheets as they are sold: fat quarters, squares, half a hide. */
export function addSheets(
  materialId: string,
  name: string,
  preset: PresetId,
): Command & { readonly id: string } {
  const { sheet } = presetNamed(preset);
  if (!sheet) throw new RangeError(`${preset} is not sold in sheets`);
  return addOutlined(materialId, name, preset, sheet.outline, sheet.quantity);
}

function addOutlined(
  materialId: string,
  name: string,
  preset: PresetId,
  outline: Remnant['outline'],
  quantity: number,
): Command & { readonly id: string } {
  const { rules } = presetNamed(preset);
  const id = freshId('cloth');
  return addCloth(
    clothSchema.parse({ kind: 'remnant', id, name, materialId, preset, ...rules, outline, quantity }),
  );
}

function presetNamed(id: PresetId): Preset {
  const preset = presetOf(id);
  if (!preset) throw new RangeError(`no preset ${id}`);
  return preset;
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

export function changeFlaws(cloth: Cloth, flaws: Cloth['flaws'], together?: string): Command {
  return editCloth('changeFlaws', cloth, (old) => ({ ...old, flaws }), together);
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
