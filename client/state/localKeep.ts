import { z } from 'zod';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';

/** Work that the server has not acknowledged yet, with the revision it was made from. */
export interface KeptWork {
  readonly revision: number;
  readonly project: Project;
}

/** The part of `Storage` that is used, so that a test can hand in a map. */
export interface TextStorage {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

const keptSchema = z.object({ revision: z.number().int(), project: projectSchema });
const keyOf = (projectId: string): string => `clothlay.unsent.${projectId}`;

/** Keeps unsent work in this browser. Storage that is full or forbidden is told, never thrown. */
export class LocalKeep {
  readonly #storage: TextStorage | null;

  constructor(storage: TextStorage | null) {
    this.#storage = storage;
  }

  /** @returns whether the work is safe here */
  put(projectId: string, work: KeptWork): boolean {
    try {
      if (!this.#storage) return false;
      this.#storage.setItem(keyOf(projectId), JSON.stringify(work));
      return true;
    } catch {
      return false;
    }
  }

  /** Unsent work of an earlier visit, or null when there is none or it can't be read. */
  get(projectId: string): KeptWork | null {
    try {
      const text = this.#storage?.getItem(keyOf(projectId));
      return text ? keptSchema.parse(JSON.parse(text)) : null;
    } catch {
      return null;
    }
  }

  drop(projectId: string): void {
    try {
      this.#storage?.removeItem(keyOf(projectId));
    } catch {
      // A storage that can't be written to has nothing to drop either.
    }
  }
}
