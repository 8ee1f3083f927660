import { expect, test } from 'vitest';
import { type Held, heldGrowth, heldMb, reservedMb } from './load/liveHeap.ts';

const MB = 2 ** 20;
const held = (thread: number, mb: number): Held => ({
  round: 1,
  thread,
  reserved: 2 * mb * MB,
  heapUsed: 0.75 * mb * MB,
  external: 0.25 * mb * MB,
});

test('what is held is added up over the threads, and grows over those that were there both times', () => {
  const early = [held(0, 20), held(1, 10), held(2, 10)];
  expect(heldMb(early)).toBeCloseTo(40);
  expect(reservedMb(early)).toBeCloseTo(80);
  expect(heldGrowth(early, early)).toBe(0);
  // A thread more is no growth, one that has ended none of the others'.
  expect(heldGrowth(early, [...early, held(3, 30)])).toBe(0);
  expect(heldGrowth(early, [held(0, 23), held(1, 10)])).toBeCloseTo(0.1);
  // Without the thread that answers nothing can be said.
  expect(heldGrowth(early, [held(1, 10), held(2, 10)])).toBeNaN();
});
