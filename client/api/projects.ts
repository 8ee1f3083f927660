import { type ProjectSummary, type StoredProject, storedProjectSchema } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { projectListSchema } from '../../pattern/exchange/storedProject.ts';
import { COPY_HEADER } from '../offline/copies.ts';
import type { SendOutcome } from '../state/autosave.ts';
import {
  call,
  callWithoutAnswer,
  faultText,
  HttpProblem,
  isSignInNeeded,
  request,
  Unreachable,
} from './http.ts';

const addressOf = (id: string): string => `/api/projects/${encodeURIComponent(id)}`;

/** Newest change first. */
export function listProjects(): Promise<readonly ProjectSummary[]> {
  return call('GET', '/api/projects', projectListSchema);
}

/** Where the server is away and this browser has a copy, that. */
export async function readProject(id: string): Promise<StoredProject & { readonly isCopy: boolean }> {
  const response = await request('GET', addressOf(id));
  const isCopy = response.headers.has(COPY_HEADER);
  return { ...storedProjectSchema.parse(await response.json()), isCopy };
}

/** Never a copy. */
export async function readProjectNow(id: string): Promise<StoredProject> {
  const response = await request('GET', addressOf(id), undefined, 'no-store');
  return storedProjectSchema.parse(await response.json());
}

export function createProject(project: Project): Promise<StoredProject> {
  return call('POST', '/api/projects', storedProjectSchema, { project });
}

export function deleteProject(id: string): Promise<void> {
  return callWithoutAnswer('DELETE', addressOf(id));
}

/** Takes a deleted project out of the bin, under its old id. */
export function restoreProject(id: string): Promise<StoredProject> {
  return call('POST', `/api/bin/${encodeURIComponent(id)}/restore`, storedProjectSchema);
}

/** Earlier versions of a project, newest first. */
export function listVersions(id: string): Promise<readonly ProjectSummary[]> {
  return call('GET', `${addressOf(id)}/revisions`, projectListSchema);
}

export function readVersion(id: string, revision: number): Promise<StoredProject> {
  return call('GET', `${addressOf(id)}/revisions/${revision}`, storedProjectSchema);
}

/** Writes a project over the revision it was made from, every outcome told and none thrown. */
export async function writeProject(id: string, revision: number, project: Project): Promise<SendOutcome> {
  try {
    const stored = await call('PUT', addressOf(id), storedProjectSchema, { revision, project });
    return { kind: 'saved', revision: stored.revision };
  } catch (error) {
    // Signed out, the work waits here as it does without a connection.
    if (error instanceof Unreachable || isSignInNeeded(error)) return { kind: 'offline' };
    if (error instanceof HttpProblem && error.status === 409) return { kind: 'conflict' };
    const mayPass = error instanceof HttpProblem && (error.status >= 500 || error.status === 429);
    return { kind: 'refused', reason: faultText(error), mayPass };
  }
}
