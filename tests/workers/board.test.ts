import { expect, test } from 'vitest';
import type { Layout, Problem } from '../../nesting/packing/types.ts';
import { Board, newBoard } from '../../nesting/workers/board.ts';
import { at, item, problem, rectangle, sheet, strip } from '../support/layouts.ts';

const onStrip = problem(strip(50), [
  item('a', rectangle(10, 10), { quantity: 2 }),
  item('b', rectangle(20, 5), { quantity: 1 }),
]);

/** All copies in a row, so far apart that the layout is `length` long. */
function row(length: number): Layout {
  const placements = [
    at('b', 0, 0),
    at('a', 20, 0, { rotation: 90, mirrored: true }),
    at('a', length - 10, 0, { copy: 1 }),
  ];
  return { placements, unplaced: [], length };
}

const byCopy = ({ placements }: Layout) =>
  [...placements].sort((p, q) => p.item.localeCompare(q.item) || p.copy - q.copy);

function twoThreads(of: Problem): [Board, Board] {
  const memory = newBoard(of);
  return [new Board(of, memory, 0), new Board(of, memory, 1)];
}

test('a layout put up by one thread is taken by the other, once, with everything in it', () => {
  const [one, other] = twoThreads(onStrip);
  expect(other.take()).toBeNull();
  one.offer(row(60));
  const taken = other.take();
  expect(taken && byCopy(taken)).toEqual(byCopy(row(60)));
  expect(taken).toMatchObject({ length: 60, unplaced: [] });
  expect(other.take()).toBeNull();
});

test('a thread does not get its own layout back', () => {
  const [one] = twoThreads(onStrip);
  one.offer(row(60));
  expect(one.take()).toBeNull();
});

test('a worse layout does not take the place of a better one, a better one does', () => {
  const [one, other] = twoThreads(onStrip);
  one.offer(row(60));
  other.offer(row(70));
  expect(one.take()).toBeNull();
  expect(other.take()?.length).toBe(60);
  other.offer(row(50));
  expect(one.take()?.length).toBe(50);
});

test('copies without a place stay without one', () => {
  const sheets: Problem = { ...onStrip, containers: [sheet(rectangle(40, 40), { id: 's' })] };
  const [one, other] = twoThreads(sheets);
  const placements = [at('a', 3, 4, { copy: 1, container: 's' })];
  const unplaced = [
    { item: 'a', copy: 0 },
    { item: 'b', copy: 0 },
  ];
  one.offer({ placements, unplaced, length: 0 });
  expect(other.take()).toEqual({ placements, unplaced, length: 0 });
});

test('a board left locked by a thread that was ended is given up, not waited for', () => {
  const memory = newBoard(onStrip);
  const board = new Board(onStrip, memory, 0);
  const other = new Board(onStrip, memory, 1);
  new Int32Array(memory)[0] = 1;
  board.offer(row(60));
  expect(other.take()).toBeNull();
  // Given back late, it shows what was offered meanwhile.
  new Int32Array(memory)[0] = 0;
  expect(board.take()).toBeNull();
  expect(other.take()?.length).toBe(60);
});
