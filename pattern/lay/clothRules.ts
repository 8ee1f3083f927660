import type {
  Border as BorderLines,
  ClothRules,
  RemnantCloth,
  RollCloth,
} from '../../nesting/cloth/index.ts';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import { edgeLossMm, washed, washedRing } from '../cloths/measures.ts';
import type { Border, Cloth, Remnant, Repeat, Roll } from '../exchange/project.ts';

/** Where a print's up points, in degrees on the cloth (0 = along it, away from the cut end; left is +y). */
const UP_DEG = { none: null, away: 0, left: 90, back: 180, right: 270 } as const;

/** The rules of a cloth as the packer knows them. */
export function clothRules(cloth: Cloth): ClothRules {
  return {
    turn: cloth.turn,
    tiltDeg: cloth.tiltDeg,
    nap: isUneven(cloth.repeat) && cloth.nap !== 'upAndDown' ? 'oneWay' : cloth.nap,
    stretchAlike: cloth.stretchAlike,
    upDeg: UP_DEG[cloth.printUp],
    reversible: cloth.reversible,
    gap: cloth.gapMm,
    ...(cloth.repeat?.follow === 'print' && cloth.repeat.skewDeg !== 0
      ? { skewDeg: cloth.repeat.skewDeg }
      : {}),
  };
}

/** Turned end for end, an uneven stripe or plaid runs the other way: its pieces are laid as with nap. */
const isUneven = (repeat: Repeat | null): boolean => repeat?.look === 'uneven';

/** What the pieces of a material ask of what recurs on its cloth. */
export type AskedOfLook = Pick<RollCloth['look'], 'hasMotif' | 'isMatched' | 'isOnBorder'>;

const NOTHING_ASKED: AskedOfLook = { hasMotif: false, isMatched: false };

/**
 * The roll as it counts for packing, washed: selvedges and the margin beside them are off, and x begins where the cut
 * end is squared. The fold is not an edge, so no margin is kept there. Widths may come out zero or negative: see
 * `usableRoll`.
 */
export function rollCloth(roll: Roll, asked: AskedOfLook = NOTHING_ASKED): RollCloth {
  const { along, across } = washed(roll);
  const lead = roll.squaringMm + roll.edgeMarginMm;
  return {
    kind: 'roll',
    id: roll.id,
    wholeWidth: roll.widthMm * across,
    edge: edgeLossMm(roll) * across + roll.edgeMarginMm,
    foldable: roll.foldable,
    faded: roll.fadedLines.map(({ fromMm, toMm }) => ({
      from: Math.min(fromMm, toMm) * across,
      to: Math.max(fromMm, toMm) * across,
    })),
    flaws: roll.flaws.map((ring) => ring.map(([x, y]) => [x * along - lead, y * across] as const)),
    look: {
      bars: roll.repeat === null || roll.repeat.look === 'print' ? 'none' : roll.repeat.look,
      ...(roll.repeat === null ? NOTHING_ASKED : asked),
      isOnBorder: roll.border !== null && asked.isOnBorder === true,
    },
    ...(roll.border === null ? {} : { border: borderOf(roll.border, 0, roll.widthMm * across) }),
    ...(roll.repeat === null
      ? {}
      : {
          repeat: {
            ...repeatOf(roll.repeat),
            origin: [roll.repeat.fromEndMm - lead, roll.repeat.fromSelvedgeMm] as const,
          },
        }),
    rules: matchedRules(clothRules(roll), roll.repeat, asked),
  };
}

/** Pieces that must match on a print are laid one way: turned, its motifs would run the other way. */
function matchedRules(rules: ClothRules, repeat: Repeat | null, asked: AskedOfLook): ClothRules {
  const isOneWay = repeat?.look === 'print' && asked.isMatched && rules.nap !== 'upAndDown';
  return isOneWay ? { ...rules, nap: 'oneWay' } : rules;
}

const repeatOf = ({ alongMm, acrossMm, kind, skewDeg }: Repeat) => ({
  along: alongMm,
  across: acrossMm,
  kind,
  ...(skewDeg === 0 ? {} : { skewDeg }),
});

/** A border in the axes across the cloth, which reaches from `low` to `high`. */
function borderOf({ side, fromEdgeMm, depthMm, keepOff }: Border, low: number, high: number): BorderLines {
  const [isLow, isHigh] = [side !== 'high', side !== 'low'];
  const taken = fromEdgeMm + depthMm;
  return {
    lines: [
      ...(isLow ? [{ at: low + fromEdgeMm, stands: 1 } as const] : []),
      ...(isHigh ? [{ at: high - fromEdgeMm, stands: -1 } as const] : []),
    ],
    field:
      keepOff && taken > 0 ? { from: isLow ? low + taken : low, to: isHigh ? high - taken : high } : null,
  };
}

/** Whether anything is left to lay on once edges are off, spread singly; a fold needs half of it and more. */
export function hasUsableWidth({ wholeWidth, edge }: RollCloth): boolean {
  return wholeWidth - 2 * edge > 0;
}

/** The remnant, washed, with its margin taken off; `outline` is empty where nothing is left. */
export function remnantCloth(
  remnant: Remnant,
  shrink: (ring: Remnant['outline'], byMm: number) => Remnant['outline'],
): RemnantCloth {
  const outline = washedRing(remnant, remnant.outline);
  const { minY, maxY } = boundingBox(outline);
  return {
    kind: 'remnant',
    id: remnant.id,
    quantity: remnant.quantity,
    outline: remnant.edgeMarginMm > 0 ? shrink(outline, remnant.edgeMarginMm) : outline,
    flaws: remnant.flaws.map((flaw) => washedRing(remnant, flaw)),
    ...(remnant.border === null ? {} : { border: borderOf(remnant.border, minY, maxY) }),
    ...(remnant.repeat === null
      ? {}
      : {
          repeat: {
            ...repeatOf(remnant.repeat),
            origin: [remnant.repeat.fromEndMm, remnant.repeat.fromSelvedgeMm] as const,
          },
        }),
    rules: clothRules(remnant),
  };
}
