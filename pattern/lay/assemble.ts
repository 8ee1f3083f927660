import {
  type Arrangement,
  directionOnCloth,
  type Hand,
  lengthsOfCloth,
  onStretch,
  type Spread,
  type Stretch,
} from '../../nesting/cloth/index.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import type { Layout, Placement } from '../../nesting/index.ts';
import { endLossMm, reserveOf, washed, washedRing } from '../cloths/measures.ts';
import type { Cloth, ClothLay, Placed, Segment } from '../exchange/project.ts';
import { roundUpToStep } from '../units/index.ts';
import type { CutDemand } from './demands.ts';

/**
 * Lengths closer than this to a whole shop step count as that step: a hundredth of a millimetre is the engine's
 * own tolerance and can't be measured on cloth. Anything more is rounded up. Millimetres.
 */
const STEP_SLACK_MM = 0.01;

/** A stretch with the layout found for it. */
export interface FilledStretch {
  readonly stretch: Stretch;
  readonly layout: Layout;
}

/** How many copies of each demand are still to be cut, by demand id. */
export type Open = ReadonlyMap<string, { readonly plain: number; readonly mirrored: number }>;

/** What is left of the demands once everything placed is cut. */
export function stillOpen(demands: readonly CutDemand[], filled: readonly FilledStretch[]): Open {
  const open = new Map(
    demands.map(({ demand }) => [demand.id, { plain: demand.plain, mirrored: demand.mirrored }]),
  );
  for (const { stretch, layout } of filled) {
    const meaning = new Map(stretch.meanings.map((m) => [m.item, m]));
    for (const placement of layout.placements) {
      const { demand, hand } = meaning.get(placement.item)!;
      const counts = open.get(demand)!;
      for (const step of handsServed(hand, counts)) counts[step] -= 1;
    }
  }
  return open;
}

/** Which hands one placement takes off the cut list. */
export function handsServed(
  hand: Hand,
  counts: { plain: number; mirrored: number },
): ('plain' | 'mirrored')[] {
  switch (hand) {
    case 'plain':
    case 'fold':
      return ['plain'];
    case 'mirrored':
      return ['mirrored'];
    case 'either':
      return [counts.plain > 0 ? 'plain' : 'mirrored'];
    case 'pair':
      // A piece that is its own mirror image may be asked for in one hand only: both layers serve that.
      if (counts.plain > 0 && counts.mirrored > 0) return ['plain', 'mirrored'];
      return counts.plain > 0 ? ['plain', 'plain'] : ['mirrored', 'mirrored'];
  }
}

export interface AssembleInput {
  readonly materialId: string;
  readonly cloth: Cloth;
  readonly spread: Spread;
  readonly arrangement?: Arrangement;
  readonly demands: readonly CutDemand[];
  readonly filled: readonly FilledStretch[];
  readonly verdict: ClothLay['verdict'];
  readonly reason?: string;
  /** Length used by a lay of the same cloth with nothing recurring on it. */
  readonly withoutRepeatMm?: number;
}

