import { boundingBox } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import { lengthBound } from '../packing/lengthBound.ts';
import type { Item, Lattice, Outline, Pose, Problem } from '../packing/types.ts';
import { besideBorder, posesOnBorder, uprightRules } from './border.ts';
import {
  foldWidth,
  isAcross,
  isOwnMirrorImage,
  posesOnFold,
  setsOf,
  WIDTH_SLACK_MM,
  wholeWidth,
} from './doubling.ts';
import type { Lane, StretchSpread } from './layers.ts';
import { admissiblePoses, endForEnd, turnsFreely } from './poses.ts';
import { canLie, onRepeat } from './repeats.ts';
import type { Border, ClothRules, Demand, Hand, ItemMeaning, Repeat, RollCloth } from './types.ts';

/** One stretch of cloth, spread one way, with the packing problem that fills it. */
export interface Stretch {
  readonly spread: StretchSpread;
  readonly problem: Problem;
  readonly meanings: readonly ItemMeaning[];
  /** Of a roll: what of its width may be laid on, from the lower edge up; each is a strip of the problem. */
  readonly lanes: readonly Lane[];
  /** How far across it may be laid on, from y = 0, in mm; 0 for a remnant. */
  readonly width: number;
  /** No layout of this stretch can be shorter, in mm; 0 for a remnant. */
  readonly leastLength: number;
}

/** Collects the items of one stretch while the demands are gone through. */
export class Gathered {
  readonly items: Item[] = [];
  readonly meanings: ItemMeaning[] = [];
  readonly rules: ClothRules;
  readonly spread: StretchSpread;
  readonly lanes: readonly Lane[];

  private readonly repeat: Repeat | undefined;
  private readonly border: Border | undefined;
  /** Where the cloth's own y = 0 lies in the axes of the stretch. */
  private readonly across: number;

  constructor(
    rules: ClothRules,
    spread: StretchSpread,
    lanes: readonly Lane[],
    recurs: { readonly repeat?: Repeat; readonly border?: Border } = {},
    across = 0,
  ) {
    this.rules = rules;
    this.repeat = recurs.repeat;
    this.border = recurs.border;
    this.across = across;
    this.spread = spread;
    this.lanes = lanes;
  }

  onFold(demand: Demand, quantity: number): void {
    if (!demand.half) return;
    const { outline } = demand.half;
    const across = isAcross(this.lanes);
    const poses = (napDeg: 0 | 180): readonly Pose[] => {
      const all = posesOnFold(demand, this.rules, across, napDeg);
      return across ? all.map((pose) => ({ ...pose, lattice: atCrosswiseFold(outline, pose) })) : all;
    };
    const width = foldWidth(demand, this.rules, across) ?? 0;
    this.add(demand, 'fold', quantity, outline, poses(0), poses(180), this.lanesFor(width, 2, true));
  }

  pairs(demand: Demand, quantity: number): void {
    // Whichever way up the paper lies on doubled cloth, one layer gives the plain piece, the other the mirrored.
    const poses = [
      ...admissiblePoses(demand, this.rules, false),
      ...admissiblePoses(demand, this.rules, true),
    ];
    const lanes = this.lanesFor(wholeWidth(demand, this.rules), 2, false);
    this.add(demand, 'pair', quantity, demand.outline, poses, poses.map(endForEnd), lanes);
  }

  /** Single copies; false if no lane of a roll is wide enough for them. */
  single(demand: Demand): boolean {
    const { border, repeat, across } = this;
    const sits = border && demand.onBorder;
    const rules = sits ? uprightRules(this.rules) : this.rules;
    const lanes = this.lanesFor(wholeWidth(demand, rules), 1, false);
    // A remnant has no lanes: what has no place on it the search finds out.
    if (lanes !== undefined && lanes.length === 0) return false;
    const posesOf = (mirrored: boolean, back: boolean): readonly Pose[] => {
      if (sits) {
        return posesOnBorder(demand, this.rules, border, { ...sits, mirrored, across, repeat });
      }
      const free = admissiblePoses(demand, rules, mirrored);
      const turned = back ? free.map(endForEnd) : free;
      const kept = onRepeat(turned, demand.anchor, repeat, across);
      return border ? besideBorder(kept, demand.outline, border, across) : kept;
    };
    const possible = (mirrored: boolean, back: boolean): readonly Pose[] => {
      const kept = posesOf(mirrored, back);
      const widths = this.lanes.map(({ from, to }) => to - from);
      return widths.length === 0
        ? kept
        : kept.filter((pose) => widths.some((wide) => canLie(demand.outline, pose, wide)));
    };
    const [plain, mirrored] = [possible(false, false), possible(true, false)];
    const [plainBack, mirroredBack] = [possible(false, true), possible(true, true)];
    const isOwn = isOwnMirrorImage(demand, rules) && !(repeat && demand.anchor);
    const isWanted = (hand: 'plain' | 'mirrored'): boolean => demand[hand] > 0 || isOwn || rules.reversible;
    if (
      (isWanted('plain') && plain.length === 0) ||
      (isWanted('mirrored') && !isOwn && mirrored.length === 0)
    ) {
      return false;
    }
    const put = (hand: Hand, quantity: number, poses: readonly Pose[], back: readonly Pose[]): void =>
      this.add(demand, hand, quantity, demand.outline, poses, back, lanes);
    if (isOwn) {
      put('either', demand.plain + demand.mirrored, plain, plainBack);
    } else if (rules.reversible) {
      put('either', demand.plain + demand.mirrored, [...plain, ...mirrored], [...plainBack, ...mirroredBack]);
    } else {
      put('plain', demand.plain, plain, plainBack);
      put('mirrored', demand.mirrored, mirrored, mirroredBack);
    }
    return true;
  }

