import { layerChanges } from '../../pattern/cutList/index.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import type { ProjectSummary, StoredProject } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { Autosave } from './autosave.ts';
import { BuyRun } from './buyRun.ts';
import type { Command } from './command.ts';
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
import { LayRun } from './layRun.ts';
import { Meeting } from './meeting.ts';
import type { Messages } from './messages.ts';
import { isSameJson } from './patch.ts';
import { restoreVersion } from './projectCommands.ts';
import type { SessionStatus, SessionWorld } from './sessionWorld.ts';
import { SetsRun } from './setsRun.ts';
import type { StepLog } from './stepLog.ts';
import { Store } from './store.ts';

/** One visit at the bench: the open project with its history, its saving and its lay. */
export class Session {
  readonly status = new Store<SessionStatus>({ kind: 'loading' });
  readonly history: Store<History>;
  readonly summaries = new Store<readonly ProjectSummary[]>([]);
  readonly autosave: Autosave;
  readonly lay: LayRun;
  readonly sets: SetsRun;
  readonly buying: BuyRun;
  /** The open project as others change it. */
  readonly others: Meeting;
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
    this.others = new Meeting({
      projects: world.projects,
      words: world.words,
      messages: world.messages,
      history: this.history,
      autosave: this.autosave,
      projectId: () => this.projectId,
      goOnAs: (stored, history) => this.#goOnAs(stored, history),
    });
    this.history.watch(() => {
      if (this.#openId !== '') this.steps?.changed(this.#openId, this.history.value);
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
    let unsent = await this.#world.keep.get(id);
    // What arrived after all is not unsent; work of another tab may wait behind it.
    while (unsent && isSameJson(unsent.project, stored.project)) {
      this.#world.keep.drop(id);
      unsent = await this.#world.keep.get(id);
    }
    const history = await this.#stepsOf(id, unsent?.project ?? stored.project);
    this.#enter(stored, history);
    if (stored.isCopy) this.messages.say(this.#world.words.fromCopy);
    if (!unsent) {
      this.#world.keep.drop(id);
      // Sent as if it were new: once the server is back it says whether it still has just this.
      if (stored.isCopy) this.autosave.changed(stored.project);
      return;
    }
    // Unsent work of an earlier visit: it goes on from where it was made, or is a conflict if the server moved on.
    if (unsent.revision === stored.revision || stored.isCopy) {
      // A copy may be older than the work: that belongs to the revision it was made from.
      if (unsent.revision !== stored.revision) this.autosave.open(id, unsent.revision);
      this.autosave.changed(unsent.project);
      this.messages.say(this.#world.words.restoredUnsent);
    } else {
      const base = await this.#world.projects.version(id, unsent.revision).catch(() => null);
      // Not the revision just read: until the maker has chosen, the work belongs to the one it was made from.
      this.autosave.open(id, unsent.revision, base?.project ?? null);
      this.autosave.conflict(unsent.project);
      this.others.meet(stored);
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
    await this.#goOnAs(stored, present);
  }

  /** Goes on in a project that was just made of the work, with its steps. */
  async #goOnAs(stored: StoredProject, history: History): Promise<void> {
    this.#enter(stored);
    this.history.set(history);
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
    this.others.conflict.set(null);
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