/** Turns layouts back into what the maker sees: pieces by name and hand, lengths, cost and use of the cloth. */
export function assemble(input: AssembleInput): ClothLay {
  const { cloth, demands, filled } = input;
  const byId = new Map(demands.map((d) => [d.demand.id, d]));
  const numbering = copyNumbers(filled, byId);
  const segments = filled.flatMap(({ stretch, layout }) =>
    segmentsOf(stretch, layout, byId, numbering, cloth),
  );
  const open = stillOpen(demands, filled);
  let pieceAreaMm2 = 0;
  for (const { demand, areaMm2 } of demands) {
    const { plain, mirrored } = open.get(demand.id)!;
    pieceAreaMm2 += areaMm2 * (demand.plain + demand.mirrored - plain - mirrored);
  }
  const length = rollLengths(cloth, filled);
  const buy =
    cloth.kind === 'roll'
      ? roundUpToStep(length.used + reserveOf(cloth, length.used) - STEP_SLACK_MM, cloth.shopStepMm)
      : 0;
  const clothAreaMm2 =
    cloth.kind === 'roll'
      ? cloth.widthMm * washed(cloth).across * length.washed
      : remnantArea(cloth) * Math.max(1, segments.length);
  const price = cloth.priceCentsPerMetre;
  return {
    materialId: input.materialId,
    clothId: cloth.id,
    spread: input.spread,
    ...(input.arrangement && Object.keys(input.arrangement).length > 0
      ? { arrangement: input.arrangement }
      : {}),
    verdict: input.verdict,
    ...(input.reason === undefined ? {} : { reason: input.reason }),
    segments,
    unplaced: demands.flatMap(({ demand, piece }) => {
      const { plain, mirrored } = open.get(demand.id)!;
      if (plain + mirrored === 0) return [];
      return [
        demand.half
          ? { pieceId: piece.id, plain: 0, mirrored: 0, onFold: plain }
          : { pieceId: piece.id, plain, mirrored, onFold: 0 },
      ];
    }),
    usedMm: length.used,
    ...(length.washed === length.used ? {} : { washedMm: length.washed }),
    buyMm: buy,
    ...(length.used > 0 && hasOneWay(input) ? { atLeastMm: length.atLeast } : {}),
    ...(input.withoutRepeatMm === undefined ? {} : { withoutRepeatMm: input.withoutRepeatMm }),
    usePercent: clothAreaMm2 > 0 ? (100 * pieceAreaMm2) / clothAreaMm2 : 0,
    wanted: demands.map(({ demand: { id, plain, mirrored } }) => ({ id, plain, mirrored })),
    piecesToTrace: segments.reduce((sum, s) => sum + s.placed.length, 0),
    pieceAreaMm2,
    clothAreaMm2,
    costCents: cloth.kind === 'roll' && price !== null ? Math.round((buy / 1000) * price) : null,
  };
}

/** Whether the spread could be used in this way only: a bound on one of several ways is none on the spread. */
const hasOneWay = ({ spread, arrangement }: AssembleInput): boolean =>
  spread !== 'sequence' && spread !== 'partial' && arrangement?.turn === undefined;

/** Length taken from a roll: washed, and as it is bought before. All 0 for a remnant, or where nothing is placed. */
export function rollLengths(
  cloth: Cloth,
  filled: readonly FilledStretch[],
): { readonly washed: number; readonly used: number; readonly atLeast: number } {
  const sum = (of: (entry: FilledStretch) => number): number =>
    filled.reduce((total, entry) => total + of(entry) * lengthsOfCloth(entry.stretch.spread), 0);
  const placed = cloth.kind === 'roll' ? sum(({ layout }) => layout.length) : 0;
  if (cloth.kind !== 'roll' || placed === 0) return { washed: 0, used: 0, atLeast: 0 };
  const { along } = washed(cloth);
  const ends = endLossMm(cloth);
  const used = (placed + ends) / along;
  const least = sum(({ stretch }) => stretch.leastLength);
  return { washed: placed + ends, used, atLeast: Math.min(used, (least + ends) / along) };
}

function remnantArea(cloth: Extract<Cloth, { kind: 'remnant' }>): number {
  const { along, across } = washed(cloth);
  const area = cloth.flaws.reduce(
    (left, flaw) => left - Math.abs(signedArea(flaw)),
    Math.abs(signedArea(cloth.outline)),
  );
  return area * along * across;
}

type CopyNumber = Pick<Placed, 'copy' | 'of' | 'sets' | 'part' | 'guestOf'>;

/** Numbers the next copy of a demand that one item of a packing problem gives. */
type Numbering = (demand: CutDemand, hand: Hand, item: string) => CopyNumber;

/**
 * "Copy 2 of 4" counts through all stretches of the cloth, for each thing asked for (a piece, in one size, or one of
 * the lengths it is joined from) and hand; the first copies belong to the first set, so that a set lies together as far as the layout lets it.
 */
