import type { LayState } from '../../pattern/exchange/lay.ts';
import type { LayChoice, Project } from '../../pattern/exchange/project.ts';
import type { SetsVary } from '../../pattern/exchange/setsQuestion.ts';
import type { LayWorld } from './layRun.ts';
import { Store } from './store.ts';

/** What was asked, so that the answer can be shown and taken over whatever was changed meanwhile. */
export interface SetsAsked {
  readonly project: Project;
  readonly materialId: string;
  readonly vary: SetsVary | null;
}

export type SetsRunState =
  | { readonly kind: 'idle' }
  | { readonly kind: 'running'; readonly asked: SetsAsked; readonly lay: LayState | null }
  | { readonly kind: 'ended'; readonly asked: SetsAsked; readonly lay: LayState }
  | { readonly kind: 'failed'; readonly asked: SetsAsked; readonly reason: string };

/** Time for each number of sets that is tried, in seconds; a try ends as soon as everything has its place. */
const SECONDS_A_TRY = 6;

/** Asks the server how many sets a cloth gives, one question at a time. Nothing of it is written into the document. */
export class SetsRun {
  readonly state = new Store<SetsRunState>({ kind: 'idle' });
  readonly #world: Pick<LayWorld, 'request' | 'watch' | 'cancel' | 'explain' | 'words'>;
  #id: string | null = null;
  #stopWatching: (() => void) | null = null;
  /** Counts questions, so that a late answer to an earlier one is dropped. */
  #question = 0;

  constructor(world: Pick<LayWorld, 'request' | 'watch' | 'cancel' | 'explain' | 'words'>) {
    this.#world = world;
  }

  async ask(asked: SetsAsked, choice: LayChoice, seed: number): Promise<void> {
    await this.stop();
    this.#question += 1;
    const question = this.#question;
    this.state.set({ kind: 'running', asked, lay: null });
    try {
      const id = await this.#world.request({
        project: { ...asked.project, plans: [] },
        choices: [choice],
        seconds: SECONDS_A_TRY,
        seed,
        question: { kind: 'sets', vary: asked.vary },
      });
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

  #show(question: number, asked: SetsAsked, lay: LayState): void {
    if (question !== this.#question) return;
    if (lay.state === 'queued' || lay.state === 'running') {
      this.state.set({ kind: 'running', asked, lay });
      return;
    }
    this.#id = null;
    if (lay.state === 'failed') this.#fail(question, asked, lay.error ?? this.#world.words.failed);
    else this.state.set({ kind: 'ended', asked, lay });
  }

  #fail(question: number, asked: SetsAsked, reason: string): void {
    if (question !== this.#question) return;
    this.#id = null;
    this.state.set({ kind: 'failed', asked, reason });
  }
}
