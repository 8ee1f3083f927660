import { layerChanges } from '../../pattern/cutList/index.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import type { ProjectSummary, StoredProject } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { Autosave, type AutosaveWorld } from './autosave.ts';
import { BuyRun } from './buyRun.ts';
import type { Command, CommandName } from './command.ts';
import {
  amendEverywhere,
  beginHistory,
  type History,
  perform,
  redo,
  seal,
  takeBack,
  undo,
} from './history.ts';
import { LayRun, type LayWorld } from './layRun.ts';
import type { LocalKeep } from './localKeep.ts';
import { type Merged, mergeProjects, type Side } from './merge.ts';
import { differOnlyInCutting, mergeCutting, mergeDocuments } from './mergeCutting.ts';
import type { Messages } from './messages.ts';
import { isSameJson } from './patch.ts';
import { joinTheirs, renameProject, restoreVersion, takeTheirs } from './projectCommands.ts';
import { SetsRun } from './setsRun.ts';
import type { StepLog } from './stepLog.ts';
import { Store } from './store.ts';

/** The server as the session needs it. */
export interface ProjectsWorld {
  list(): Promise<readonly ProjectSummary[]>;
  read(id: string): Promise<StoredProject>;
  create(project: Project): Promise<StoredProject>;
  remove(id: string): Promise<void>;
  /** Out of the bin again. */
  restore(id: string): Promise<StoredProject>;
  /** Earlier versions, newest first. */
  versions(id: string): Promise<readonly ProjectSummary[]>;
  version(id: string, revision: number): Promise<StoredProject>;
  explain(error: unknown): string;
}

export interface SessionWorld {
  readonly projects: ProjectsWorld;
  readonly saving: Omit<AutosaveWorld, 'keep'>;
  readonly laying: Omit<LayWorld, 'record'>;
  readonly keep: LocalKeep;
  /** Keeps steps beyond the page; null: they last as long as it. */
  readonly steps: StepLog | null;
  readonly messages: Messages;
  /** Remembers which project was open last. */
  remember(projectId: string): void;
  recall(): string | null;
  readonly words: SessionWords;
}

/** The sentences the session says itself. */
export interface SessionWords {
  readonly untitled: string;
  readonly undoLabel: string;
  copyOf(name: string): string;
  mineOf(name: string): string;
  deleted(name: string): string;
  readonly updatedElsewhere: string;
  readonly restoredUnsent: string;
  /** Both changed it, and nothing clashed. */
  readonly joined: string;
  wentBack(time: string): string;
  undid(name: CommandName, subject: string): string;
  /** What came into a material and went from it because it follows others. */
  layers(material: string, added: readonly string[], gone: readonly string[]): string;
  redid(name: CommandName, subject: string): string;
}

export type SessionStatus =
  | { readonly kind: 'loading' }
  | { readonly kind: 'ready'; readonly projectId: string }
  | { readonly kind: 'failed'; readonly reason: string };

/** What two people see when both changed the same project. */
export interface Conflict {
  readonly theirs: StoredProject;
  /** What both began with; null where it is no longer known, and nothing can be joined. */
  readonly base: Project | null;
}

/** One visit at the bench: the open project with its history, its saving and its lay. */
export class Session {
  readonly status = new Store<SessionStatus>({ kind: 'loading' });
  readonly history: Store<History>;
  readonly summaries = new Store<readonly ProjectSummary[]>([]);
  readonly conflict = new Store<Conflict | null>(null);
  readonly autosave: Autosave;
  readonly lay: LayRun;
  readonly sets: SetsRun;
  readonly buying: BuyRun;
  readonly messages: Messages;
  readonly steps: StepLog | null;
  readonly #world: SessionWorld;
  /** The project whose steps are kept; none while one is being entered. */
  #openId = '';
  /** Id of the message that offers to take the last step back. */
  #offer: number | null = null;

