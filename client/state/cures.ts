import type { Notice } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import type { StepName } from './route.ts';

/** A place on a step that can be pointed at: what stands there has it as its `data-spot`. */
export type Spot =
  // On the card of a piece.
  | 'outline'
  | 'size'
  | 'grain'
  | 'fold'
  | 'line'
  | 'parts'
  | 'print'
  | 'holes'
  | 'variant'
  // In the cut list: the row of the piece that is open, or the list.
  | 'row'
  | 'more'
  | 'counts'
  | `sizing-${string}`
  // On the card of a cloth.
  | 'measures'
  | 'shape'
  | 'turn'
  | 'nap'
  | 'printUp'
  | 'margins'
  | 'repeat'
  | 'matches'
  | 'border'
  | 'flaws'
  | 'faded'
  | 'foldable'
  | 'price'
  // Of one material, on the steps of cloths and lay plan.
  | `cloths-${string}`
  | `plan-${string}`
  | `choice-${string}`
  // On the lay plan.
  | 'effort'
  | 'run'
  // Where pieces are brought in.
  | 'ways';

/** Where something that is told can be settled: a step, the piece or cloth open in it, and the place on its card. */
export interface Cure {
  readonly step: StepName;
  readonly open: string | null;
  readonly at: Spot;
}

/** What a cure stands on: the card of what the notice is about, its row, its material, or a step. */
type Way =
  | { readonly on: 'piece'; readonly at: Spot }
  | { readonly on: 'cloth'; readonly at: Spot }
  | { readonly on: 'row'; readonly at: 'row' | 'more' }
  | { readonly on: 'list' }
  | { readonly on: 'sizing' }
  | { readonly on: 'newCloth' }
  | { readonly on: 'choice' }
  | { readonly on: 'plan'; readonly at: 'effort' | 'run' };

const piece = (at: Spot): Way => ({ on: 'piece', at });
const cloth = (at: Spot): Way => ({ on: 'cloth', at });
const LIST: Way = { on: 'list' };
const ROW: Way = { on: 'row', at: 'row' };

/**
 * For every code a notice can have, where its cure lies. A house test holds this against all codes that the rooms of
 * patterns and the server can tell; a way to spread a cloth that is refused, and seams that can't match, are told with
 * their reason behind a dot.
 */
export const WAYS: Readonly<Record<string, Way>> = {
  // The outline of a piece.
  tooFewPoints: piece('outline'),
  notFinite: piece('outline'),
  crossesItself: piece('outline'),
  clockwise: piece('outline'),
  noSize: piece('outline'),
  pieceFaulty: piece('outline'),
  tiny: piece('size'),
  huge: piece('size'),
  notTrueToSize: piece('size'),
  nearlyAlike: piece('size'),
  holeOutside: piece('holes'),
  holesOverlap: piece('holes'),
  holeCloses: piece('line'),
  allowanceNegative: piece('line'),
  allowanceMeetsItself: piece('line'),
  allowanceUnknown: piece('line'),
  allowanceUntold: piece('line'),
  allowancesDiffer: piece('line'),
  nothingLeft: piece('line'),
  nothingLeftInMaterial: { on: 'sizing' },
  noSuchFoldEdge: piece('fold'),
  acrossFold: piece('fold'),
  foldOffGrain: piece('fold'),
  foldFaded: cloth('faded'),
  partOpen: piece('parts'),
  variantStuck: piece('variant'),
  upsideDownBack: piece('print'),
  strapTurns: piece('print'),
  offRepeat: piece('print'),
  oneHandBias: piece('grain'),
  // The cut list.
  cutListEmpty: LIST,
  tooManyCopies: LIST,
  nothingToCut: LIST,
  pieceMissing: LIST,
  danglingId: LIST,
  duplicateId: LIST,
  rowTwice: ROW,
  pieceNotCut: ROW,
  onFoldWithoutFold: ROW,
  halfWithoutFold: ROW,
  handsUnpaired: ROW,
  handsNotNeeded: ROW,
  handsMiscounted: ROW,
  joined: { on: 'row', at: 'more' },
  fromElsewhere: { on: 'row', at: 'more' },
  // The cloths.
  materialWithoutCloth: { on: 'newCloth' },
  noCloth: { on: 'newCloth' },
  noUsableWidth: cloth('measures'),
  usableTooWide: cloth('measures'),
  noUsableCloth: cloth('margins'),
  tooWide: cloth('measures'),
  clothFaulty: cloth('shape'),
  flawOutside: cloth('flaws'),
  oneSet: cloth('nap'),
  printOverNap: cloth('nap'),
  grainAcross: cloth('printUp'),
  repeatTooLarge: cloth('repeat'),
  printAslant: cloth('repeat'),
  skewed: cloth('repeat'),
  noBorder: cloth('border'),
  borderTooDeep: cloth('border'),
  foldShort: { on: 'choice' },
  noClothChosen: { on: 'choice' },
  // Why a cloth can't be spread as it was chosen to.
  'spread.notFoldable': cloth('foldable'),
  'spread.printAcross': cloth('printUp'),
  'spread.printTurned': cloth('printUp'),
  'spread.napTurned': cloth('nap'),
  'spread.unevenBars': cloth('repeat'),
  'spread.motifHidden': cloth('repeat'),
  'spread.borderHidden': cloth('border'),
  'spread.skewed': cloth('repeat'),
  'spread.matchHidden': cloth('matches'),
  'spread.flawsHidden': cloth('flaws'),
  'spread.tooNarrow': cloth('measures'),
  'spread.notNeeded': { on: 'choice' },
  // Seams at which a print can't meet.
  'match.gone': cloth('matches'),
  'match.lengths': cloth('matches'),
  'match.ring': cloth('matches'),
  'match.seamUnknown': piece('line'),
  // The lay itself.
  outOfTime: { on: 'plan', at: 'effort' },
  noWorker: { on: 'plan', at: 'run' },
  queueUnreachable: { on: 'plan', at: 'run' },
  begunAgain: { on: 'plan', at: 'run' },
};

