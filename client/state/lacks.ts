import type { CutRow, Material, Piece, Project } from '../../pattern/exchange/project.ts';
import { currentPlan, isOutOfDate, materialsToCut } from './layCommands.ts';
import { pieceFacts, problemsIn } from './pieceFacts.ts';
import type { StepName } from './route.ts';

/** Something a step still lacks, with where to go to settle it. */
export interface Lack {
  readonly kind:
    | 'noPieces'
    | 'pieceFaulty'
    | 'noMaterials'
    | 'notCut'
    | 'unpaired'
    | 'foldWithoutEdge'
    | 'halfNotOnFold'
    | 'noCloth'
    | 'notLaid'
    | 'outOfDate'
    | 'unplaced';
  /** Names and numbers for the words. */
  readonly pieces: readonly string[];
  readonly material?: string;
  readonly text?: string;
  readonly plain?: number;
  readonly mirrored?: number;
  readonly goTo: { readonly step: StepName; readonly open: string | null };
}

/** What each step lacks. A step with an empty list is settled. */
export function lacksOf(project: Project): Readonly<Record<StepName, readonly Lack[]>> {
  return {
    pieces: pieceLacks(project),
    cutlist: cutListLacks(project),
    cloths: clothLacks(project),
    plan: planLacks(project),
  };
}

function pieceLacks(project: Project): Lack[] {
  if (project.pieces.length === 0) {
    return [{ kind: 'noPieces', pieces: [], goTo: { step: 'pieces', open: null } }];
  }
  return project.pieces
    .filter((piece) => pieceFacts(piece).isFaulty)
    .map((piece) => ({
      kind: 'pieceFaulty',
      pieces: [piece.name],
      text: problemsIn(piece, project.units)[0]?.text ?? '',
      goTo: { step: 'pieces', open: piece.id },
    }));
}

function cutListLacks(project: Project): Lack[] {
  const found: Lack[] = [];
  const here = { step: 'cutlist', open: null } as const;
  if (project.materials.length === 0 && project.pieces.length > 0) {
    return [{ kind: 'noMaterials', pieces: [], goTo: here }];
  }
  const cut = new Set(project.cutList.filter((row) => total(row) > 0).map((row) => row.pieceId));
  const notCut = project.pieces.filter((piece) => !cut.has(piece.id));
  if (notCut.length > 0) {
    found.push({ kind: 'notCut', pieces: notCut.map((piece) => piece.name), goTo: here });
  }
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const materials = new Map(project.materials.map((material) => [material.id, material]));
  for (const row of project.cutList) {
    const piece = pieces.get(row.pieceId);
    const material = materials.get(row.materialId);
    if (piece && material) found.push(...rowLacks(row, piece, material));
  }
  return found;
}

function rowLacks(row: CutRow, piece: Piece, material: Material): Lack[] {
  const common = { pieces: [piece.name], material: material.name };
  const found: Lack[] = [];
  if (row.onFold > 0 && piece.foldEdge === null) {
    found.push({ ...common, kind: 'foldWithoutEdge', goTo: { step: 'pieces', open: piece.id } });
  }
  if (piece.foldEdge !== null && row.onFold === 0 && row.plain + row.mirrored > 0) {
    found.push({ ...common, kind: 'halfNotOnFold', goTo: { step: 'cutlist', open: piece.id } });
  } else if (!handsPair(row, piece)) {
    found.push({
      ...common,
      kind: 'unpaired',
      plain: row.plain,
      mirrored: row.mirrored,
      goTo: { step: 'cutlist', open: piece.id },
    });
  }
  return found;
}

const total = (row: CutRow): number => row.plain + row.mirrored + row.onFold;

/**
 * Whether the copies of a cell make sense as hands: equally many of each, or a single copy, or a piece that needs
 * none. Several plain copies of an uneven piece are nearly always meant as pairs.
 */
export function handsPair(row: Pick<CutRow, 'plain' | 'mirrored'>, piece: Piece): boolean {
  if (row.plain === row.mirrored || row.plain + row.mirrored <= 1) return true;
  return pieceFacts(piece).isSymmetric;
}

function clothLacks(project: Project): Lack[] {
  const served = new Set(project.cloths.map((cloth) => cloth.materialId));
  return materialsToCut(project)
    .filter((material) => !served.has(material.id))
    .map((material) => ({
      kind: 'noCloth',
      pieces: [],
      material: material.name,
      goTo: { step: 'cloths', open: null },
    }));
}

function planLacks(project: Project): Lack[] {
  const served = new Set(project.cloths.map((cloth) => cloth.materialId));
  const here = { step: 'plan', open: null } as const;
  return materialsToCut(project).flatMap((material): Lack[] => {
    if (!served.has(material.id)) return [];
    const common = { pieces: [], material: material.name, goTo: here };
    const plan = currentPlan(project, material.id);
    if (!plan) return [{ ...common, kind: 'notLaid' }];
    if (isOutOfDate(project, plan, material.id)) return [{ ...common, kind: 'outOfDate' }];
    const isComplete = plan.results.some((result) => result.unplaced.length === 0);
    return isComplete ? [] : [{ ...common, kind: 'unplaced' }];
  });
}
