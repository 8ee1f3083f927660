import { type Project, projectSchema } from '../../pattern/exchange/project.ts';
import type { CommandName } from './command.ts';
import { beginHistory, type History } from './history.ts';
import { apply, diff, isSameJson, type Patch } from './patch.ts';
import { takeTheirs } from './projectCommands.ts';

/** One step as it is kept: its name and what it changed, both ways. */
export interface KeptStep {
  readonly name: CommandName;
  readonly subject: string;
  readonly forth: Patch;
  readonly back: Patch;
}

/** Where in its steps a project is. */
export interface KeptHead {
  /** Whoever wrote last: another tab's steps are replaced as a whole, never mixed with ours. */
  readonly writer: string;
  readonly savedAt: string;
  /** Steps before the present one, and all there are. */
  readonly cursor: number;
  readonly count: number;
  readonly present: Project;
}

/** A place in this browser that outlives the page. Every method rejects where the browser refuses. */
export interface StepStore {
  read(projectId: string): Promise<{ head: KeptHead; steps: readonly KeptStep[] } | null>;
  /**
   * Writes the head, and steps from `from` on; those beyond `head.count` go. Where someone else wrote last, it does
   * nothing and gives false: then all steps have to be written (`from` 0).
   */
  write(projectId: string, head: KeptHead, from: number, steps: readonly KeptStep[]): Promise<boolean>;
  /** Drops what was last saved before this ISO time, but for the projects in `keep`. */
  dropBefore(time: string, keep: readonly string[]): Promise<void>;
}

export interface StepLogWorld {
  readonly store: StepStore;
  /** Calls back after so many milliseconds; the returned function calls it off. */
  later(ms: number, callback: () => void): () => void;
  now(): string;
  /** Told once when this browser keeps no steps (any more): they then last as long as the page. */
  onTrouble(): void;
}

const PAUSE_MS = 250;
/** Steps of projects that are gone outlive them as long as the bin does. */
const KEPT_MS = 30 * 86_400_000;
/** Later than any time that is written down. */
const END_OF_TIME = '\uFFFF';

/** Documents and labels in one line: `documents[i]` is what `labels[i]` made of `documents[i - 1]`. */
interface Line {
  readonly documents: readonly Project[];
  readonly labels: readonly { readonly name: CommandName; readonly subject: string }[];
  readonly cursor: number;
}

function lineOf({ past, present, future }: History): Line {
  return {
    documents: [...past.map((step) => step.project), present, ...future.map((step) => step.project)],
    labels: [...past, ...future],
    cursor: past.length,
  };
}

/**
 * Keeps every step of the open project in this browser, so that undo and redo go on after a reload as far back as ever.
 * Writes a moment after each change, only what is new.
 */
export class StepLog {
  readonly #world: StepLogWorld;
  readonly #writer: string;
  #projectId = '';
  /** What the store holds, as far as we wrote or read it. */
  #written: Line | null = null;
  #due: { readonly projectId: string; readonly history: History } | null = null;
  #callOff: (() => void) | null = null;
  #writing: Promise<void> = Promise.resolve();
  #isTold = false;
  #isOver = false;

  /** @param writer a name no other tab has */
  constructor(world: StepLogWorld, writer: string) {
    this.#world = world;
    this.#writer = writer;
  }

  /**
   * The history of a project that is opened with this document. Where the document was changed elsewhere since, that is
   * one more step, so that nothing before it is out of reach.
   */
  async open(projectId: string, present: Project): Promise<History> {
    await this.flush();
    this.#projectId = projectId;
    this.#written = null;
    try {
      const kept = await this.#world.store.read(projectId);
      return kept === null ? beginHistory(present) : rebuild(kept.head, kept.steps, present);
    } catch {
      this.#trouble();
      return beginHistory(present);
    }
  }