/** Where what a notice tells can be settled. Codes of a newer server lead to whatever they are about. */
export function cureOf(
  notice: Pick<Notice, 'code' | 'pieceId' | 'materialId' | 'clothId'>,
  project: Project,
): Cure {
  const { pieceId, materialId } = notice;
  const way = WAYS[notice.code] ?? usualWay(notice);
  switch (way.on) {
    case 'piece':
      return pieceId === undefined
        ? { step: 'cutlist', open: null, at: 'counts' }
        : { step: 'pieces', open: pieceId, at: way.at };
    case 'cloth': {
      const id = notice.clothId ?? clothAbout(way.at, materialId, project);
      return id === undefined
        ? { step: 'cloths', open: null, at: `cloths-${materialId ?? ''}` }
        : { step: 'cloths', open: id, at: way.at };
    }
    case 'row':
      return { step: 'cutlist', open: pieceId ?? null, at: pieceId === undefined ? 'counts' : way.at };
    case 'list':
      return project.pieces.length === 0
        ? { step: 'pieces', open: null, at: 'ways' }
        : { step: 'cutlist', open: null, at: 'counts' };
    case 'sizing':
      return { step: 'cutlist', open: null, at: `sizing-${materialId ?? ''}` };
    case 'newCloth':
      return { step: 'cloths', open: null, at: `cloths-${materialId ?? ''}` };
    case 'choice':
      return { step: 'plan', open: null, at: `choice-${materialId ?? ''}` };
    case 'plan':
      return { step: 'plan', open: null, at: way.at };
  }
}

/** Of a code that is not known: to whatever it is about. */
function usualWay({ pieceId, materialId, clothId }: Pick<Notice, 'pieceId' | 'materialId' | 'clothId'>): Way {
  if (pieceId !== undefined) return piece('size');
  if (clothId !== undefined) return cloth('measures');
  return materialId === undefined ? LIST : { on: 'choice' };
}

/** The cloth that is meant where only a material is named: one that has what the cure is about, or its first. */
function clothAbout(at: Spot, materialId: string | undefined, { cloths }: Project): string | undefined {
  const own = cloths.filter((entry) => materialId === undefined || entry.materialId === materialId);
  const recurs = at === 'matches' || at === 'repeat';
  return (own.find(({ repeat }) => recurs && repeat !== null) ?? own[0])?.id;
}
