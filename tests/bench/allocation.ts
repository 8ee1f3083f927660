import { Arrangement } from '../../nesting/packing/arrangement.ts';
import { Model } from '../../nesting/packing/model.ts';
import { OverlapState } from '../../nesting/packing/overlapState.ts';
import { Random } from '../../nesting/packing/random.ts';
import { Relocation } from '../../nesting/packing/relocation.ts';
import { placeOnShelves } from '../../nesting/packing/shelves.ts';
import { type ProblemFile, toProblem } from './format.ts';

/** What the innermost loop of the search takes from the heap. */
export interface AllocationRow {
  readonly problem: string;
  readonly moves: number;
  readonly evaluations: number;
  /** Heap used up between the first and the last move, less what counting itself uses, in bytes a move. */
  readonly bytesPerMove: number;
  readonly microsecondsPerMove: number;
}

/** Moves before counting begins, so that code is compiled and tables are built, and moves between two looks at the heap. */
const WARM_UP = 20_000;
const BLOCK = 500;

/** A strip is shortened by this part, so that many pieces overlap and stay so. */
const CUT = 0.15;

/**
 * Counts what moves allocate: the heap's growth in blocks of moves, leaving out the blocks in which garbage was collected.
 */
export function allocationOf(file: ProblemFile, moves: number): AllocationRow {
  const model = new Model(toProblem(file));
  const start = new Arrangement(model.copies.length);
  placeOnShelves(model, start);
  const state = new OverlapState(model, start, model.size * 1e-9);
  const random = new Random(1);
  const relocation = new Relocation(state, random);
  const used = start.x.reduce((most, x) => Math.max(most, x), 0);
  state.length = used * (1 - CUT);
  for (let i = 0; i < state.n; i++) relocation.clamp(i);
  state.resetWeights();
  state.refresh();
  const move = () => relocation.improve(random.below(state.n));
  for (let k = 0; k < WARM_UP; k++) move();
  const nothing = blocks(() => {}, 50 * BLOCK);
  const before = relocation.evaluations;
  const counted = blocks(move, moves);
  return {
    problem: file.name,
    moves,
    evaluations: relocation.evaluations - before,
    bytesPerMove: Math.max(0, counted.bytes - nothing.bytes),
    microsecondsPerMove: counted.microseconds,
  };
}

/** Bytes and time of one call, on average. */
function blocks(work: () => void, calls: number): { bytes: number; microseconds: number } {
  let bytes = 0;
  let counted = 0;
  const start = performance.now();
  for (let done = 0; done < calls; done += BLOCK) {
    const before = process.memoryUsage().heapUsed;
    for (let k = 0; k < BLOCK; k++) work();
    const growth = process.memoryUsage().heapUsed - before;
    if (growth < 0) continue;
    bytes += growth;
    counted += BLOCK;
  }
  return { bytes: bytes / (counted || 1), microseconds: (1_000 * (performance.now() - start)) / calls };
}
