import type { LayRequestInput, LayState } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { materialMark } from './fingerprint.ts';
import { choiceFor, recordLay } from './layCommands.ts';
import { Store } from './store.ts';

/** Where a lay stands, as the page shows it. */
export type RunState =
  | { readonly kind: 'idle' }
  | {
      readonly kind: 'running';
      readonly materialIds: readonly string[];
      /** For how long the maker lets it look, for each cloth and spread. */
      readonly seconds: number;
      /** Null until the server has begun. */
      readonly lay: LayState | null;
    }
  | {
      readonly kind: 'ended';
      readonly materialIds: readonly string[];
      readonly lay: LayState;
    }
  | { readonly kind: 'failed'; readonly materialIds: readonly string[]; readonly reason: string };

export interface LayWorld {
  request(request: LayRequestInput): Promise<string>;
  watch(id: string, onState: (state: LayState) => void, onLost: () => void): () => void;
  cancel(id: string): Promise<void>;
  /** ISO time. */
  now(): string;
  /** Writes a result into the document. */
  record(change: (project: Project) => Project): void;
  explain(error: unknown): string;
  readonly words: { readonly lost: string; readonly failed: string };
}

interface Underway {
  readonly project: Project;
  readonly materialIds: readonly string[];
  readonly marks: ReadonlyMap<string, string>;
  id: string | null;
  stopWatching: (() => void) | null;
  stopped: boolean;
}

/** Runs one lay at a time and writes its layouts into the document when it ends, stopped or not. */
export class LayRun {
  readonly state = new Store<RunState>({ kind: 'idle' });
  readonly #world: LayWorld;
  #underway: Underway | null = null;

  constructor(world: LayWorld) {
    this.#world = world;
  }

  /** Lays these materials of the project as the maker chose. A lay that is running is given up first. */
  async start(
    project: Project,
    materialIds: readonly string[],
    seconds: number,
    seed: number,
  ): Promise<void> {
    await this.stop();
    const underway: Underway = {
      project,
      materialIds,
      marks: new Map(materialIds.map((id) => [id, materialMark(project, id)])),
      id: null,
      stopWatching: null,
      stopped: false,
    };
    this.#underway = underway;
    this.state.set({ kind: 'running', materialIds, seconds, lay: null });
    try {
      const id = await this.#world.request({
        // Earlier plans have no bearing on a lay, and may be large.
        project: { ...project, plans: [] },
        choices: materialIds.map((materialId) => choiceFor(project, materialId)),
        seconds,
        seed,
      });
      underway.id = id;
      if (this.#underway !== underway || underway.stopped) {
        await this.#world.cancel(id);
        return;
      }
      underway.stopWatching = this.#world.watch(
        id,
        (lay) => this.#show(underway, lay, seconds),
        () => this.#fail(underway, this.#world.words.lost),
      );
    } catch (error) {
      this.#fail(underway, this.#world.explain(error));
    }
  }

  /** Stops looking; what was found so far is kept. */
  async stop(): Promise<void> {
    const underway = this.#underway;
    if (!underway) return;
    this.#underway = null;
    underway.stopped = true;
    underway.stopWatching?.();
    const shown = this.state.value;
    const lay = shown.kind === 'running' ? shown.lay : null;
    if (lay) {
      this.#record(underway, lay);
      this.state.set({
        kind: 'ended',
        materialIds: underway.materialIds,
        lay: { ...lay, state: 'cancelled' },
      });
    } else {
      this.state.set({ kind: 'idle' });
    }
    if (underway.id !== null) {
      // A lay the server has already forgotten needs no stopping.
      await this.#world.cancel(underway.id).catch(() => undefined);
    }
  }

  /** Writes what there is so far into the document and lets the lay run on: for a page about to go away. */
  recordSoFar(): void {
    const shown = this.state.value;
    if (this.#underway && shown.kind === 'running' && shown.lay) this.#record(this.#underway, shown.lay);
  }

  /** Another project was opened: nothing of the old lay is shown or kept any longer. */
  async reset(): Promise<void> {
    await this.stop();
    this.state.set({ kind: 'idle' });
  }

  #show(underway: Underway, lay: LayState, seconds: number): void {
    if (this.#underway !== underway) return;
    const { materialIds } = underway;
    if (lay.state === 'queued' || lay.state === 'running') {
      const shown = this.state.value;
      const isOlder = shown.kind === 'running' && shown.lay !== null && shown.lay.revision > lay.revision;
      if (!isOlder) this.state.set({ kind: 'running', materialIds, seconds, lay });
      return;
    }
    this.#underway = null;
    this.#record(underway, lay);
    if (lay.state === 'failed') {
      this.state.set({ kind: 'failed', materialIds, reason: lay.error ?? this.#world.words.failed });
    } else {
      this.state.set({ kind: 'ended', materialIds, lay });
    }
  }

  #fail(underway: Underway, reason: string): void {
    if (this.#underway !== underway) return;
    this.recordSoFar();
    this.#underway = null;
    this.state.set({ kind: 'failed', materialIds: underway.materialIds, reason });
  }

  #record(underway: Underway, lay: LayState): void {
    const now = this.#world.now();
    for (const materialId of underway.materialIds) {
      const results = lay.results.filter((result) => result.materialId === materialId);
      if (results.length === 0) continue;
      const name =
        underway.project.materials.find((material) => material.id === materialId)?.name ?? materialId;
      const mark = underway.marks.get(materialId) ?? '';
      this.#world.record(recordLay(materialId, name, results, mark, now));
    }
  }
}
