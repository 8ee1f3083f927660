import type { Project } from '../../pattern/exchange/project.ts';
import type { LocalKeep } from './localKeep.ts';
import { Store } from './store.ts';

/** What the maker sees of saving. */
export type SaveState =
  | { readonly kind: 'saved' }
  | { readonly kind: 'saving' }
  /** The server can't be reached; `keptHere` says whether this browser holds the work meanwhile. */
  | { readonly kind: 'offline'; readonly keptHere: boolean }
  | { readonly kind: 'refused'; readonly reason: string; readonly keptHere: boolean }
  /** Someone else saved a newer version; nothing is sent until the maker has chosen. */
  | { readonly kind: 'conflict' };

export type SendOutcome =
  | { readonly kind: 'saved'; readonly revision: number }
  | { readonly kind: 'conflict' }
  | { readonly kind: 'offline' }
  /** `mayPass`: the fault lies with the server (its disk is full, it is busy), so the same may be taken later. */
  | { readonly kind: 'refused'; readonly reason: string; readonly mayPass?: boolean };

export interface AutosaveWorld {
  send(projectId: string, revision: number, project: Project): Promise<SendOutcome>;
  /** Calls back after so many milliseconds; the returned function calls it off. */
  later(ms: number, callback: () => void): () => void;
  now(): number;
  readonly keep: LocalKeep;
}

/** A pause in typing this long sends what there is … */
const PAUSE_MS = 400;
/** … and however busy the typing, nothing waits longer than this. */
const LONGEST_WAIT_MS = 900;
const FIRST_RETRY_MS = 1_000;
const LONGEST_RETRY_MS = 30_000;

/**
 * Sends each change of the open project to the server within a second, one request at a time. What could not be
 * sent stays in this browser and is tried again, on its own after a growing pause or at once by `flush`.
 */
export class Autosave {
  readonly state = new Store<SaveState>({ kind: 'saved' });
  readonly #world: AutosaveWorld;
  #projectId = '';
  #revision = 0;
  #unsent: Project | null = null;
  #unsentSince = 0;
  #sending: Promise<void> | null = null;
  #callOff: (() => void) | null = null;
  #retryMs = FIRST_RETRY_MS;
  #acknowledged: Project | null = null;

  constructor(world: AutosaveWorld) {
    this.#world = world;
  }

  /** The document as the server holds it in `revision`; null where that isn't known. */
  get acknowledged(): Project | null {
    return this.#acknowledged;
  }

  get revision(): number {
    return this.#revision;
  }

  /** Whether everything so far is acknowledged by the server. */
  get isSettled(): boolean {
    return this.#unsent === null && this.#sending === null;
  }

  /** Begins with a project that the server holds in exactly this revision. */
  open(projectId: string, revision: number, acknowledged: Project | null = null): void {
    this.#acknowledged = acknowledged;
    this.#callOff?.();
    this.#callOff = null;
    this.#projectId = projectId;
    this.#revision = revision;
    this.#unsent = null;
    this.#retryMs = FIRST_RETRY_MS;
    this.state.set({ kind: 'saved' });
  }

  changed(project: Project): void {
    if (this.#projectId === '') return;
    if (this.#unsent === null) this.#unsentSince = this.#world.now();
    this.#unsent = project;
    if (this.state.value.kind === 'conflict') {
      this.keepHere();
      return;
    }
    if (this.state.value.kind === 'saved') this.state.set({ kind: 'saving' });
    const waited = this.#world.now() - this.#unsentSince;
    this.#sendIn(Math.max(0, Math.min(PAUSE_MS, LONGEST_WAIT_MS - waited)));
  }

  /** Sends now what is unsent. Resolves when the server has answered, whatever it said. */
  async flush(): Promise<void> {
    this.#callOff?.();
    this.#callOff = null;
    if (this.#sending) await this.#sending;
    if (this.#unsent === null || this.state.value.kind === 'conflict') return;
    this.#sending = this.#send(this.#unsent);
    await this.#sending;
  }

  /** Writes unsent work to this browser's storage: for the moment a page goes away. */
  keepHere(): boolean {
    if (this.#unsent === null) return true;
    return this.#world.keep.put(this.#projectId, { revision: this.#revision, project: this.#unsent });
  }

  /** The maker saw a newer version of someone else and chose: goes on from that revision. */
  adopt(revision: number, acknowledged: Project | null = null): void {
    this.#world.keep.drop(this.#projectId);
    this.open(this.#projectId, revision, acknowledged);
  }

  /** Marks the open project as changed by someone else. */
  conflict(unsent: Project): void {
    this.#callOff?.();
    this.#callOff = null;
    this.#unsent = unsent;
    this.state.set({ kind: 'conflict' });
    this.keepHere();
  }

  #sendIn(ms: number): void {
    this.#callOff?.();
    this.#callOff = this.#world.later(ms, () => {
      this.#callOff = null;
      this.flush().catch((error: unknown) => this.#refuse(String(error)));
    });
  }

  async #send(project: Project): Promise<void> {
    const projectId = this.#projectId;
    this.#world.keep.put(projectId, { revision: this.#revision, project });
    this.state.set({ kind: 'saving' });
    let outcome: SendOutcome;
    try {
      outcome = await this.#world.send(projectId, this.#revision, project);
    } finally {
      this.#sending = null;
    }
    // Another project was opened meanwhile: its state is none of this answer's business.
    if (projectId !== this.#projectId) {
      if (outcome.kind === 'saved') this.#world.keep.drop(projectId);
      return;
    }
    switch (outcome.kind) {
      case 'saved':
        this.#revision = outcome.revision;
        this.#acknowledged = project;
        this.#retryMs = FIRST_RETRY_MS;
        if (this.#unsent === project) {
          this.#unsent = null;
          this.#world.keep.drop(projectId);
          this.state.set({ kind: 'saved' });
        } else {
          this.#unsentSince = this.#world.now();
          if (!this.#callOff) this.#sendIn(PAUSE_MS);
        }
        return;
      case 'conflict':
        this.conflict(this.#unsent ?? project);
        return;
      case 'offline':
        this.state.set({ kind: 'offline', keptHere: this.keepHere() });
        this.#sendLater();
        return;
      case 'refused':
        this.#refuse(outcome.reason);
        if (outcome.mayPass) this.#sendLater();
    }
  }

  #sendLater(): void {
    this.#sendIn(this.#retryMs);
    this.#retryMs = Math.min(LONGEST_RETRY_MS, this.#retryMs * 2);
  }

  #refuse(reason: string): void {
    this.state.set({ kind: 'refused', reason, keptHere: this.keepHere() });
  }
}