function copyNumbers(filled: readonly FilledStretch[], byId: ReadonlyMap<string, CutDemand>): Numbering {
  const keyOf = ({ demand }: CutDemand, hand: Hand): string => `${demand.id} ${hand}`;
  const totals = new Map<string, number>();
  for (const { stretch, layout } of filled) {
    const meaning = new Map(stretch.meanings.map((m) => [m.item, m]));
    for (const placement of layout.placements) {
      const { demand, hand } = meaning.get(placement.item)!;
      const key = keyOf(byId.get(demand)!, hand);
      totals.set(key, (totals.get(key) ?? 0) + 1);
    }
  }
  const given = new Map<string, number>();
  const served = new Map<string, { plain: number; mirrored: number }>();
  const turnedBack = new Set(
    filled.flatMap(({ stretch }) =>
      stretch.meanings.filter(({ item }) => isTurnedBack(item)).map(({ demand }) => demand),
    ),
  );
  return (cut, hand, item) => {
    const key = keyOf(cut, hand);
    const copy = (given.get(key) ?? 0) + 1;
    given.set(key, copy);
    const isDivided = turnedBack.has(cut.demand.id);
    const own = setsOfItem(cut, isDivided, item);
    const way = `${cut.demand.id} ${own.join()}`;
    const done = served.get(way) ?? (isDivided ? { plain: 0, mirrored: 0 } : servedBefore(cut));
    served.set(way, done);
    const sets = setsServed(cut, own, hand, done);
    return {
      copy,
      of: totals.get(key) ?? copy,
      ...(sets ? { sets } : {}),
      ...(cut.part ? { part: cut.part } : {}),
      ...(cut.guestOf === undefined ? {} : { guestOf: cut.guestOf }),
    };
  };
}

/** Copies that were cut from cloths before this one: the demand asks for less than all sets need. */
function servedBefore({ demand, sets, perSet, guestOf }: CutDemand): { plain: number; mirrored: number } {
  if (guestOf !== undefined) return { plain: 0, mirrored: 0 };
  return {
    plain: Math.max(0, sets.length * perSet.plain - demand.plain),
    mirrored: Math.max(0, sets.length * perSet.mirrored - demand.mirrored),
  };
}

/** Items whose copies point against the nap, where every set may choose its way. */
const isTurnedBack = (item: string): boolean => item.endsWith(':back');

/** The sets whose copies an item may be: where some are turned back, the later half of the sets is. */
function setsOfItem({ sets }: CutDemand, isDivided: boolean, item: string): readonly number[] {
  if (!isDivided) return sets;
  const forward = sets.length - Math.floor(sets.length / 2);
  return isTurnedBack(item) ? sets.slice(forward) : sets.slice(0, forward);
}

/** Numbers of the sets that the next placement serves; undefined where there is one set only. `done` counts on. */
function setsServed(
  { perSet }: CutDemand,
  sets: readonly number[],
  hand: Hand,
  done: { plain: number; mirrored: number },
): readonly number[] | undefined {
  if (sets.length === 0) return undefined;
  const open = {
    plain: sets.length * perSet.plain - done.plain,
    mirrored: sets.length * perSet.mirrored - done.mirrored,
  };
  const numbers = handsServed(hand, open).map((served) => {
    const number = sets[Math.floor(done[served] / Math.max(1, perSet[served]))] ?? sets.at(-1) ?? 1;
    done[served] += 1;
    return number;
  });
  return [...new Set(numbers)].sort((a, b) => a - b);
}

