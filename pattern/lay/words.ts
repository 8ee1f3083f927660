import type { Spread, WhyNot } from '../../nesting/cloth/index.ts';
import type { Impossibility } from '../../nesting/index.ts';
import type { Project } from '../exchange/project.ts';
import { formatArea, formatLength } from '../units/index.ts';
import type { MatchFault } from './anchors.ts';
import type { HandFault } from './countHands.ts';

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

/** How a cloth lies, as the end of "It is laid …". */
export const SPREAD_NAMES: Readonly<Record<Spread, string>> = {
  single: 'in a single layer',
  folded: 'folded lengthwise',
  sequence: 'doubled first, then opened out',
  crosswise: 'folded crosswise',
  turned: 'in two layers, cut apart at a crosswise fold and one of them turned end for end',
  middle: 'with both selvedges to the middle',
  partial: 'folded in part',
};

/** Why a cloth may not be spread so. */
export function whyNotSpreadInWords(why: WhyNot, clothName: string): string {
  switch (why) {
    case 'notFoldable':
      return `${clothName} is not to be folded.`;
    case 'printAcross':
      return `The print of ${clothName} has its up across the cloth: folded, the upper layer would stand on its head.`;
    case 'printTurned':
      return `Folded crosswise, the print of ${clothName} would stand on its head in the upper layer.`;
    case 'napTurned':
      return `Folded crosswise, the nap of ${clothName} would run the other way in the upper layer.`;
    case 'unevenBars':
      return `The stripes or plaid of ${clothName} are uneven: folded, the two layers would not look alike.`;
    case 'motifHidden':
      return `Pieces are placed on motifs of ${clothName}, which cannot be seen in a lower layer.`;
    case 'matchHidden':
      return `Pieces must match on ${clothName}, which cannot be seen in a lower layer.`;
    case 'borderHidden':
      return `Pieces sit on the border of ${clothName} or keep off it; it runs along an edge, and would not lie the same way in two layers.`;
    case 'skewed':
      return `The print of ${clothName} runs off the grain, to the other side in an upper layer.`;
    case 'flawsHidden':
      return `${clothName} has flaws: where they come to lie in a crosswise fold is not known before its length is.`;
    case 'tooNarrow':
      return `${clothName} is too narrow to be folded so: selvedges and margins leave nothing.`;
    case 'notNeeded':
      return `Nothing in the cut list could be cut doubled from ${clothName}.`;
  }
}

/** A count that does not agree with the cut list: a fault of the program, which must not reach the cloth. */
export function handFaultInWords({ pieceId, hand, asked, cut }: HandFault, project: Project): string {
  const name = project.pieces.find(({ id }) => id === pieceId)?.name ?? pieceId;
  return `${name}: the plan gives ${cut} ${hand}, the cut list asks for ${asked}. Do not cut from this plan, and please report it.`;
}

/** What is wrong with two edges that shall match. */
export function matchFaultInWords(fault: MatchFault, project: Project): string {
  const nameOf = (id: string): string => project.pieces.find((piece) => piece.id === id)?.name ?? id;
  const { a, b } = fault.match;
  const both = `${nameOf(a.pieceId)} and ${nameOf(b.pieceId)}`;
  const long = (mm: number): string => formatLength(Math.abs(mm), project.units);
  switch (fault.kind) {
    case 'gone':
      return `An edge or notch at which ${both} were to match is no longer there: choose it anew.`;
    case 'lengths':
      return `The edges at which ${both} match are of different length, ${long(fault.aMm)} and ${long(fault.bMm)}: the bars meet at their middles only.`;
    case 'ring':
      return `${both} are joined through other pieces too, and the repeat cannot meet at every seam: here it is off by up to ${long(fault.off[0])} across the pieces and ${long(fault.off[1])} up them.`;
  }
}

/** Why a piece is refused on a repeat, and what would help. */
export function offRepeatInWords(pieceName: string, clothName: string): string {
  return `Nowhere across ${clothName} does ${pieceName} lie on its place in the repeat without reaching over an edge. Choose another point of the piece or of the motif, allow more tolerance, or check where the first motif lies.`;
}

/** Why a piece finds no place beside or on a border, and what would help. */
export function offBorderInWords(pieceName: string, clothName: string, isOnIt: boolean): string {
  return isOnIt
    ? `${pieceName} does not fit on the border of ${clothName}: standing on its line it reaches over an edge. Check where the line lies, and how much of the piece reaches beyond it.`
    : `${pieceName} has no room beside the border of ${clothName}. Let pieces lie on the border too, or give it a wider cloth.`;
}

/** "A", "A and B", "A, B and C". */
export function listOf(names: readonly string[]): string {
  if (names.length <= 1) return names[0] ?? '';
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
