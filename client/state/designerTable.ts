import {
  type DesignerTable,
  designerTableSchema,
  MOST_CELLS,
  type TableRequest,
} from '../../pattern/exchange/designerTable.ts';
import type { LayRequestInput, LayState } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { runTable, tableKeys } from '../../pattern/lay/table/index.ts';
import { hashText } from './fingerprint.ts';
import type { TextStorage } from './localKeep.ts';
import { Store } from './store.ts';

/** The server's lays as a table needs them. */
export interface TableWorld {
  request(request: LayRequestInput): Promise<string>;
  watch(id: string, onState: (state: LayState) => void, onLost: () => void): () => void;
  cancel(id: string): Promise<unknown>;
  explain(error: unknown): string;
  /** Keeps a table that was stopped or left, until the next visit; null where nothing can be kept. */
  readonly storage: TextStorage | null;
  readonly words: { readonly lost: string; readonly tooMany: (count: number, most: number) => string };
}

export type TableState =
  | { readonly kind: 'none' }
  | {
      readonly kind: 'running' | 'stopped' | 'done';
      readonly table: DesignerTable;
      readonly done: number;
      readonly total: number;
    }
  | { readonly kind: 'failed'; readonly reason: string; readonly table: DesignerTable | null };

/** Lays that are asked for side by side: no more than the server works on at once. */
const AT_ONCE = 2;
/** Tables of projects lie in the browser's storage under this and the project's id. */
export const TABLE_KEY = 'clothlay.table.';
const keyOf = (projectId: string): string => TABLE_KEY + projectId;

/** Mark of all that a table depends on: plans, ticks and notes have no bearing on it. */
function tableMark({ plans: _plans, cutting: _cutting, notes: _notes, ...project }: Project): string {
  return hashText(JSON.stringify(project));
}

/** Works out a designer's table figure by figure through the server, to be stopped and gone on with at any time. */
export class TableWork {
  readonly state = new Store<TableState>({ kind: 'none' });
  readonly #world: TableWorld;
  #abort: AbortController | null = null;

  constructor(world: TableWorld) {
    this.#world = world;
  }

  /** A table that an earlier visit has left, for the same project; nothing if there is none. */
  recall(projectId: string): void {
    if (this.#abort) return;
    const table = this.#kept(projectId);
    if (!table) {
      this.state.set({ kind: 'none' });
      return;
    }
    this.state.set({ kind: 'stopped', table, done: table.cells.length, total: table.cells.length });
  }

  /** Begins a table, or goes on with the one that is there where it is for the same project and effort. */
  async start(project: Project, projectId: string, request: TableRequest): Promise<void> {
    this.stop();
    const total = tableKeys(project, request).length;
    if (total > MOST_CELLS) {
      const reason = this.#world.words.tooMany(total, MOST_CELLS);
      this.state.set({ kind: 'failed', reason, table: null });
      return;
    }
    const abort = new AbortController();
    this.#abort = abort;
    let latest: DesignerTable | null = null;
    try {
      const table = await runTable({
        project,
        request,
        madeFrom: tableMark(project),
        begun: this.#kept(projectId),
        atOnce: AT_ONCE,
        lay: (asked) => this.#lay(asked, abort.signal),
        report: (now, done) => {
          latest = now;
          this.#keep(projectId, now);
          if (this.#abort === abort) this.state.set({ kind: 'running', table: now, done, total });
        },
        signal: abort.signal,
      });
      if (this.#abort !== abort) return;
      const done = table.cells.length;
      this.state.set({ kind: done === total ? 'done' : 'stopped', table, done, total });
    } catch (error) {
      abort.abort();
      if (this.#abort === abort) {
        this.state.set({ kind: 'failed', reason: this.#world.explain(error), table: latest });
      }
    } finally {
      if (this.#abort === abort) this.#abort = null;
    }
  }

  /** Ends the work with what there is. */
  stop(): void {
    this.#abort?.abort();
  }

  #lay(request: LayRequestInput, signal: AbortSignal): Promise<LayState> {
    return new Promise((resolve, reject) => {
      this.#world.request(request).then((id) => {
        const onAbort = (): void => {
          this.#world.cancel(id).catch(() => undefined);
        };
        if (signal.aborted) onAbort();
        signal.addEventListener('abort', onAbort, { once: true });
        this.#world.watch(
          id,
          (state) => {
            if (state.state === 'queued' || state.state === 'running') return;
            signal.removeEventListener('abort', onAbort);
            if (state.state === 'failed') reject(new Error(state.error ?? this.#world.words.lost));
            else resolve(state);
          },
          () => reject(new Error(this.#world.words.lost)),
        );
      }, reject);
    });
  }

  #kept(projectId: string): DesignerTable | null {
    try {
      const text = this.#world.storage?.getItem(keyOf(projectId));
      return text ? designerTableSchema.parse(JSON.parse(text)) : null;
    } catch {
      return null;
    }
  }

  #keep(projectId: string, table: DesignerTable): void {
    try {
      this.#world.storage?.setItem(keyOf(projectId), JSON.stringify(table));
    } catch {
      // A table that isn't kept is worked out again.
    }
  }
}