  /** Lanes wide enough, by name; undefined where a cloth has none because it is a remnant. */
  private lanesFor(width: number, layers: 1 | 2, onFold: boolean): readonly string[] | undefined {
    if (this.lanes.length === 0 && this.spread === 'single') return undefined;
    return this.lanes
      .filter((lane) => lane.layers === layers && (!onFold || lane.fold !== 'none'))
      .filter(({ from, to }) => width <= to - from + WIDTH_SLACK_MM)
      .map(({ id }) => id);
  }

  private add(
    demand: Demand,
    hand: Hand,
    quantity: number,
    outline: Outline,
    poses: readonly Pose[],
    back: readonly Pose[],
    lanes: readonly string[] | undefined,
  ): void {
    const sets = setsOf(demand, this.rules);
    const isDivided = sets > 1 && quantity % sets === 0;
    const turnedBack = isDivided ? (quantity / sets) * Math.floor(sets / 2) : 0;
    const put = (id: string, count: number, ways: readonly Pose[]): void => {
      if (count === 0) return;
      this.items.push({
        id,
        outline,
        quantity: count,
        poses: ways,
        ...(turnsFreely(demand, this.rules) && hand !== 'fold' && ways.every(({ lattice }) => !lattice)
          ? { anyAngle: true }
          : {}),
        ...(hand === 'fold' && !isAcross(this.lanes) ? { onFold: true } : {}),
        ...(lanes !== undefined && this.lanes.length > 1 ? { containers: lanes } : {}),
      });
      this.meanings.push({ item: id, demand: demand.id, hand });
    };
    put(`${demand.id}:${hand}`, quantity - turnedBack, poses);
    put(`${demand.id}:${hand}:back`, turnedBack, back);
  }

  stretch(roll: RollCloth, width: number, flawsOf: (lane: Lane) => readonly Outline[]): Stretch {
    const { spread, items, meanings } = this;
    const lies = meanings.some(({ hand }) => hand === 'fold');
    // Seen from the fold only where something lies on it: else the cloth is packed from its cut ends like any other.
    const lanes = this.lanes.map(
      (lane): Lane => (lane.fold === 'end' && !lies ? { ...lane, fold: 'none' } : lane),
    );
    const containers = lanes.map((lane) => {
      const flaws = flawsOf(lane);
      const strip = { kind: 'strip', id: lane.id, width: lane.to - lane.from } as const;
      return flaws.length > 0 ? { ...strip, blocked: flaws } : strip;
    });
    const problem = { name: `${roll.id} ${spread}`, containers, items, gap: this.rules.gap };
    return { spread, problem, meanings, lanes, width, leastLength: leastLength(problem, lanes) };
  }
}

/** Farther than any lay reaches, mm. */
const BEYOND_MM = 1e6;

/** Keeps a half against the crosswise fold, x = 0, free to slide along it. */
function atCrosswiseFold(outline: Outline, { rotation, mirrored }: Pose): Lattice {
  const { minX } = boundingBox(placeRing(outline, rotation, mirrored));
  return { origin: [-minX, 0], u: [BEYOND_MM, 0], v: null };
}

/** No layout can be shorter: all lanes taken as one strip, and those of as many layers by themselves. */
function leastLength(problem: Problem, lanes: readonly Lane[]): number {
  const bounds = [lanes, ...([1, 2] as const).map((n) => lanes.filter(({ layers }) => layers === n))].map(
    (some) => {
      if (some.length === 0) return 0;
      const ids = new Set(some.map(({ id }) => id));
      const items = problem.items.filter(({ containers }) =>
        (containers ?? [...ids]).every((id) => ids.has(id)),
      );
      const width = some.reduce((sum, { from, to }) => sum + to - from, 0);
      const strip = { kind: 'strip', id: 'all', width } as const;
      return lengthBound({ ...problem, containers: [strip], items }).length;
    },
  );
  return Math.max(...bounds);
}
