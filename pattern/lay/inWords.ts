import type { Refusal } from '../../nesting/cloth/index.ts';
import type { Impossibility } from '../../nesting/index.ts';
import type { Cloth, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { formatArea, formatLength } from '../units/index.ts';
import type { MatchFault } from './anchors.ts';
import type { HandFault } from './countHands.ts';
import type { CutDemand } from './demands.ts';
import { layWords } from './words/index.ts';

/** In which units and language something is told. */
export interface Telling {
  readonly units: Project['units'];
  readonly language: Language;
}

/** What a proof of the engine means to the maker, with the pieces' own names. */
export function impossibilityInWords(
  proof: Impossibility,
  nameOf: (item: string) => string,
  { units, language }: Telling,
): string {
  const words = layWords(language).impossible;
  const names = layWords(language).list([...new Set(proof.items.map(nameOf))]);
  const by = formatLength(proof.shortBy, units, language);
  switch (proof.kind) {
    case 'area':
      return words.area(formatArea(proof.shortBy, units, language));
    case 'too-long':
      return words.tooLong(names, by);
    case 'too-wide':
      return words.tooWide(names, by);
    case 'no-pose':
      return words.noPose(names);
    case 'pair':
      return words.pair(names);
    case 'count':
      return words.count(names);
  }
}

/** Why a piece is refused before packing, and what would help. */
function tooWideInWords(
  pieceName: string,
  clothName: string,
  needsMm: number,
  hasMm: number,
  { units, language }: Telling,
): string {
  const long = (mm: number): string => formatLength(mm, units, language);
  return layWords(language).tooWide(pieceName, clothName, long(needsMm), long(hasMm), long(needsMm - hasMm));
}

/** Why a roll has no place for a piece: too narrow, or its repeat or border is in the way. */
export function refusalInWords(
  { needs, has, offRepeat }: Refusal,
  { demand, piece }: CutDemand,
  cloth: Cloth,
  telling: Telling,
): string {
  const words = layWords(telling.language);
  const isOnBorder = demand.onBorder !== undefined;
  const keepsOff = cloth.border?.keepOff === true && cloth.border.depthMm > 0;
  if (offRepeat && cloth.border && (isOnBorder || (keepsOff && cloth.repeat === null)))
    return isOnBorder ? words.offBorder(piece.name, cloth.name) : words.onlyBorder(piece.name, cloth.name);
  if (offRepeat) return words.offRepeat(piece.name, cloth.name);
  return tooWideInWords(piece.name, cloth.name, needs, has, telling);
}

/** A count that does not agree with the cut list. */
export function handFaultInWords(
  { pieceId, hand, asked, cut }: HandFault,
  project: Project,
  language: Language,
): string {
  const name = project.pieces.find(({ id }) => id === pieceId)?.name ?? pieceId;
  const words = layWords(language);
  return words.miscounted(name, words.hands[hand], cut, asked);
}

/** What is wrong with two edges that shall match. */
export function matchFaultInWords(
  fault: MatchFault,
  project: Project,
  language: Language = USUAL_LANGUAGE,
): string {
  const nameOf = (id: string): string => project.pieces.find((piece) => piece.id === id)?.name ?? id;
  const { a, b } = fault.match;
  const words = layWords(language);
  const both = words.list([nameOf(a.pieceId), nameOf(b.pieceId)]);
  const long = (mm: number): string => formatLength(Math.abs(mm), project.units, language);
  switch (fault.kind) {
    case 'gone':
      return words.match.gone(both);
    case 'lengths':
      return words.match.lengths(both, long(fault.aMm), long(fault.bMm));
    case 'seamUnknown':
      return words.match.seamUnknown(words.list([...new Set(fault.pieceIds.map(nameOf))]), both);
    case 'ring':
      return words.match.ring(both, long(fault.off[0]), long(fault.off[1]));
  }
}
