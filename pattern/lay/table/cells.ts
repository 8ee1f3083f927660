import type { CellKey, TableCell, TableRequest, TableSize } from '../../exchange/designerTable.ts';
import type { LayRequestInput, Notice } from '../../exchange/lay.ts';
import type { Cloth, ClothLay, Project, Roll } from '../../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../../language.ts';
import { demandsFor } from '../demands.ts';
import { spreadsOf } from '../spreadsOf.ts';
import { layWords } from '../words/index.ts';

/** Every figure asked for, in the order in which they are shown: by material, size, width, then nap and spread. */
export function tableKeys(project: Project, request: TableRequest): CellKey[] {
  return tableMaterials(project, request).flatMap(({ id: materialId }) =>
    request.sizes.flatMap(({ name: size }) =>
      [...new Set(request.widthsMm)].flatMap((widthMm) =>
        request.naps.flatMap((nap) =>
          request.spreads.map((spread): CellKey => ({ materialId, size, widthMm, nap, spread })),
        ),
      ),
    ),
  );
}

/** Materials of the table: those asked for that something is cut from and that have a cloth. */
export function tableMaterials(project: Project, { materialIds }: TableRequest): Project['materials'] {
  return project.materials.filter(
    ({ id }) =>
      (materialIds.length === 0 || materialIds.includes(id)) &&
      project.cloths.some((cloth) => cloth.materialId === id) &&
      project.cutList.some((row) => row.materialId === id && row.plain + row.mirrored + row.onFold > 0),
  );
}

/** The cloth a figure is for: the material's roll, or one with the rules of its remnant, in that width and nap. */
function rollFor(cloths: readonly Cloth[], { widthMm, nap }: CellKey): Roll | null {
  const model = cloths.find((cloth) => cloth.kind === 'roll') ?? cloths[0];
  if (!model) return null;
  // Flaws, faded lines and what is left at the shop belong to one roll, not to the width.
  const own = { widthMm, nap, usableWidthMm: null, flaws: [], fadedLines: [], availableMm: null } as const;
  if (model.kind === 'roll') return { ...model, ...own };
  const { outline: _outline, flaws: _flaws, quantity: _quantity, ...rules } = model;
  return {
    ...rules,
    ...own,
    kind: 'roll',
    selvedgeMm: 0,
    squaringMm: 0,
    squaringEndMm: 0,
    shopStepMm: 100,
    reservePercent: 0,
    reserveMm: 0,
    foldable: false,
    priceCentsPerMetre: null,
  };
}

/** What a figure is worked out from: a project of its own, and how it is laid; or the figure where nothing needs to be. */
export type CellWork =
  | { readonly kind: 'lay'; readonly request: LayRequestInput }
  | { readonly kind: 'known'; readonly cell: TableCell };

/** What is to be done for one figure of the table. What its lay says is told in `language`. */
export function cellWork(
  project: Project,
  request: TableRequest,
  key: CellKey,
  language: Language = USUAL_LANGUAGE,
): CellWork {
  const size = request.sizes.find(({ name }) => name === key.size) as TableSize;
  const cloths = project.cloths.filter((cloth) => cloth.materialId === key.materialId);
  const roll = rollFor(cloths, key);
  if (!roll) return { kind: 'known', cell: empty(key, 'not allowed') };
  const { alongPercent, acrossPercent } = size;
  const variant: Project = {
    ...project,
    // Of several sets the table tells what one takes.
    sets: [{ id: 'size', name: size.name, times: 1, alongPercent, acrossPercent }],
    cloths: [roll],
    cutList: project.cutList.filter((row) => row.materialId === key.materialId),
    plans: [],
    layChoices: [],
    cutting: { tableMm: null, ticks: [], notions: [], cutBy: [] },
  };
  const { demands } = demandsFor(variant, key.materialId);
  const verdict = spreadsOf(roll, demands).find(({ spread }) => spread === key.spread);
  if (!verdict || verdict.why !== null) {
    const reason = verdict?.why ? layWords(language).whyNot[verdict.why](roll.name) : undefined;
    return { kind: 'known', cell: empty(key, 'not allowed', reason) };
  }
  return {
    kind: 'lay',
    request: {
      project: variant,
      choices: [{ materialId: key.materialId, clothIds: [roll.id], spread: key.spread }],
      seconds: request.seconds,
      seed: request.seed,
      language,
    },
  };
}

function empty(key: CellKey, verdict: TableCell['verdict'], reason?: string): TableCell {
  return {
    ...key,
    verdict,
    usedMm: 0,
    buyMm: 0,
    piecesToTrace: 0,
    costCents: null,
    ...(reason === undefined ? {} : { reason }),
  };
}

/** The figure that a finished lay gives. */
export function cellOf(key: CellKey, results: readonly ClothLay[], notices: readonly Notice[]): TableCell {
  // A spread that was laid again with half pieces unfolded has two results: the one that fits counts.
  const lay = results.find(({ verdict }) => verdict === 'fits') ?? results[0];
  if (!lay) {
    const reason = notices.find(({ level }) => level === 'error')?.text;
    return empty(key, 'not found', reason?.slice(0, 2000));
  }
  const { verdict, usedMm, buyMm, piecesToTrace, costCents } = lay;
  const fits = verdict === 'fits';
  return {
    ...empty(key, verdict, lay.reason?.slice(0, 2000)),
    ...(fits ? { usedMm, buyMm, piecesToTrace, costCents } : {}),
  };
}
