/**
 * The seed of one thread of a solve. The first thread takes the seed as it is, so that one thread gives what a plain
 * call of the search gives; the others take unrelated ones (the finaliser of MurmurHash3 by A. Appleby, which
 * spreads neighbouring inputs over all 32 bits).
 */
export function seedOfThread(seed: number, thread: number): number {
  if (thread === 0) return seed;
  let h = (seed ^ Math.imul(thread, 0x9e3779b9)) >>> 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b) >>> 0;
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35) >>> 0;
  return ((h ^ (h >>> 16)) >>> 0) % 2 ** 31;
}
