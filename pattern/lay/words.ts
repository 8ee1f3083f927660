import type { Impossibility } from '../../nesting/index.ts';
import type { Project } from '../exchange/project.ts';
import { formatArea, formatLength } from '../units/index.ts';

/** What a proof of the engine means to the maker, with the pieces' own names. */
export function impossibilityInWords(
  proof: Impossibility,
  nameOf: (item: string) => string,
  units: Project['units'],
): string {
  const names = listOf([...new Set(proof.items.map(nameOf))]);
  const by = formatLength(proof.shortBy, units);
  switch (proof.kind) {
    case 'area':
      return `The pieces together have ${formatArea(proof.shortBy, units)} more area than the cloth.`;
    case 'too-long':
      return `${names} is longer than the cloth in every allowed direction, by ${by}.`;
    case 'too-wide':
      return `${names} is wider than the cloth in every allowed direction, by ${by}.`;
    case 'no-pose':
      return `There is no place on this cloth where ${names} could lie in an allowed direction clear of edges and flaws.`;
    case 'pair':
      return `${names} fit one at a time, but no two of them fit together.`;
    case 'count':
      return `There is not room for so many of ${names}: however they lie, some are left over.`;
  }
}

/** A sentence on copies that found no place although none was proved impossible. */
export function notFoundInWords(copies: number): string {
  return copies === 1
    ? 'One piece found no place yet. That is no proof: more time or a freer rule may still find one.'
    : `${copies} pieces found no place yet. That is no proof: more time or a freer rule may still find one.`;
}

/** Why a piece is refused before packing, and what would help. */
export function tooWideInWords(
  pieceName: string,
  clothName: string,
  needsMm: number,
  hasMm: number,
  units: Project['units'],
): string {
  const over = formatLength(needsMm - hasMm, units);
  const [needs, has] = [formatLength(needsMm, units), formatLength(hasMm, units)];
  return (
    `${pieceName} needs ${needs} across ${clothName}, which has ${has}: ${over} too wide. ` +
    'A wider cloth, a turn the grain allows, or a join would help.'
  );
}

/** "A", "A and B", "A, B and C". */
export function listOf(names: readonly string[]): string {
  if (names.length <= 1) return names[0] ?? '';
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
