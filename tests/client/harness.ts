import { Autosave, type SendOutcome } from '../../client/state/autosave.ts';
import type { Command } from '../../client/state/command.ts';
import {
  amendEverywhere,
  beginHistory,
  type History,
  perform,
  redo,
  seal,
  undo,
} from '../../client/state/history.ts';
import { type ListedStorage, LocalKeep } from '../../client/state/localKeep.ts';
import type { KeptHead, KeptStep, StepStore } from '../../client/state/stepLog.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import type { LayState } from '../../pattern/exchange/lay.ts';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';

/** A maker at the bench without a browser: does things, takes them back, looks at the document. */
export class Maker {
  history: History;

  constructor(project: Project = emptyProject('Test', 'cm')) {
    this.history = beginHistory(project);
  }

  get project(): Project {
    return this.history.present;
  }

  does(command: Command): this {
    this.history = perform(this.history, command);
    return this;
  }

  pauses(): this {
    this.history = seal(this.history);
    return this;
  }

  undoes(times = 1): this {
    for (let i = 0; i < times; i++) this.history = undo(this.history);
    return this;
  }

  redoes(times = 1): this {
    for (let i = 0; i < times; i++) this.history = redo(this.history);
    return this;
  }

  receives(change: (project: Project) => Project): this {
    this.history = amendEverywhere(this.history, change);
    return this;
  }

  piece(name: string) {
    const found = this.project.pieces.find((piece) => piece.name === name);
    if (!found) throw new Error(`no piece called ${name}`);
    return found;
  }

  material(name: string) {
    const found = this.project.materials.find((material) => material.name === name);
    if (!found) throw new Error(`no material called ${name}`);
    return found;
  }

  cloth(name: string) {
    const found = this.project.cloths.find((cloth) => cloth.name === name);
    if (!found) throw new Error(`no cloth called ${name}`);
    return found;
  }

  /** The cell as `plain/mirrored/onFold`. */
  cell(piece: string, material: string): string {
    const row = this.project.cutList.find(
      (entry) => entry.pieceId === this.piece(piece).id && entry.materialId === this.material(material).id,
    );
    return row ? `${row.plain}/${row.mirrored}/${row.onFold}` : 'none';
  }
}

/** Fails where the schema of the document would. */
export function expectValid(project: Project): void {
  projectSchema.parse(JSON.parse(JSON.stringify(project)));
}

/** Steps as a browser's database holds them: copies, not the objects themselves. */
export class MemoryStepStore implements StepStore {
  readonly logs = new Map<string, { head: KeptHead; steps: KeptStep[] }>();
  isFull = false;
  /** Steps written so far, each time counted anew. */
  written = 0;

  async read(projectId: string) {
    const log = this.logs.get(projectId);
    return log === undefined ? null : structuredClone(log);
  }

  async write(projectId: string, head: KeptHead, from: number, steps: readonly KeptStep[]) {
    if (this.isFull) throw new Error('QuotaExceededError');
    const log = this.logs.get(projectId);
    if (from > 0 && (log?.head.writer !== head.writer || log.head.count < from)) return false;
    this.written += steps.length;
    const before = log?.steps.slice(0, from) ?? [];
    this.logs.set(projectId, structuredClone({ head, steps: [...before, ...steps] }));
    return true;
  }

  async dropBefore(time: string, keep: readonly string[]) {
    for (const [id, { head }] of this.logs) {
      if (head.savedAt < time && !keep.includes(id)) this.logs.delete(id);
    }
  }
}

export class MemoryStorage implements ListedStorage {
  readonly entries = new Map<string, string>();
  isFull = false;

  getItem(key: string): string | null {
    return this.entries.get(key) ?? null;
  }

  setItem(key: string, value: string): void {
    if (this.isFull) throw new Error('QuotaExceededError');
    this.entries.set(key, value);
  }

  removeItem(key: string): void {
    this.entries.delete(key);
  }

  get length(): number {
    return this.entries.size;
  }

  key(index: number): string | null {
    return [...this.entries.keys()][index] ?? null;
  }
}

/** A clock that only moves when told, a server that answers as told. */
export class SavingWorld {
  time = 0;
  answers: SendOutcome[] = [];
  readonly sent: { at: number; projectId: string; revision: number; project: Project }[] = [];
  readonly storage = new MemoryStorage();
  readonly keep = new LocalKeep(this.storage);
  readonly autosave: Autosave;
  #timers: { at: number; callback: () => void }[] = [];

  constructor() {
    this.autosave = new Autosave({
      keep: this.keep,
      now: () => this.time,
      later: (ms, callback) => {
        const timer = { at: this.time + ms, callback };
        this.#timers.push(timer);
        return () => {
          this.#timers = this.#timers.filter((entry) => entry !== timer);
        };
      },
      send: async (projectId, revision, project) => {
        this.sent.push({ at: this.time, projectId, revision, project });
        return this.answers.shift() ?? { kind: 'saved', revision: revision + 1 };
      },
    });
  }

  /** Lets time pass, timers due in it first in their order, and every promise settle. */
  async passes(ms: number): Promise<void> {
    const end = this.time + ms;
    for (;;) {
      await settle();
      const due = this.#timers.filter((timer) => timer.at <= end).sort((a, b) => a.at - b.at)[0];
      if (!due) break;
      this.#timers = this.#timers.filter((timer) => timer !== due);
      this.time = Math.max(this.time, due.at);
      due.callback();
    }
    this.time = end;
  }
}

export async function settle(): Promise<void> {
  for (let i = 0; i < 20; i++) await Promise.resolve();
}

export function layState(part: Partial<LayState>): LayState {
  return {
    id: 'lay-1',
    state: 'running',
    revision: 1,
    elapsedMs: 0,
    notices: [],
    results: [],
    ...part,
  };
}
