import type { Spreading } from '../../nesting/cloth/index.ts';
import type { Impossibility } from '../../nesting/index.ts';
import type { Notice } from '../exchange/lay.ts';
import type { Cloth, ClothLay, Roll } from '../exchange/project.ts';
import type { Language } from '../language.ts';
import { formatLength, formatNumber } from '../units/index.ts';
import { rollLengths } from './assemble.ts';
import type { CutDemand } from './demands.ts';
import { impossibilityInWords, type Telling } from './inWords.ts';
import { countOpen, type RollLay } from './rollLay.ts';
import { layWords } from './words/index.ts';

/** What a roll laid one way so far amounts to: everything has its place, or why not. */
export function judgeRoll(
  roll: Roll,
  { spreading, filled, proofs }: RollLay,
  demands: readonly CutDemand[],
  tooWide: readonly string[],
  telling: Telling,
): { verdict: ClothLay['verdict']; reason?: string } {
  const words = layWords(telling.language);
  const copies = countOpen(demands, filled);
  if (tooWide.length > 0) return { verdict: 'cannot fit', reason: tooWide.join(' ') };
  const [proof] = proofs;
  if (copies > 0) {
    return proof
      ? { verdict: 'cannot fit', reason: proofInWords(proof, spreading, demands, telling, roll) }
      : { verdict: 'not found', reason: words.notFound(copies) };
  }
  const { used } = rollLengths(roll, filled);
  if (roll.availableMm === null || used <= roll.availableMm) return { verdict: 'fits' };
  const long = (mm: number): string => formatLength(mm, telling.units, telling.language);
  const reason = words.tooShort(long(used), long(roll.availableMm), long(used - roll.availableMm));
  return { verdict: 'not found', reason };
}

/** A proof of the engine, in the names of the pieces it is about. */
export function proofInWords(
  proof: Impossibility,
  spreading: Spreading,
  demands: readonly CutDemand[],
  telling: Telling,
  cloth?: Cloth,
): string {
  const about = (item: string): CutDemand | undefined => {
    const id = spreading.stretches.flatMap(({ meanings }) => meanings).find((m) => m.item === item)?.demand;
    return demands.find(({ demand }) => demand.id === id);
  };
  const [confined] = proof.kind === 'no-pose' ? proof.items.flatMap((item) => about(item) ?? []) : [];
  // On a repeat or a border it is that which leaves no place.
  if (cloth && confined?.demand.anchor && cloth.repeat)
    return layWords(telling.language).offRepeat(confined.piece.name, cloth.name);
  if (cloth?.border && confined) {
    const { offBorder, onlyBorder } = layWords(telling.language);
    return (confined.demand.onBorder ? offBorder : onlyBorder)(confined.piece.name, cloth.name);
  }
  const meanings = spreading.stretches.flatMap((stretch) => stretch.meanings);
  return impossibilityInWords(
    proof,
    (item) => {
      const meaning = meanings.find((m) => m.item === item);
      const piece = demands.find((d) => d.demand.id === meaning?.demand)?.piece;
      const name = piece?.name ?? item;
      return meaning?.hand === 'mirrored' ? layWords(telling.language).mirrored(name) : name;
    },
    telling,
  );
}

/** Rules that had to give way, or that the maker may not expect. */
export function remarksInWords(
  spreading: Spreading,
  demands: readonly CutDemand[],
  cloth: Cloth,
  language: Language,
): Notice[] {
  const words = layWords(language);
  const about = { clothId: cloth.id, materialId: cloth.materialId };
  const degrees = formatNumber(Math.abs(cloth.repeat?.skewDeg ?? 0), language);
  const found: Notice[] = [];
  const tell = (kind: Spreading['remarks'][number]['kind'], level: Notice['level']): void => {
    const names = spreading.remarks
      .filter((remark) => remark.kind === kind)
      .map(({ demand }) => demands.find((cut) => cut.demand.id === demand)!.piece.name);
    if (names.length > 0)
      found.push({
        level,
        code: kind,
        text: words.remarks[kind](words.list(names), cloth.name, degrees),
        ...about,
      });
  };
  tell('grainAcross', 'warning');
  tell('skewed', 'warning');
  tell('foldOffGrain', 'info');
  tell('oneHandBias', 'info');
  tell('foldFaded', 'info');
  return found;
}
