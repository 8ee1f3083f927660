import { directionOnCloth, type Hand, type Spread, type Stretch } from '../../nesting/cloth/index.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import type { Layout } from '../../nesting/index.ts';
import type { Cloth, ClothLay, Placed, Segment } from '../exchange/project.ts';
import { roundUpToStep } from '../units/index.ts';
import { endLossMm } from './clothRules.ts';
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
  readonly demands: readonly CutDemand[];
  readonly filled: readonly FilledStretch[];
  readonly verdict: ClothLay['verdict'];
  readonly reason?: string;
}

/** Turns layouts back into what the maker sees: pieces by name and hand, lengths, cost and use of the cloth. */
export function assemble(input: AssembleInput): ClothLay {
  const { cloth, demands, filled } = input;
  const byId = new Map(demands.map((d) => [d.demand.id, d]));
  const numbering = copyNumbers(filled, byId);
  const segments = filled.map(({ stretch, layout }) => segment(stretch, layout, byId, numbering, cloth));
  const open = stillOpen(demands, filled);
  let pieceAreaMm2 = 0;
  for (const { demand, areaMm2 } of demands) {
    const { plain, mirrored } = open.get(demand.id)!;
    pieceAreaMm2 += areaMm2 * (demand.plain + demand.mirrored - plain - mirrored);
  }
  const placedLength = segments.reduce((sum, s) => sum + s.lengthMm, 0);
  const used = cloth.kind === 'roll' && placedLength > 0 ? placedLength + endLossMm(cloth) : 0;
  const least = filled.reduce((sum, { stretch }) => sum + stretch.leastLength, 0);
  const buy = cloth.kind === 'roll' ? roundUpToStep(used - STEP_SLACK_MM, cloth.shopStepMm) : 0;
  const clothAreaMm2 = cloth.kind === 'roll' ? cloth.widthMm * used : remnantArea(cloth);
  const price = cloth.priceCentsPerMetre;
  return {
    materialId: input.materialId,
    clothId: cloth.id,
    spread: input.spread,
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
    usedMm: used,
    buyMm: buy,
    ...(cloth.kind === 'roll' && used > 0 ? { atLeastMm: Math.min(used, least + endLossMm(cloth)) } : {}),
    usePercent: clothAreaMm2 > 0 ? (100 * pieceAreaMm2) / clothAreaMm2 : 0,
    wanted: demands.map(({ demand: { id, plain, mirrored } }) => ({ id, plain, mirrored })),
    piecesToTrace: segments.reduce((sum, s) => sum + s.placed.length, 0),
    pieceAreaMm2,
    clothAreaMm2,
    costCents: cloth.kind === 'roll' && price !== null ? Math.round((buy / 1000) * price) : null,
  };
}

function remnantArea(cloth: Extract<Cloth, { kind: 'remnant' }>): number {
  return cloth.flaws.reduce(
    (area, flaw) => area - Math.abs(signedArea(flaw)),
    Math.abs(signedArea(cloth.outline)),
  );
}

interface CopyNumber {
  readonly copy: number;
  readonly of: number;
}

/** "Copy 2 of 4" counts through all stretches of the cloth, for each piece and hand. */
function copyNumbers(
  filled: readonly FilledStretch[],
  byId: ReadonlyMap<string, CutDemand>,
): (key: string) => CopyNumber {
  const totals = new Map<string, number>();
  for (const { stretch, layout } of filled) {
    const meaning = new Map(stretch.meanings.map((m) => [m.item, m]));
    for (const placement of layout.placements) {
      const { demand, hand } = meaning.get(placement.item)!;
      const key = `${byId.get(demand)!.piece.id} ${hand}`;
      totals.set(key, (totals.get(key) ?? 0) + 1);
    }
  }
  const given = new Map<string, number>();
  return (key) => {
    const copy = (given.get(key) ?? 0) + 1;
    given.set(key, copy);
    return { copy, of: totals.get(key) ?? copy };
  };
}

function segment(
  stretch: Stretch,
  layout: Layout,
  byId: ReadonlyMap<string, CutDemand>,
  numbering: (key: string) => CopyNumber,
  cloth: Cloth,
): Segment {
  const meaning = new Map(stretch.meanings.map((m) => [m.item, m]));
  // Numbered from the cut end on, as they will be cut: the engine's own order tells the maker nothing.
  const drawn = layout.placements.map((placement) => {
    const { demand: demandId, hand } = meaning.get(placement.item)!;
    const demand = byId.get(demandId)!;
    const half = hand === 'fold' ? demand.demand.half : undefined;
    const place = (ring: Segment['placed'][number]['outline']) =>
      placeRing(ring, placement.rotation, placement.mirrored, placement.x, placement.y);
    const outline = place(half?.outline ?? demand.demand.outline);
    return { placement, hand, demand, outline, holes: (half ? demand.halfHoles : demand.holes).map(place) };
  });
  const left = new Map(drawn.map((d) => [d, boundingBox(d.outline)]));
  drawn.sort((a, b) => left.get(a)!.minX - left.get(b)!.minX || left.get(a)!.minY - left.get(b)!.minY);
  const placed: Placed[] = drawn.map(({ placement, hand, demand, outline, holes }) => ({
    pieceId: demand.piece.id,
    item: placement.item,
    ...numbering(`${demand.piece.id} ${hand}`),
    hand,
    rotation: placement.rotation,
    mirrored: placement.mirrored,
    x: placement.x,
    y: placement.y,
    outline,
    holes,
    grainDeg: directionOnCloth(demand.demand.grainDeg, placement),
    topDeg: directionOnCloth(demand.demand.topDeg, placement),
  }));
  const container = stretch.problem.containers[0]!;
  if (container.kind === 'strip') {
    return { spread: stretch.spread, widthMm: container.width, lengthMm: layout.length, placed };
  }
  const remnant = cloth.kind === 'remnant' ? cloth : undefined;
  const outline = remnant?.outline ?? container.outline;
  const bounds = boundingBox(outline);
  return {
    spread: stretch.spread,
    widthMm: bounds.maxY - bounds.minY,
    lengthMm: bounds.maxX - bounds.minX,
    outline,
    flaws: remnant?.flaws ?? container.blocked,
    placed,
  };
}
