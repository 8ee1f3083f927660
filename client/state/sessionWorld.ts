import type { ProjectSummary, StoredProject } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import type { AutosaveWorld } from './autosave.ts';
import type { CommandName } from './command.ts';
import type { LayWorld } from './layRun.ts';
import type { LocalKeep } from './localKeep.ts';
import type { Messages } from './messages.ts';
import type { StepLog } from './stepLog.ts';

/** The server as the session needs it. */
export interface ProjectsWorld {
  list(): Promise<readonly ProjectSummary[]>;
  /** Where the server is away: what this browser had of it last, marked as a copy. */
  read(id: string): Promise<StoredProject & { readonly isCopy?: boolean }>;
  /** As the server has it now; rejects where that can't be known. */
  readNow(id: string): Promise<StoredProject>;
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
  /** What is shown is this browser's copy. */
  readonly fromCopy: string;
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
