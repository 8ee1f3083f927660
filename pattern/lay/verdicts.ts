import type { Hand, Spreading } from '../../nesting/cloth/index.ts';
import type { Impossibility } from '../../nesting/index.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Cloth, ClothLay, Project, Roll } from '../exchange/project.ts';
import { formatLength } from '../units/index.ts';
import { rollLengths } from './assemble.ts';
import type { CutDemand } from './demands.ts';
import { countOpen, type RollLay } from './rollLay.ts';
import { impossibilityInWords, listOf, notFoundInWords } from './words.ts';

/** What a roll laid one way so far amounts to: everything has its place, or why not. */
export function judgeRoll(
  roll: Roll,
  { spreading, filled, proofs }: RollLay,
  demands: readonly CutDemand[],
  tooWide: readonly string[],
  units: Project['units'],
): { verdict: ClothLay['verdict']; reason?: string } {
  const copies = countOpen(demands, filled);
  if (tooWide.length > 0) return { verdict: 'cannot fit', reason: tooWide.join(' ') };
  const [proof] = proofs;
  if (copies > 0) {
    return proof
      ? { verdict: 'cannot fit', reason: proofInWords(proof, spreading, demands, units) }
      : { verdict: 'not found', reason: notFoundInWords(copies) };
  }
  const { used } = rollLengths(roll, filled);
  if (roll.availableMm === null || used <= roll.availableMm) return { verdict: 'fits' };
  const long = (mm: number): string => formatLength(mm, units);
  const reason = `The shortest lay found needs ${long(used)}; there are ${long(roll.availableMm)}: ${long(used - roll.availableMm)} short. That is no proof: more time may find a shorter one.`;
  return { verdict: 'not found', reason };
}

/** A proof of the engine, in the names of the pieces it is about. */
export function proofInWords(
  proof: Impossibility,
  spreading: Spreading,
  demands: readonly CutDemand[],
  units: Project['units'],
): string {
  const meanings = spreading.stretches.flatMap((stretch) => stretch.meanings);
  const handWord: Partial<Record<Hand, string>> = { mirrored: ' (mirrored)' };
  return impossibilityInWords(
    proof,
    (item) => {
      const meaning = meanings.find((m) => m.item === item);
      const piece = demands.find((d) => d.demand.id === meaning?.demand)?.piece;
      return `${piece?.name ?? item}${(meaning && handWord[meaning.hand]) ?? ''}`;
    },
    units,
  );
}

/** Rules that had to give way, or that the maker may not expect. */
export function remarksInWords(spreading: Spreading, demands: readonly CutDemand[], cloth: Cloth): Notice[] {
  const about = { clothId: cloth.id, materialId: cloth.materialId };
  const found: Notice[] = [];
  const tell = (
    kind: Spreading['remarks'][number]['kind'],
    level: Notice['level'],
    text: (names: string) => string,
  ): void => {
    const names = spreading.remarks
      .filter((remark) => remark.kind === kind)
      .map(({ demand }) => demands.find((cut) => cut.demand.id === demand)!.piece.name);
    if (names.length > 0) found.push({ level, code: kind, text: text(listOf(names)), ...about });
  };
  tell(
    'grainAcross',
    'warning',
    (names) =>
      `So that the print stands upright on ${cloth.name}, the grain line of ${names} lies across the cloth.`,
  );
  tell(
    'skewed',
    'warning',
    (names) =>
      `The print of ${cloth.name} runs ${Math.abs(cloth.repeat?.skewDeg ?? 0)}° off the grain, and ${names} with it. Cloth laid off the grain may hang askew: to keep to the grain instead, choose so beside the repeat.`,
  );
  tell(
    'foldOffGrain',
    'info',
    (names) =>
      `The fold edge of ${names} does not run along the grain or turns its top the wrong way, so it is cut whole.`,
  );
  tell(
    'oneHandBias',
    'info',
    (names) =>
      `${names} is to lie on the bias to one hand: in the upper of two layers it would lie to the other, so it is cut from the single layer.`,
  );
  tell(
    'foldFaded',
    'info',
    (names) =>
      `${cloth.name} is faded where it would be folded, so ${names} is cut whole instead of on the fold.`,
  );
  return found;
}
