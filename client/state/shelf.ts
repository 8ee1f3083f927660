import type { ShelfChangeInput, ShelfEntry } from '../../pattern/exchange/shelf.ts';
import { Store } from './store.ts';

/** The server as the shelf needs it. */
export interface ShelfWorld {
  read(): Promise<readonly ShelfEntry[]>;
  change(
    change: ShelfChangeInput,
  ): Promise<{ readonly entries: readonly ShelfEntry[]; readonly change: number }>;
  undo(change: number): Promise<{ readonly entries: readonly ShelfEntry[] }>;
  explain(error: unknown): string;
  readonly words: { readonly undone: string };
}

/** What was done last, or why it was not. */
export interface ShelfNews {
  readonly text: string;
  readonly isBad: boolean;
  /** Takes the step back; null where there is nothing to take back. */
  readonly takeBack: (() => Promise<void>) | null;
}

/** The shelf as the page knows it. It is no part of the document: its steps are undone by themselves. */
export class Shelf {
  /** Null until it was read. */
  readonly entries = new Store<readonly ShelfEntry[] | null>(null);
  readonly news = new Store<ShelfNews | null>(null);
  readonly #world: ShelfWorld;

  constructor(world: ShelfWorld) {
    this.#world = world;
  }

  async read(): Promise<void> {
    this.news.set(null);
    await this.#attempt(async () => this.entries.set(await this.#world.read()));
  }

  /** Does a step and says so. @returns whether it was done; if not, `news` says why */
  do(change: ShelfChangeInput, said: string): Promise<boolean> {
    return this.#attempt(async () => {
      const done = await this.#world.change(change);
      this.entries.set(done.entries);
      this.news.set({ text: said, isBad: false, takeBack: () => this.#takeBack(done.change) });
    });
  }

  async #takeBack(change: number): Promise<void> {
    await this.#attempt(async () => {
      this.entries.set((await this.#world.undo(change)).entries);
      this.news.set({ text: this.#world.words.undone, isBad: false, takeBack: null });
    });
  }

  async #attempt(work: () => Promise<void>): Promise<boolean> {
    try {
      await work();
      return true;
    } catch (error) {
      this.news.set({ text: this.#world.explain(error), isBad: true, takeBack: null });
      return false;
    }
  }
}
