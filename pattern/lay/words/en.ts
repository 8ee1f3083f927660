import type { Spread, WhyNot } from '../../../nesting/cloth/index.ts';

/** English words of laying out: why something does not fit, what had to give way, what to look at. */

/** "A", "A and B", "A, B and C". */
const list = (names: readonly string[]): string =>
  names.length <= 1 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

export const layEn = {
  list,
  mirrored: (name: string) => `${name} (mirrored)`,

  /** What a proof of the engine means, with the pieces' own names. */
  impossible: {
    area: (area: string) => `The pieces together have ${area} more area than the cloth.`,
    tooLong: (names: string, by: string) =>
      `${names} is longer than the cloth in every allowed direction, by ${by}.`,
    tooWide: (names: string, by: string) =>
      `${names} is wider than the cloth in every allowed direction, by ${by}.`,
    noPose: (names: string) =>
      `There is no place on this cloth where ${names} could lie in an allowed direction clear of edges and flaws.`,
    pair: (names: string) => `${names} fit one at a time, but no two of them fit together.`,
    count: (names: string) =>
      `There is not room for so many of ${names}: however they lie, some are left over.`,
  },
  notFound: (copies: number) =>
    copies === 1
      ? 'One piece found no place yet. That is no proof: more time or a freer rule may still find one.'
      : `${copies} pieces found no place yet. That is no proof: more time or a freer rule may still find one.`,
  tooShort: (needs: string, has: string, short: string) =>
    `The shortest lay found needs ${needs}; there are ${has}: ${short} short. That is no proof: more time may find a shorter one.`,
  tooWide: (piece: string, cloth: string, needs: string, has: string, over: string) =>
    `${piece} needs ${needs} across ${cloth}, which has ${has}: ${over} too wide. A wider cloth, a turn the grain allows, or a join would help.`,
  offRepeat: (piece: string, cloth: string) =>
    `Nowhere across ${cloth} does ${piece} lie on its place in the repeat without reaching over an edge. Choose another point of the piece or of the motif, allow more tolerance, or check where the first motif lies.`,

  /** Why a piece finds no place on a border, or beside it. */
  offBorder: (piece: string, cloth: string) =>
    `${piece} does not fit on the border of ${cloth}: standing on its line it reaches over an edge. Check where the line lies, and how much of the piece reaches beyond it.`,
  onlyBorder: (piece: string, cloth: string) =>
    `${piece} has no room beside the border of ${cloth}. Let pieces lie on the border too, or give it a wider cloth.`,

  /** How a cloth lies, as the end of "It is laid …". */
  laidSo: {
    single: 'It is laid in a single layer.',
    folded: 'It is laid folded lengthwise.',
    sequence: 'It is laid doubled first, then opened out.',
    crosswise: 'It is laid folded crosswise.',
    turned: 'It is laid in two layers, cut apart at a crosswise fold and one of them turned end for end.',
    middle: 'It is laid with both selvedges to the middle.',
    partial: 'It is laid folded in part.',
  } as Readonly<Record<Spread, string>>,
  whyNot: {
    notFoldable: (cloth) => `${cloth} is not to be folded.`,
    printAcross: (cloth) =>
      `The print of ${cloth} has its up across the cloth: folded, the upper layer would stand on its head.`,
    printTurned: (cloth) =>
      `Folded crosswise, the print of ${cloth} would stand on its head in the upper layer.`,
    napTurned: (cloth) => `Folded crosswise, the nap of ${cloth} would run the other way in the upper layer.`,
    unevenBars: (cloth) =>
      `The stripes or plaid of ${cloth} are uneven: folded, the two layers would not look alike.`,
    motifHidden: (cloth) => `Pieces are placed on motifs of ${cloth}, which cannot be seen in a lower layer.`,
    matchHidden: (cloth) => `Pieces must match on ${cloth}, which cannot be seen in a lower layer.`,
    flawsHidden: (cloth) =>
      `${cloth} has flaws: where they come to lie in a crosswise fold is not known before its length is.`,
    borderHidden: (cloth) =>
      `Pieces sit on the border of ${cloth} or keep off it; it runs along an edge, and would not lie the same way in two layers.`,
    skewed: (cloth) => `The print of ${cloth} runs off the grain, to the other side in an upper layer.`,
    tooNarrow: (cloth) => `${cloth} is too narrow to be folded so: selvedges and margins leave nothing.`,
    notNeeded: (cloth) => `Nothing in the cut list could be cut doubled from ${cloth}.`,
  } as Readonly<Record<WhyNot, (cloth: string) => string>>,

  /** Rules that had to give way, or that the maker may not expect. */
  remarks: {
    grainAcross: (names: string, cloth: string) =>
      `So that the print stands upright on ${cloth}, the grain line of ${names} lies across the cloth.`,
    skewed: (names: string, cloth: string, degrees: string) =>
      `The print of ${cloth} runs ${degrees}° off the grain, and ${names} with it. Cloth laid off the grain may hang askew: to keep to the grain instead, choose so beside the repeat.`,
    foldOffGrain: (names: string) =>
      `The fold edge of ${names} does not run along the grain or turns its top the wrong way, so it is cut whole.`,
    oneHandBias: (names: string) =>
      `${names} is to lie on the bias to one hand: in the upper of two layers it would lie to the other, so it is cut from the single layer.`,
    foldFaded: (names: string, cloth: string) =>
      `${cloth} is faded where it would be folded, so ${names} is cut whole instead of on the fold.`,
  },

  /** A count that does not agree with the cut list: a fault of the program, which must not reach the cloth. */
  miscounted: (piece: string, hand: string, cut: number, asked: number) =>
    `${piece}: the plan gives ${cut} ${hand}, the cut list asks for ${asked}. Do not cut from this plan, and please report it.`,
  hands: { plain: 'plain', mirrored: 'mirrored', altogether: 'altogether' },

  /** What is wrong with two edges that shall match. */
  match: {
    gone: (both: string) =>
      `An edge or notch at which ${both} were to match is no longer there: choose it anew.`,
    lengths: (both: string, a: string, b: string) =>
      `The edges at which ${both} match are of different length, ${a} and ${b}: the bars meet at their middles only.`,
    seamUnknown: (pieces: string, both: string) =>
      `How much seam allowance is in the cut line of ${pieces} is not known, so where ${both} match, the bars meet at the line that is cut. Say with the piece how much is allowance: they then meet at the seam.`,
    ring: (both: string, across: string, up: string) =>
      `${both} are joined through other pieces too, and the repeat cannot meet at every seam: here it is off by up to ${across} across the pieces and ${up} up them.`,
  },

  nothingToCut: (material: string) => `Nothing is to be cut from ${material}.`,
  noCloth: (material: string) =>
    `There is no cloth for ${material} yet. Add a roll or a remnant to see how the pieces fall.`,
  marginTooLarge: (cloth: string, margin: string) =>
    `${cloth}: the margin of ${margin} leaves no cloth. Make it smaller.`,
  noWidth: (cloth: string, width: string) =>
    `${cloth}: selvedges and margins leave no usable width. Check them against ${width}.`,
  foldShort: (cloth: string, names: string, needs: string, has: string) =>
    `There is not enough fold on ${cloth}: ${names} need ${needs} of fold, and there are ${has}. It is laid once more with half pieces unfolded where that helps.`,
  joined: (piece: string, lengths: number) => `${piece} is joined from ${lengths} lengths.`,
  fromElsewhere: (piece: string, copies: number, material: string) =>
    `${piece}: ${copies === 1 ? 'one copy' : `${copies} copies`} found room on ${material} without taking more of it.`,
  pieceMissing: (id: string) =>
    `The cut list asks for a piece "${id}" that is not in the project; it is left out.`,
  about: (name: string, text: string) => `${name}: ${text}`,
  noSizeOfSet: 'it can’t be made in the size of every set.',

  /** What is wrong with a cloth, after its name and a colon. */
  cloth: {
    flawOutside: (number: number) =>
      `flaw ${number} lies outside the cloth, so it changes nothing. Check its place.`,
    oneSet: 'the cut list is one set, so all its pieces point the same way.',
    printOverNap: 'the print has an up, which settles the direction of every piece; the nap changes nothing.',
    upsideDownBack: (piece: string, cloth: string, isPrint: boolean, at: 'bottom' | 'top') =>
      `${piece} is front and back in one: on ${cloth} ${isPrint ? 'the print stands on its head' : 'its nap runs the other way'} ${at === 'top' ? 'on one side of the strap' : 'at the back'}. Split it ${at === 'top' ? 'at the top' : 'at the bottom'}: two halves, each with one more seam allowance.`,
    strapTurns: (piece: string, cloth: string) =>
      `${piece} is a strap: on ${cloth}, which has an up, it is upright on one side of the shoulder only. If that matters, tick “Front and back in one piece” with the piece, and split it at the top.`,
    printAslant: (degrees: string, by: string, over: string) =>
      `its print runs ${degrees}° off the grain and the pieces keep to the grain, so the print runs aslant over them: by ${by} in ${over}.`,
    noBorder: (names: string) =>
      `${names} is to sit on a border, but this cloth has none: it lies anywhere. Say where the border is, with the repeat.`,
    borderTooDeep: (depth: string, both: boolean, width: string) =>
      `its border reaches ${depth} from the edge${both ? ' on both sides' : ''}, and the cloth is ${width} wide. Correct one of the two.`,
    usableTooWide: (usable: string, whole: string) =>
      `its usable width of ${usable} is more than its whole width of ${whole}. Correct one of the two.`,
    fadedOutside: (at: string) =>
      `a faded line ${at} from the selvedge lies outside the cloth, so it changes nothing. Check its place.`,
    repeatAcross: (repeat: string, width: string) =>
      `its repeat of ${repeat} across is more than its width of ${width}. Measure it from one motif to the same point of the next.`,
    repeatOverRemnant: (repeat: string, has: string, isAlong: boolean) =>
      `its repeat of ${repeat} ${isAlong ? 'along' : 'across'} is more than the ${has} there are: at most one motif is on it. Check the measure, and where the first motif lies.`,
    repeatAlong: (repeat: string, length: string) =>
      `its repeat of ${repeat} along is more than the ${length} there are. Measure it from one motif to the same point of the next.`,
  },

  /** Why a lay ended before its time, or not at all. */
  outOfTime:
    'The search was ended at the longest time allowed for one lay; this is the best found until then.',
  failed: {
    outOfMemory:
      'The lay needed more memory than one may take and was ended. Lay fewer pieces at a time, or make their outlines simpler.',
    brokeDown:
      'What was at work on this lay broke down more than once, and the lay was given up. Try it again; the server log has the rest.',
    closed: 'The server is shutting down.',
    fault: 'The lay could not be worked out because of a fault in the program; it is in the server log.',
  },

  /** How many sets the cloth gives. */
  sets: {
    needsLength:
      'Only cloth of a known length can answer that: a remnant, or a roll that says how much of it there is.',
    notMeasured: (piece: string) => `${piece} has no measurements that could vary: it comes from a drawing.`,
    tooMuchArea: 'More area than the cloth has.',
  },

  /** What to buy. */
  buy: {
    noOffers: 'There is nothing to choose from yet: add what the shop has, with its price.',
    offerTwice: (id: string, name: string) => `The id ${id} of ${name} is used by another offer or cloth.`,
    nothingToCut: 'Nothing is to be cut from this material, so there is nothing to buy.',
    noPrice: (name: string) => `${name} has no price: give one, or take the offer out.`,
    noUsableCloth: (name: string) => `The selvedges of ${name} leave no cloth between them.`,
    notPlaced: 'Not everything found a place.',
  },
};

export type LayWords = typeof layEn;
