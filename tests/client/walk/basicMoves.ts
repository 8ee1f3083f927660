/** Ways to change pieces, cut list, cloths and choices: aimed at random parts of whatever document there is. */
import {
  addRemnant,
  addRoll,
  changeCloth,
  changeFlaws,
  copyCloth,
  removeCloth,
} from '../../../client/state/clothCommands.ts';
import type { Command } from '../../../client/state/command.ts';
import {
  addMaterial,
  addSet,
  followAgain,
  holdBack,
  makePairs,
  moveAll,
  moveRow,
  removeMaterial,
  renameMaterial,
  setCompanion,
  setCount,
  setElsewhere,
  setJoins,
  setRole,
  setSizing,
  setTotal,
} from '../../../client/state/cutListCommands.ts';
import { chooseLay, keepPlan, removePlan, usePlan } from '../../../client/state/layCommands.ts';
import {
  addMeasuredPieces,
  addVariant,
  changeVariant,
  copyPiece,
  detachVariant,
  notePiece,
  removePieces,
  renamePiece,
  resizePiece,
  setAllowance,
  setCorners,
  setEdgeAllowance,
  setFold,
  setLine,
  swapAllGrains,
  swapGrain,
  turnGrain,
  turnTop,
} from '../../../client/state/pieceCommands.ts';
import { renameProject } from '../../../client/state/projectCommands.ts';
import { PRESET_IDS } from '../../../pattern/cloths/presets.ts';
import type { Project, VariantStep } from '../../../pattern/exchange/project.ts';

/** Picks something of the document by a number, or nothing when there is none. */
export const pick = <T>(list: readonly T[], n: number): T | undefined =>
  list.length === 0 ? undefined : list[n % list.length];

export type Move = (project: Project, a: number, b: number, c: number) => Command | undefined;

