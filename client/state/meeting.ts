import type { StoredProject } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import type { Autosave } from './autosave.ts';
import { amendEverywhere, type History, perform } from './history.ts';
import { type Merged, mergeProjects, type Side } from './merge.ts';
import { differOnlyInCutting, mergeCutting, mergeDocuments } from './mergeCutting.ts';
import type { Messages } from './messages.ts';
import { isSameJson } from './patch.ts';
import { joinTheirs, renameProject, takeTheirs } from './projectCommands.ts';
import type { ProjectsWorld, SessionWords } from './sessionWorld.ts';
import { Store } from './store.ts';

/** What two people see when both changed the same project. */
export interface Conflict {
  readonly theirs: StoredProject;
  /** What both began with; null where it is no longer known, and nothing can be joined. */
  readonly base: Project | null;
}

/** The session as the meeting of two versions needs it. */
export interface MeetingParts {
  readonly projects: ProjectsWorld;
  readonly words: SessionWords;
  readonly messages: Messages;
  readonly history: Store<History>;
  readonly autosave: Autosave;
  /** The project that is open; empty while there is none. */
  projectId(): string;
  /** The work goes on in this project, with these steps. */
  goOnAs(stored: StoredProject, history: History): Promise<void>;
}

/** Two windows, or two people, at one project: what they did is joined, or the maker chooses; nothing is overwritten. */
export class Meeting {
  readonly conflict = new Store<Conflict | null>(null);
  readonly #parts: MeetingParts;

  constructor(parts: MeetingParts) {
    this.#parts = parts;
    const { state } = parts.autosave;
    state.watch(() => {
      if (state.value.kind === 'conflict' && !this.conflict.value) void this.#fetchTheirs();
    });
  }

  get #present(): Project {
    return this.#parts.history.value.present;
  }

  /** When the page comes to the front: takes over what was saved elsewhere meanwhile, if nothing here is unsent. */
  async lookForNews(): Promise<void> {
    const id = this.#parts.projectId();
    if (id === '' || !this.#parts.autosave.isSettled || this.#parts.autosave.state.value.kind !== 'saved')
      return;
    const stored = await this.#parts.projects.readNow(id).catch(() => null);
    if (!stored || stored.revision === this.#parts.autosave.revision || !this.#parts.autosave.isSettled)
      return;
    if (this.#parts.projectId() !== id) return;
    if (differOnlyInCutting(this.#present, stored.project) && this.#joinWorkAtTable(stored)) return;
    this.#takeOver(stored);
    this.#parts.messages.say(this.#parts.words.updatedElsewhere);
  }

  /** Asks for no more than the number of the revision, as often as a page at the table likes; then as `lookForNews`. */
  async lookForTicks(): Promise<void> {
    const id = this.#parts.projectId();
    if (id === '' || !this.#parts.autosave.isSettled || this.#parts.autosave.state.value.kind !== 'saved')
      return;
    const summaries = await this.#parts.projects.list().catch(() => null);
    const known = summaries?.find((entry) => entry.id === id);
    if (known && known.revision !== this.#parts.autosave.revision) await this.lookForNews();
  }

  /**
   * Joins what was done here and elsewhere since both had the same state, where one of the two was work at the table
   * alone: no step to undo, nothing to choose.
   */
  #joinWorkAtTable(theirs: StoredProject): boolean {
    const base = this.#parts.autosave.acknowledged;
    const merged = base && mergeDocuments(base, this.#present, theirs.project);
    if (!base || !merged) return false;
    const before = this.#parts.history.value;
    this.#parts.history.set(
      differOnlyInCutting(base, theirs.project)
        ? amendEverywhere(before, (project) => ({
            ...project,
            cutting: mergeCutting(base.cutting, project.cutting, theirs.project.cutting),
          }))
        : perform(before, takeTheirs(merged)),
    );
    this.#parts.autosave.adopt(theirs.revision, theirs.project);
    if (JSON.stringify(merged) !== JSON.stringify(theirs.project))
      this.#parts.autosave.changed(this.#present);
    return true;
  }

  /** Two versions of the open project: joined where nothing clashes, else the maker chooses. */
  meet(theirs: StoredProject): void {
    if (this.#joinWorkAtTable(theirs)) return;
    const base = this.#parts.autosave.acknowledged;
    const merged = base && mergeProjects(base, this.#present, theirs.project, 'mine');
    if (merged?.clashes.length === 0) this.#join(theirs, merged.project);
    else this.conflict.set({ theirs, base });
  }

  #join(theirs: StoredProject, joined: Project): void {
    if (!isSameJson(joined, this.#present)) {
      this.#parts.history.set(perform(this.#parts.history.value, joinTheirs(joined)));
      this.#parts.messages.say(this.#parts.words.joined);
    }
    this.#parts.autosave.adopt(theirs.revision, theirs.project);
    if (!isSameJson(this.#present, theirs.project)) this.#parts.autosave.changed(this.#present);
  }

  /** What joining gives as things stand; null where nothing can be joined. */
  joinedFor(side: Side): Merged | null {
    const conflict = this.conflict.value;
    return conflict?.base ? mergeProjects(conflict.base, this.#present, conflict.theirs.project, side) : null;
  }

  /** Both versions joined; where both changed the same, this side counts. */
  readonly keepJoined = (side: Side): void => {
    const conflict = this.conflict.value;
    const merged = this.joinedFor(side);
    if (!conflict || !merged) return;
    this.conflict.set(null);
    this.#join(conflict.theirs, merged.project);
  };

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
      this.#parts.history.value,
      renameProject(this.#parts.words.mineOf(this.#present.name).slice(0, 200)),
    );
    const stored = await this.#parts.projects.create(mine.present);
    this.#parts.autosave.adopt(conflict.theirs.revision);
    await this.#parts.goOnAs(stored, mine);
  };

  #takeOver(theirs: StoredProject): void {
    this.#parts.history.set(perform(this.#parts.history.value, takeTheirs(theirs.project)));
    this.#parts.autosave.adopt(theirs.revision, theirs.project);
  }

  async #fetchTheirs(): Promise<void> {
    const id = this.#parts.projectId();
    try {
      const theirs = await this.#parts.projects.readNow(id);
      if (this.#parts.projectId() !== id || this.#parts.autosave.state.value.kind !== 'conflict') return;
      this.meet(theirs);
    } catch (error) {
      this.#parts.messages.say(this.#parts.projects.explain(error), { tone: 'bad' });
    }
  }
}