  changed(projectId: string, history: History): void {
    if (this.#isOver) return;
    if (projectId !== this.#projectId) {
      this.#projectId = projectId;
      this.#written = null;
    }
    this.#due = { projectId, history };
    this.#callOff?.();
    this.#callOff = this.#world.later(PAUSE_MS, () => void this.flush());
  }

  /** Writes what is due, and resolves when it is kept (or can't be). */
  flush(): Promise<void> {
    this.#callOff?.();
    this.#callOff = null;
    const due = this.#due;
    this.#due = null;
    if (due !== null) {
      this.#writing = this.#writing.then(() => this.#write(due.projectId, lineOf(due.history)));
    }
    return this.#writing;
  }

  /** Forgets steps of projects that are gone for good. */
  async tidy(known: readonly string[]): Promise<void> {
    const limit = new Date(Date.parse(this.#world.now()) - KEPT_MS).toISOString();
    await this.#world.store.dropBefore(limit, known).catch(() => this.#trouble());
  }

  /** Forgets the steps of every project, and keeps none from here on: for who signs out on a machine of others. */
  async forgetAll(): Promise<void> {
    this.#isOver = true;
    this.#callOff?.();
    this.#due = null;
    await this.#writing;
    await this.#world.store.dropBefore(END_OF_TIME, []);
  }

  async #write(projectId: string, line: Line): Promise<void> {
    const known = projectId === this.#projectId ? this.#written : null;
    const head: KeptHead = {
      writer: this.#writer,
      savedAt: this.#world.now(),
      cursor: line.cursor,
      count: line.labels.length,
      present: line.documents[line.cursor]!,
    };
    try {
      const from = known === null ? 0 : firstNew(known, line);
      const { store } = this.#world;
      if (known !== null && isWritten(known, line, from)) return;
      if (!(await store.write(projectId, head, from, stepsFrom(line, from)))) {
        await store.write(projectId, head, 0, stepsFrom(line, 0));
      }
      if (projectId === this.#projectId) this.#written = line;
    } catch {
      if (projectId === this.#projectId) this.#written = null;
      this.#trouble();
    }
  }

  #trouble(): void {
    if (this.#isTold) return;
    this.#isTold = true;
    this.#world.onTrouble();
  }
}

/** Whether nothing is new, steps before `from` apart. */
function isWritten(known: Line, line: Line, from: number): boolean {
  return (
    from === line.labels.length &&
    known.labels.length === line.labels.length &&
    known.cursor === line.cursor &&
    known.documents[line.cursor] === line.documents[line.cursor]
  );
}

/** The first step that is not yet written as it is now. */
function firstNew(known: Line, line: Line): number {
  let step = 0;
  while (
    step < line.labels.length &&
    known.labels[step]?.name === line.labels[step]!.name &&
    known.labels[step]?.subject === line.labels[step]!.subject &&
    known.documents[step] === line.documents[step] &&
    known.documents[step + 1] === line.documents[step + 1]
  )
    step++;
  return step;
}

function stepsFrom({ documents, labels }: Line, from: number): KeptStep[] {
  return labels.slice(from).map(({ name, subject }, place) => {
    const [before, after] = [documents[from + place], documents[from + place + 1]];
    return { name, subject, forth: diff(before, after), back: diff(after, before) };
  });
}

function rebuild(head: KeptHead, steps: readonly KeptStep[], present: Project): History {
  const documents: Project[] = [];
  documents[head.cursor] = head.present;
  for (let step = head.cursor; step > 0; step--) {
    documents[step - 1] = apply(documents[step], steps[step - 1]!.back) as Project;
  }
  for (let step = head.cursor; step < head.count; step++) {
    documents[step + 1] = apply(documents[step], steps[step]!.forth) as Project;
  }
  const current = inPresentShape(documents, head.cursor);
  const label = ({ name, subject }: KeptStep) => ({ name, subject });
  const history: History = {
    past: steps.slice(0, head.cursor).map((step, place) => ({ ...label(step), project: current[place]! })),
    present: current[head.cursor]!,
    future: steps
      .slice(head.cursor)
      .map((step, place) => ({ ...label(step), project: current[head.cursor + place + 1]! })),
    open: null,
  };
  if (isSameJson(history.present, present)) return { ...history, present };
  const { name, subject } = takeTheirs(present);
  return {
    past: [...history.past, { name, subject, project: history.present }],
    present,
    future: [],
    open: null,
  };
}

/** Documents kept by an earlier version of the page get what the schema has gained since; else they stay as they are. */
function inPresentShape(documents: readonly Project[], cursor: number): readonly Project[] {
  const sample = documents[cursor]!;
  if (isSameJson(projectSchema.parse(sample), sample)) return documents;
  return documents.map((document) => projectSchema.parse(document));
}
