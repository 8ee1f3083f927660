import { z } from 'zod';
import { layTogether } from '../../pattern/cutList/index.ts';
import type { LayRequestInput, LayState } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { materialMark } from './fingerprint.ts';
import { choiceFor, recordOfRun } from './layCommands.ts';
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
  /** @returns the last state, or null if the server knows nothing of this lay any longer */
  cancel(id: string): Promise<LayState | null>;
  /** Remembers a running lay across a reload of the page, and forgets it. */
  remember(ticket: LayTicket): void;
  forget(): void;
  /** ISO time. */
  now(): string;
  /** Writes a result into the document. */
  record(change: (project: Project) => Project): void;
  explain(error: unknown): string;
  readonly words: { readonly lost: string; readonly failed: string };
}

const ticketSchema = z.object({
  layId: z.string(),
  projectId: z.string(),
  materialIds: z.array(z.string()).readonly(),
  marks: z.array(z.string()).readonly(),
  names: z.array(z.string()).readonly(),
  seconds: z.number(),
});

/** What is needed to take up a lay again after the page was loaded anew. */
export type LayTicket = z.infer<typeof ticketSchema>;

/** A ticket from its text; null for anything else, such as one of another version of the page. */
export function readTicket(text: string): LayTicket | null {
  try {
    return ticketSchema.parse(JSON.parse(text));
  } catch {
    return null;
  }
}

interface Underway {
  readonly materialIds: readonly string[];
  readonly marks: readonly string[];
  /** Names of the materials, for the plans. */
  readonly names: readonly string[];
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

  /**
   * Lays these materials of the project, and those that share pieces with them, as the maker chose. A lay that is
   * running is given up first.
   */
  async start(
    project: Project,
    projectId: string,
    asked: readonly string[],
    seconds: number,
    seed: number,
  ): Promise<void> {
    await this.stop();
    const materialIds = layTogether(project, asked);
    const nameOf = (id: string): string =>
      project.materials.find((material) => material.id === id)?.name ?? id;
    const underway: Underway = {
      materialIds,
      marks: materialIds.map((id) => materialMark(project, id)),
      names: materialIds.map(nameOf),
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
      const { marks, names } = underway;
      this.#world.remember({ layId: id, projectId, materialIds, marks, names, seconds });
      this.#watch(underway, id, seconds);
    } catch (error) {
      this.#fail(underway, this.#world.explain(error));
    }
  }

  /** Takes up a lay that ran on in the server while the page was loaded anew. */
  resume(ticket: LayTicket): void {
    if (this.#underway) return;
    const { layId, materialIds, marks, names, seconds } = ticket;
    const underway: Underway = { materialIds, marks, names, id: layId, stopWatching: null, stopped: false };
    this.#underway = underway;
    this.state.set({ kind: 'running', materialIds, seconds, lay: null });
    this.#watch(underway, layId, seconds);
  }

  #watch(underway: Underway, id: string, seconds: number): void {
    underway.stopWatching = this.#world.watch(
      id,
      (lay) => this.#show(underway, lay, seconds),
      () => this.#fail(underway, this.#world.words.lost),
    );
  }

  /** Stops looking; what was found so far is kept. */
  async stop(): Promise<void> {
    const underway = this.#underway;
    if (!underway) return;
    this.#underway = null;
    underway.stopped = true;
    underway.stopWatching?.();
    this.#world.forget();
    const shown = this.state.value;
    const lay = shown.kind === 'running' ? shown.lay : null;
    const { materialIds } = underway;
    if (lay) {
      this.#record(underway, lay);
      this.state.set({ kind: 'ended', materialIds, lay: { ...lay, state: 'cancelled' } });
    } else {
      this.state.set({ kind: 'idle' });
    }
    if (underway.id === null) return;
    // The server may have found something better since it last told; a lay it has forgotten needs no stopping.
    const last = await this.#world.cancel(underway.id).catch(() => null);
    const isNewer = last !== null && last.results.length > 0 && last.revision >= (lay?.revision ?? 0);
    if (isNewer && this.#underway === null) {
      this.#record(underway, last);
      this.state.set({ kind: 'ended', materialIds, lay: last });
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
    this.#world.forget();
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
    this.#world.forget();
    this.state.set({ kind: 'failed', materialIds: underway.materialIds, reason });
  }

  #record(underway: Underway, lay: LayState): void {
    const now = this.#world.now();
    underway.materialIds.forEach((materialId, index) => {
      const name = underway.names[index] ?? materialId;
      const isDone = lay.state === 'done';
      this.#world.record(
        recordOfRun(materialId, name, { results: lay.results, isDone }, underway.marks[index] ?? '', now),
      );
    });
  }
}
