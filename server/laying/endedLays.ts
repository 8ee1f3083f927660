import type { LayView } from '../lays.ts';

export interface EndedLimits {
  /** Ended lays are kept for so long, at most so many and so many bytes; the oldest go first. */
  readonly keptMs: number;
  readonly kept: number;
  readonly keptBytes: number;
}

interface Ended {
  readonly endedAt: number;
  readonly text: Buffer;
}

/**
 * Ended lays, kept for a while for whoever still wants their files. Each as one text in a buffer, read again when it is
 * asked for: as objects a lay takes a multiple of that in the heap, and the limit in bytes would not bound what is held.
 */
export class EndedLays {
  readonly #limits: EndedLimits;
  readonly #clock: () => number;
  /** In the order in which they ended. */
  readonly #lays = new Map<string, Ended>();

  constructor(limits: EndedLimits, clock: () => number) {
    this.#limits = limits;
    this.#clock = clock;
  }

  get size(): number {
    return this.#lays.size;
  }

  put(id: string, view: LayView): void {
    this.#lays.set(id, { endedAt: this.#clock(), text: Buffer.from(JSON.stringify(view)) });
    this.forget();
  }

  get(id: string): LayView | undefined {
    this.forget();
    const lay = this.#lays.get(id);
    return lay === undefined ? undefined : (JSON.parse(lay.text.toString()) as LayView);
  }

  /** Drops those that are too old, too many or too big together; the last one to end always stays its time. */
  forget(): void {
    const oldest = this.#clock() - this.#limits.keptMs;
    let bytes = 0;
    [...this.#lays].reverse().forEach(([id, { endedAt, text }], place) => {
      bytes += text.length;
      const isTooMuch = place > 0 && (place >= this.#limits.kept || bytes > this.#limits.keptBytes);
      if (endedAt < oldest || isTooMuch) this.#lays.delete(id);
    });
  }
}