/** A stretch of a roll is one segment; of several sheets alike, each that anything lies on is one. */
function segmentsOf(
  stretch: Stretch,
  layout: Layout,
  byId: ReadonlyMap<string, CutDemand>,
  numbering: Numbering,
  cloth: Cloth,
): Segment[] {
  const placedOf = (placements: readonly Placement[]): Placed[] =>
    placedPieces(stretch, placements, layout.length, byId, numbering);
  if (cloth.kind === 'roll') {
    const { spread, lanes, width } = stretch;
    const flaws = flawsOnStretch(stretch, layout.length);
    const isPlain = lanes.length === 1 && lanes[0]?.from === 0 && lanes[0].to === width;
    return [
      {
        spread,
        widthMm: width,
        lengthMm: layout.length,
        ...(isPlain
          ? {}
          : { lanes: lanes.map(({ from, to, layers, fold }) => ({ fromMm: from, toMm: to, layers, fold })) }),
        ...(flaws.length > 0 ? { flaws } : {}),
        placed: placedOf(layout.placements),
      },
    ];
  }
  const outline = washedRing(cloth, cloth.outline);
  const flaws = cloth.flaws.map((flaw) => washedRing(cloth, flaw));
  const bounds = boundingBox(outline);
  const sheets = [...new Set(layout.placements.map(({ containerCopy }) => containerCopy))].sort(
    (a, b) => a - b,
  );
  return (sheets.length > 0 ? sheets : [0]).map((sheet) => ({
    spread: 'single',
    widthMm: bounds.maxY - bounds.minY,
    lengthMm: bounds.maxX - bounds.minX,
    outline,
    flaws,
    placed: placedOf(layout.placements.filter(({ containerCopy }) => containerCopy === sheet)),
  }));
}

/** Flaws of a roll on the part that is used, in the axes of the stretch. */
function flawsOnStretch(
  { problem, lanes }: Stretch,
  lengthMm: number,
): Segment['placed'][number]['outline'][] {
  return problem.containers.flatMap((container) => {
    const lane = lanes.find(({ id }) => id === container.id);
    const blocked = ('blocked' in container && container.blocked) || [];
    return blocked
      .filter((ring) => boundingBox(ring).minX < lengthMm)
      .map((ring) => {
        const pose = onStretch(lane, { rotation: 0, mirrored: false, x: 0, y: 0 }, lengthMm);
        return placeRing(ring, pose.rotation, pose.mirrored, pose.x, pose.y);
      });
  });
}

function placedPieces(
  stretch: Stretch,
  placements: readonly Placement[],
  lengthMm: number,
  byId: ReadonlyMap<string, CutDemand>,
  numbering: Numbering,
): Placed[] {
  const meaning = new Map(stretch.meanings.map((m) => [m.item, m]));
  const lanes = new Map(stretch.lanes.map((lane) => [lane.id, lane]));
  // Numbered from the cut end on, as they will be cut: the engine's own order tells the maker nothing.
  const drawn = placements.map((placement) => {
    const { demand: demandId, hand } = meaning.get(placement.item)!;
    const demand = byId.get(demandId)!;
    const half = hand === 'fold' ? demand.demand.half : undefined;
    const pose = onStretch(lanes.get(placement.container), placement, lengthMm);
    const place = (ring: Segment['placed'][number]['outline']) =>
      placeRing(ring, pose.rotation, pose.mirrored, pose.x, pose.y);
    const outline = place(half?.outline ?? demand.demand.outline);
    const holes = (half ? demand.halfHoles : demand.holes).map(place);
    return { item: placement.item, pose, hand, demand, outline, holes };
  });
  const left = new Map(drawn.map((d) => [d, boundingBox(d.outline)]));
  drawn.sort((a, b) => left.get(a)!.minX - left.get(b)!.minX || left.get(a)!.minY - left.get(b)!.minY);
  return drawn.map(({ item, pose, hand, demand, outline, holes }) => ({
    pieceId: demand.piece.id,
    item,
    ...numbering(demand, hand, item),
    hand,
    rotation: pose.rotation,
    mirrored: pose.mirrored,
    x: pose.x,
    y: pose.y,
    outline,
    holes,
    grainDeg: directionOnCloth(demand.demand.grainDeg, pose),
    topDeg: directionOnCloth(demand.demand.topDeg, pose),
  }));
}
