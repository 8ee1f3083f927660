import type { LayRequestInput, LayState } from '../../pattern/exchange/lay.ts';
import type { LayWorld } from './layRun.ts';
import { Store } from './store.ts';

/** Where a question stands; `Asked` is what the answer is shown with, whatever was changed meanwhile. */
export type QuestionState<Asked> =
  | { readonly kind: 'idle' }
  | { readonly kind: 'running'; readonly asked: Asked; readonly lay: LayState | null }
  | { readonly kind: 'ended'; readonly asked: Asked; readonly lay: LayState }
  | { readonly kind: 'failed'; readonly asked: Asked; readonly reason: string };

/** Asks the server something that is found out by laying, one question at a time. Nothing of it is written into the document. */
export class QuestionRun<Asked> {
  readonly state = new Store<QuestionState<Asked>>({ kind: 'idle' });
  readonly #world: Pick<LayWorld, 'request' | 'watch' | 'cancel' | 'explain' | 'words'>;
  #id: string | null = null;
  #stopWatching: (() => void) | null = null;
  /** Counts questions, so that a late answer to an earlier one is dropped. */
  #question = 0;

  constructor(world: Pick<LayWorld, 'request' | 'watch' | 'cancel' | 'explain' | 'words'>) {
    this.#world = world;
  }

  async put(asked: Asked, request: LayRequestInput): Promise<void> {
    await this.stop();
    this.#question += 1;
    const question = this.#question;
    this.state.set({ kind: 'running', asked, lay: null });
    try {
      const id = await this.#world.request(request);
      if (question !== this.#question) {
        await this.#world.cancel(id);
        return;
      }
      this.#id = id;
      this.#stopWatching = this.#world.watch(
        id,
        (lay) => this.#show(question, asked, lay),
        () => this.#fail(question, asked, this.#world.words.lost),
      );
    } catch (error) {
      this.#fail(question, asked, this.#world.explain(error));
    }
  }

  /** Stops looking; what is known so far stays on the page. */
  async stop(): Promise<void> {
    const shown = this.state.value;
    if (shown.kind !== 'running') return;
    this.#question += 1;
    this.#stopWatching?.();
    const id = this.#id;
    this.#id = null;
    this.state.set(
      shown.lay
        ? { kind: 'ended', asked: shown.asked, lay: { ...shown.lay, state: 'cancelled' } }
        : { kind: 'idle' },
    );
    if (id !== null) await this.#world.cancel(id).catch(() => null);
  }

  /** Another project was opened: the answer has nothing to do with it. */
  async reset(): Promise<void> {
    await this.stop();
    this.state.set({ kind: 'idle' });
  }

  #show(question: number, asked: Asked, lay: LayState): void {
    if (question !== this.#question) return;
    if (lay.state === 'queued' || lay.state === 'running') {
      this.state.set({ kind: 'running', asked, lay });
      return;
    }
    this.#id = null;
    if (lay.state === 'failed') this.#fail(question, asked, lay.error ?? this.#world.words.failed);
    else this.state.set({ kind: 'ended', asked, lay });
  }

  #fail(question: number, asked: Asked, reason: string): void {
    if (question !== this.#question) return;
    this.#id = null;
    this.state.set({ kind: 'failed', asked, reason });
  }
}