  constructor(world: SessionWorld) {
    this.#world = world;
    this.messages = world.messages;
    this.steps = world.steps;
    this.history = new Store(beginHistory(emptyProject(world.words.untitled, 'cm')));
    this.autosave = new Autosave({ ...world.saving, keep: world.keep });
    this.lay = new LayRun({ ...world.laying, record: (change) => this.amend(change) });
    this.sets = new SetsRun(world.laying);
    this.buying = new BuyRun(world.laying);
    this.history.watch(() => {
      if (this.#openId !== '') this.steps?.changed(this.#openId, this.history.value);
    });
    this.autosave.state.watch(() => {
      if (this.autosave.state.value.kind === 'conflict' && !this.conflict.value) void this.#fetchTheirs();
    });
  }

  get project(): Project {
    return this.history.value.present;
  }

  get projectId(): string {
    const status = this.status.value;
    return status.kind === 'ready' ? status.projectId : '';
  }

  // Changing the document

  readonly do = (command: Command): void => {
    const before = this.history.value;
    this.#change(perform(before, command));
    if (this.history.value === before) return;
    this.#dropOffer();
    this.#tellLayers(before.present);
  };

  /** Says which rows of the cut list came and went because they follow others. */
  #tellLayers(before: Project): void {
    const after = this.project;
    for (const change of layerChanges(before, after)) {
      const material = after.materials.find(({ id }) => id === change.materialId)?.name ?? '';
      const named = (ids: readonly string[]): string[] =>
        after.pieces.filter(({ id }) => ids.includes(id)).map(({ name }) => name);
      this.messages.say(this.#world.words.layers(material, named(change.added), named(change.gone)));
    }
  }

  /** Says what was just done, with a button that takes exactly that back: it goes once something else is done. */
  announce(text: string): void {
    const { undoLabel } = this.#world.words;
    this.#offer = this.messages.say(text, { action: { label: undoLabel, run: this.undo } });
  }

  #dropOffer(): void {
    if (this.#offer !== null) this.messages.dismiss(this.#offer);
    this.#offer = null;
  }

  /** Writes a result that is no edit into every snapshot. */
  readonly amend = (change: (project: Project) => Project): void => {
    this.#change(amendEverywhere(this.history.value, change));
  };

  /** The maker let go of a field or a handle: the next command is a step of its own. */
  readonly seal = (): void => {
    this.history.set(seal(this.history.value));
  };

  /** Drops the step with this key if it is still open: a drag that was called off. */
  readonly takeBack = (together: string): void => {
    this.#change(takeBack(this.history.value, together));
  };

  readonly undo = (): void => {
    const step = this.history.value.past.at(-1);
    if (!step) return;
    this.#dropOffer();
    this.#change(undo(this.history.value));
    this.messages.say(this.#world.words.undid(step.name, step.subject));
  };

  readonly redo = (): void => {
    const step = this.history.value.future[0];
    if (!step) return;
    this.#change(redo(this.history.value));
    this.messages.say(this.#world.words.redid(step.name, step.subject));
  };

  #change(history: History): void {
    const changed = history.present !== this.history.value.present;
    this.history.set(history);
    if (changed && this.projectId !== '') this.autosave.changed(history.present);
  }

  // Opening, making and losing projects

  /** Opens the project asked for, else the last one, else the newest, else a new one. */
  async begin(wanted: string): Promise<void> {
    try {
      const summaries = await this.#world.projects.list();
      this.summaries.set(summaries);
      void this.steps?.tidy(summaries.map(({ id }) => id));
      const known = (id: string | null): string | undefined => summaries.find((entry) => entry.id === id)?.id;
      const id = known(wanted) ?? known(this.#world.recall()) ?? summaries[0]?.id;
      if (id === undefined) await this.create(emptyProject(this.#world.words.untitled, 'cm'));
      else await this.open(id);
    } catch (error) {
      this.status.set({ kind: 'failed', reason: this.#world.projects.explain(error) });
    }
  }

  async open(id: string): Promise<void> {
    await this.#leave();
    const stored = await this.#world.projects.read(id);
    const kept = this.#world.keep.get(id);
    const unsent = kept && !isSameJson(kept.project, stored.project) ? kept : null;
    const history = await this.#stepsOf(id, unsent?.project ?? stored.project);
    this.#enter(stored, history);
    if (!unsent) {
      this.#world.keep.drop(id);
      return;
    }
    // Unsent work of an earlier visit: it goes on from where it was made, or is a conflict if the server moved on.
    if (unsent.revision === stored.revision) {
      this.autosave.changed(unsent.project);
      this.messages.say(this.#world.words.restoredUnsent);
    } else {
      const base = await this.#world.projects.version(id, unsent.revision).catch(() => null);
      // Not the revision just read: until the maker has chosen, the work belongs to the one it was made from.
      this.autosave.open(id, unsent.revision, base?.project ?? null);
      this.autosave.conflict(unsent.project);
      this.#meet(stored);
    }
  }

  async create(project: Project): Promise<void> {
    await this.#leave();
    const stored = await this.#world.projects.create(project);
    this.#enter(stored);
    await this.refreshList();
  }

  async duplicate(id: string): Promise<void> {
    const source = id === this.projectId ? this.project : (await this.#world.projects.read(id)).project;
    await this.create({ ...source, name: this.#world.words.copyOf(source.name).slice(0, 200) });
  }

  /** Deletes a project; the message that says so can bring it back. */
  async remove(id: string): Promise<void> {
    const isOpen = id === this.projectId;
    const name = isOpen ? this.project.name : this.summaries.value.find((entry) => entry.id === id)?.name;
    if (isOpen) await this.#leave();
    await this.#world.projects.remove(id);
    this.#world.keep.drop(id);
    await this.refreshList();
    const { words } = this.#world;
    this.messages.say(words.deleted(name ?? ''), {
      action: { label: words.undoLabel, run: () => this.attempt(() => this.restore(id)) },
    });
    if (isOpen) {
      this.status.set({ kind: 'loading' });
      await this.begin('');
    }
  }

  async restore(id: string): Promise<void> {
    await this.#leave();
    const stored = await this.#world.projects.restore(id);
    this.#enter(stored, await this.#stepsOf(id, stored.project));
    await this.refreshList();
  }

  /** The work as it is now becomes a project of its own: a way out where the server refuses the old one. */
  async saveAsNew(): Promise<void> {
    const present = this.history.value;
    const stored = await this.#world.projects.create(present.present);
    this.#world.keep.drop(this.projectId);
    this.#enter(stored);
    this.history.set(present);
    await this.refreshList();
  }

  async refreshList(): Promise<void> {
    this.summaries.set(await this.#world.projects.list());
  }

  /** The steps this browser has kept of a project, ending with this document. */
  async #stepsOf(id: string, present: Project): Promise<History> {
    return (await this.steps?.open(id, present)) ?? beginHistory(present);
  }

  #enter(stored: StoredProject, history = beginHistory(stored.project)): void {
    this.#openId = '';
    this.conflict.set(null);
    this.history.set(history);
    this.autosave.open(stored.id, stored.revision, stored.project);
    this.#world.remember(stored.id);
    this.#openId = stored.id;
    this.status.set({ kind: 'ready', projectId: stored.id });
  }

  async #leave(): Promise<void> {
    await this.lay.reset();
    await this.sets.reset();
    await this.buying.reset();
    await this.autosave.flush();
  }

  // Two at once

  /** When the page comes to the front: takes over what was saved elsewhere meanwhile, if nothing here is unsent. */
  async lookForNews(): Promise<void> {
    const id = this.projectId;
    if (id === '' || !this.autosave.isSettled || this.autosave.state.value.kind !== 'saved') return;
    const stored = await this.#world.projects.read(id).catch(() => null);
    if (!stored || stored.revision === this.autosave.revision || !this.autosave.isSettled) return;
    if (this.projectId !== id) return;
    if (differOnlyInCutting(this.project, stored.project) && this.#joinWorkAtTable(stored)) return;
    this.#takeOver(stored);
    this.messages.say(this.#world.words.updatedElsewhere);
  }

  /** Asks for no more than the number of the revision, as often as a page at the table likes; then as `lookForNews`. */
  async lookForTicks(): Promise<void> {
    const id = this.projectId;
    if (id === '' || !this.autosave.isSettled || this.autosave.state.value.kind !== 'saved') return;
    const summaries = await this.#world.projects.list().catch(() => null);
    const known = summaries?.find((entry) => entry.id === id);
    if (known && known.revision !== this.autosave.revision) await this.lookForNews();
  }

  /**
   * Joins what was done here and elsewhere since both had the same state, where one of the two was work at the table
   * alone: no step to undo, nothing to choose.
   */
  #joinWorkAtTable(theirs: StoredProject): boolean {
    const base = this.autosave.acknowledged;
    const merged = base && mergeDocuments(base, this.project, theirs.project);
    if (!base || !merged) return false;
    const before = this.history.value;
    this.history.set(
      differOnlyInCutting(base, theirs.project)
        ? amendEverywhere(before, (project) => ({
            ...project,
            cutting: mergeCutting(base.cutting, project.cutting, theirs.project.cutting),
          }))
        : perform(before, takeTheirs(merged)),
    );
    this.autosave.adopt(theirs.revision, theirs.project);
    if (JSON.stringify(merged) !== JSON.stringify(theirs.project)) this.autosave.changed(this.project);
    return true;
  }

  /** Two versions of the open project: joined where nothing clashes, else the maker chooses. */
  #meet(theirs: StoredProject): void {
    if (this.#joinWorkAtTable(theirs)) return;
    const base = this.autosave.acknowledged;
    const merged = base && mergeProjects(base, this.project, theirs.project, 'mine');
    if (merged?.clashes.length === 0) this.#join(theirs, merged.project);
    else this.conflict.set({ theirs, base });
  }

  #join(theirs: StoredProject, joined: Project): void {
    if (!isSameJson(joined, this.project)) {
      this.history.set(perform(this.history.value, joinTheirs(joined)));
      this.messages.say(this.#world.words.joined);
    }
    this.autosave.adopt(theirs.revision, theirs.project);
    if (!isSameJson(this.project, theirs.project)) this.autosave.changed(this.project);
  }

  /** What joining gives as things stand; null where nothing can be joined. */
  joinedFor(side: Side): Merged | null {
    const conflict = this.conflict.value;
    return conflict?.base ? mergeProjects(conflict.base, this.project, conflict.theirs.project, side) : null;
  }

  /** Both versions joined; where both changed the same, this side counts. */
  readonly keepJoined = (side: Side): void => {
    const conflict = this.conflict.value;
    const merged = this.joinedFor(side);
    if (!conflict || !merged) return;
    this.conflict.set(null);
    this.#join(conflict.theirs, merged.project);
  };

  // Earlier versions

  versions(): Promise<readonly ProjectSummary[]> {
    return this.#world.projects.versions(this.projectId);
  }

  version(revision: number): Promise<StoredProject> {
    return this.#world.projects.version(this.projectId, revision);
  }

  /** Goes back to an earlier version, as a step of its own. @param time when it was made, as shown */
  goBackTo(version: Project, time: string): void {
    this.do(restoreVersion(version, time));
    this.announce(this.#world.words.wentBack(time));
  }

  /** Theirs becomes the document; ours stays one undo away. */
  readonly keepTheirs = (): void => {
    const conflict = this.conflict.value;
    if (!conflict) return;
    this.conflict.set(null);
    this.#takeOver(conflict.theirs);
  };

  /** Ours goes on as a project of its own; theirs stays as it is. */
  readonly keepBoth = async (): Promise<void> => {
    const conflict = this.conflict.value;
    if (!conflict) return;
    const mine = perform(
      this.history.value,
      renameProject(this.#world.words.mineOf(this.project.name).slice(0, 200)),
    );
    const stored = await this.#world.projects.create(mine.present);
    this.autosave.adopt(conflict.theirs.revision);
    this.#enter(stored);
    this.history.set(mine);
    await this.refreshList();
  };

  #takeOver(theirs: StoredProject): void {
    this.history.set(perform(this.history.value, takeTheirs(theirs.project)));
    this.autosave.adopt(theirs.revision, theirs.project);
  }

  async #fetchTheirs(): Promise<void> {
    const id = this.projectId;
    try {
      const theirs = await this.#world.projects.read(id);
      if (this.projectId !== id || this.autosave.state.value.kind !== 'conflict') return;
      this.#meet(theirs);
    } catch (error) {
      this.messages.say(this.#world.projects.explain(error), { tone: 'bad' });
    }
  }

  /** Runs something that may fail on the way to the server, and says so if it does. */
  readonly attempt = (work: () => Promise<void>): void => {
    void this.#attempt(work);
  };

  async #attempt(work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      this.messages.say(this.#world.projects.explain(error), { tone: 'bad' });
    }
  }
}
