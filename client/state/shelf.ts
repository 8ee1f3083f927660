import type { ShelfChangeInput, ShelfEntry } from '../../pattern/exchange/shelf.ts';
import type { Messages } from './messages.ts';
import { Store } from './store.ts';

/** The server as the shelf needs it. */
export interface ShelfWorld {
  read(): Promise<readonly ShelfEntry[]>;
  change(
    change: ShelfChangeInput,
  ): Promise<{ readonly entries: readonly ShelfEntry[]; readonly change: number }>;
  undo(change: number): Promise<{ readonly entries: readonly ShelfEntry[] }>;
  explain(error: unknown): string;
  readonly words: { readonly undo: string; readonly undone: string };
}

/** The shelf as the page knows it. It is no part of the document: its steps are undone by themselves. */
export class Shelf {
  /** Null until it was read. */
  readonly entries = new Store<readonly ShelfEntry[] | null>(null);
  readonly #world: ShelfWorld;

  constructor(world: ShelfWorld) {
    this.#world = world;
  }

  async read(): Promise<void> {
    this.entries.set(await this.#world.read());
  }

  /** Does a step and says so, with a button that takes it back. Rejects, and changes nothing, if it is refused. */
  async do(change: ShelfChangeInput, said: string, messages: Messages): Promise<void> {
    const done = await this.#world.change(change);
    this.entries.set(done.entries);
    const { undo, undone } = this.#world.words;
    const takeBack = async (): Promise<void> => {
      try {
        this.entries.set((await this.#world.undo(done.change)).entries);
        messages.say(undone);
      } catch (error) {
        messages.say(this.#world.explain(error), { tone: 'bad' });
      }
    };
    messages.say(said, { action: { label: undo, run: () => void takeBack() } });
  }
}
