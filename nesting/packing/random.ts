/** 32 bits become a number in [0, 1); a power of two, so that nothing is rounded. */
const UNIT = 2 ** -32;

/**
 * Seeded pseudo-random numbers: sfc32 ("small fast counter", Chris Doty-Humphrey, PractRand), 128 bits of
 * state, period at least 2^32. Streams are kept apart by seeding from several numbers.
 */
export class Random {
  #a: number;
  #b: number;
  #c: number;
  #counter = 1;

  /** Same numbers, same stream. */
  constructor(...seeds: readonly number[]) {
    // Spread the seeds over the state by a multiplicative hash (constants of MurmurHash3's finaliser).
    let hash = 0x9e3779b9;
    const next = (value: number): number => {
      hash = Math.imul(hash ^ (value | 0), 0x85ebca6b);
      hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
      hash ^= hash >>> 16;
      return hash;
    };
    for (const seed of seeds) {
      next(seed);
      next(Math.floor(seed / 2 ** 32));
    }
    this.#a = next(1);
    this.#b = next(2);
    this.#c = next(3);
    for (let i = 0; i < 12; i++) this.bits();
  }

  /** 32 random bits as a signed integer. */
  bits(): number {
    const sum = (((this.#a + this.#b) | 0) + this.#counter) | 0;
    this.#counter = (this.#counter + 1) | 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) | 0;
    this.#c = (this.#c << 21) | (this.#c >>> 11);
    this.#c = (this.#c + sum) | 0;
    return sum;
  }

  /** In [0, 1), 32 bits fine. */
  unit(): number {
    return (this.bits() >>> 0) * UNIT;
  }

  // The next two ask for bits, not for `unit`: a fraction that a call returns without being inlined takes memory.

  /** In [low, high). */
  between(low: number, high: number): number {
    return low + (high - low) * ((this.bits() >>> 0) * UNIT);
  }

  /** One of 0 … count − 1; 0 if there is none. */
  below(count: number): number {
    return Math.floor((this.bits() >>> 0) * UNIT * count);
  }

  /** Shuffles in place (Fisher & Yates). */
  shuffle<T>(list: T[]): T[] {
    for (let i = list.length - 1; i > 0; i--) {
      const j = this.below(i + 1);
      const swap = list[i] as T;
      list[i] = list[j] as T;
      list[j] = swap;
    }
    return list;
  }
}