/** Every way to change the document, aimed at random parts of it. */
export const BASIC_MOVES: readonly Move[] = [
  (_p, a, b, c) =>
    addMeasuredPieces([
      {
        name: `Piece ${a}`,
        alongMm: 1 + a,
        acrossMm: 1 + b,
        counts: { plain: c % 4, mirrored: a % 3, onFold: 0 },
        material: c % 3 === 0 ? '' : `Material ${c % 5}`,
      },
    ]),
  (p, a, b) => on(pick(p.pieces, a), (piece) => renamePiece(piece, `Name ${b}`)),
  (p, a, b) => on(pick(p.pieces, a), (piece) => turnGrain(piece, b * 7.5)),
  (p, a, b) => on(pick(p.pieces, a), (piece) => turnTop(piece, b * 90)),
  (p, a, b) => on(pick(p.pieces, a), (piece) => setFold(piece, b % 5 === 0 ? null : b % 4)),
  (p, a, b) => on(pick(p.pieces, a), (piece) => setLine(piece, b % 2 === 0 ? 'cut' : 'sew')),
  (p, a, b) => on(pick(p.pieces, a), (piece) => setAllowance(piece, b % 30)),
  (p, a, b, c) => on(pick(p.pieces, a), (piece) => resizePiece(piece, 1 + b, 1 + c)),
  (p, a) => on(pick(p.pieces, a), swapGrain),
  (p) => swapAllGrains(p.pieces.map((piece) => piece.id)),
  (p, a, b) => on(pick(p.pieces, a), (piece) => notePiece(piece, `note ${b}`)),
  (p, a) => on(pick(p.pieces, a), (piece) => copyPiece(piece, `${piece.name} copy`.slice(0, 200))),
  (p, a) => on(pick(p.pieces, a), (piece) => removePieces(p, [piece.id])),
  (_p, a) => addMaterial(`Stuff ${a}`),
  (p, a, b) => on(pick(p.materials, a), (material) => renameMaterial(material, `Stuff ${b}`)),
  (p, a) => on(pick(p.materials, a), (material) => setRole(material, 'foam')),
  (p, a) => on(pick(p.materials, a), removeMaterial),
  (p, a, b, c) =>
    on(pick(p.pieces, a), (piece) =>
      on(pick(p.materials, b), (material) =>
        setCount(p, piece.id, material.id, (['plain', 'mirrored', 'onFold'] as const)[c % 3]!, c % 7),
      ),
    ),
  (p, a, b, c) =>
    on(pick(p.pieces, a), (piece) =>
      on(pick(p.materials, b), (material) => setTotal(p, piece.id, material.id, c % 5)),
    ),
  (p, a) => on(pick(p.cutList, a), (row) => makePairs(p, row.pieceId, row.materialId)),
  (p, a, b) =>
    on(pick(p.cutList, a), (row) =>
      on(pick(p.materials, b), (material) => moveRow(p, row.pieceId, row.materialId, material.id)),
    ),
  (p, a, b) =>
    on(pick(p.materials, a), (material) => addRoll(material.id, `Roll ${b}`, pick(PRESET_IDS, b) ?? 'woven')),
  (p, a, b, c) =>
    on(pick(p.materials, a), (material) => addRemnant(material.id, `Scrap ${b}`, 'vinyl', 100 + b, 100 + c)),
  (p, a, b) => on(pick(p.cloths, a), (cloth) => changeCloth(cloth, { gapMm: b % 20, nap: 'oneWay' })),
  (p, a, b) =>
    on(pick(p.cloths, a), (cloth) =>
      cloth.kind === 'remnant'
        ? changeFlaws(cloth, [
            [
              [b, 0],
              [b + 5, 0],
              [b, 5],
            ],
          ])
        : undefined,
    ),
  (p, a) => on(pick(p.cloths, a), (cloth) => copyCloth(cloth, `${cloth.name} 2`.slice(0, 200))),
  (p, a) => on(pick(p.cloths, a), removeCloth),
  (p, a, b) =>
    on(pick(p.materials, a), (material) =>
      chooseLay(p, {
        materialId: material.id,
        clothIds: p.cloths.filter((cloth) => cloth.materialId === material.id).map((cloth) => cloth.id),
        spread: (['single', 'folded', 'compare'] as const)[b % 3]!,
      }),
    ),
  (p, a) => keepPlan(p, `Plan ${a}`, '2026-01-01T00:00:00.000Z'),
  (p, a) => on(pick(p.plans, a), removePlan),
  (p, a) => on(pick(p.plans, a), (plan) => usePlan(plan, '2026-01-02T00:00:00.000Z')),
  (_p, a) => renameProject(`Project ${a}`),
  (p, a, b) =>
    on(pick(p.pieces, a), (piece) => addVariant(piece, `${piece.name} v`.slice(0, 200), [stepOf(b)])),
  (p, a, b, c) =>
    on(
      pick(
        p.pieces.filter(({ variant }) => variant),
        a,
      ),
      (piece) => changeVariant(piece, [...piece.variant!.steps, stepOf(b)].slice(-(c % 4))),
    ),
  (p, a) =>
    on(
      pick(
        p.pieces.filter(({ variant }) => variant),
        a,
      ),
      detachVariant,
    ),
  (p, a, b) =>
    on(pick(p.pieces, a), (piece) => setCorners(piece, (['mitred', 'squared', 'rounded'] as const)[b % 3]!)),
  (p, a, b, c) =>
    on(pick(p.pieces, a), (piece) => setEdgeAllowance(piece, b % 5, c % 3 === 0 ? null : c % 40)),
  (p, a, b, c) =>
    on(pick(p.materials, a), (material) =>
      on(pick(p.materials, b), (other) =>
        material.id === other.id ? undefined : setCompanion(material, other.id, c % 3 > 0),
      ),
    ),
  (p, a, b, c) =>
    on(pick(p.materials, a), (material) =>
      setSizing(material, {
        allowance: (['full', 'none', 'partly'] as const)[b % 3]!,
        inSeamMm: c % 5,
        largerMm: (b % 9) - 4,
        roughMm: c % 7,
      }),
    ),
  (p, a, b) =>
    on(pick(p.materials, a), (material) => on(pick(p.materials, b), (other) => moveAll(material, other.id))),
  (p, a) => on(pick(p.cutList, a), (row) => followAgain(p, row.pieceId, row.materialId)),
  (p, a, b) => on(pick(p.cutList, a), (row) => holdBack(p, row.pieceId, row.materialId, b % 2 === 0)),
  (p, a, b) =>
    on(pick(p.cutList, a), (row) =>
      on(pick(p.materials, b), (other) =>
        setElsewhere(p, row.pieceId, row.materialId, other.id === row.materialId ? [] : [other.id]),
      ),
    ),
  (p, a, b) =>
    on(pick(p.cutList, a), (row) =>
      setJoins(
        p,
        row.pieceId,
        row.materialId,
        b % 4 === 0 ? null : { most: 1 + (b % 6), allowanceMm: b % 12, slant: 'diagonal', wholeMiddleMm: b },
      ),
    ),
  (p, a) => addSet(p, `Size ${a}`, 'as drawn'),
];

/** A step by a number: with edges and measures that may well not fit. */
function stepOf(n: number): VariantStep {
  const steps: readonly VariantStep[] = [
    { kind: 'unfold' },
    { kind: 'foldBack', edge: n % 5, insideMm: n % 30 },
    {
      kind: 'allowance',
      mm: n % 25,
      edges: n % 2 === 0 ? [] : [{ edge: n % 6, mm: n % 9 }],
      corners: 'rounded',
    },
    { kind: 'mirror' },
    { kind: 'lengthen', direction: n % 2 === 0 ? 'along' : 'across', atMm: n, byMm: (n % 50) - 20 },
    { kind: 'scale', alongPercent: 1 + (n % 300), acrossPercent: 100 },
  ];
  return steps[n % steps.length]!;
}

export function on<T>(found: T | undefined, make: (found: T) => Command | undefined): Command | undefined {
  return found === undefined ? undefined : make(found);
}
