import type { StoredProject } from '../../pattern/exchange/lay.ts';
import { projectWriteSchema, storedProjectSchema } from '../../pattern/exchange/lay.ts';
import { projectCreateSchema, projectListSchema } from '../../pattern/exchange/storedProject.ts';
import { requireUniqueIds } from '../http/faults.ts';
import { type Operation, operation } from '../http/operation.ts';
import { notFound, Problem } from '../http/problem.ts';
import type { ProjectStore } from '../storage/projectStore.ts';

const ID = { id: 'Id of the project' };

/** Stored projects and their earlier revisions. */
export function projectOperations(store: ProjectStore): Operation[] {
  return [
    operation(
      {
        method: 'get',
        path: '/api/projects',
        id: 'listProjects',
        summary: 'List the stored projects, latest change first',
        answers: { 200: { description: 'Id, name and revision of each', schema: projectListSchema } },
        problems: [503],
      },
      (_checked, response) => {
        response.json(store.list());
      },
    ),
    operation(
      {
        method: 'post',
        path: '/api/projects',
        id: 'createProject',
        summary: 'Store a new project',
        body: projectCreateSchema,
        answers: {
          201: {
            description: 'The project as stored, on the disk when this answer comes',
            schema: storedProjectSchema,
            headers: { Location: 'Address of the project' },
          },
        },
        problems: [503, 507],
      },
      ({ body }, response) => {
        requireUniqueIds(body.project);
        const stored = store.create(body.project);
        response.status(201).location(`/api/projects/${stored.id}`).json(stored);
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}',
        id: 'readProject',
        summary: 'Read a project; an older document comes out in the present version',
        parameters: ID,
        answers: { 200: { description: 'The project', schema: storedProjectSchema } },
        problems: [404, 503],
      },
      ({ params }, response) => {
        response.json(required(store.get(params.id!)));
      },
    ),
    operation(
      {
        method: 'put',
        path: '/api/projects/{id}',
        id: 'writeProject',
        summary: 'Write a project over the revision it was made from',
        parameters: ID,
        body: projectWriteSchema,
        answers: {
          200: {
            description: 'The project as stored, on the disk when this answer comes',
            schema: storedProjectSchema,
          },
        },
        problems: [404, 409, 503, 507],
      },
      ({ params, body }, response) => {
        requireUniqueIds(body.project);
        const result = store.update(params.id!, body.revision, body.project);
        switch (result.kind) {
          case 'stored':
            response.json(result.stored);
            return;
          case 'stale':
            throw new Problem({
              status: 409,
              kind: 'stale-revision',
              title: 'Changed elsewhere',
              detail:
                `This project was changed in another window: it is at revision ${result.current.revision}, ` +
                `and this write was made from revision ${body.revision}. Nothing was stored.`,
              extra: {
                currentRevision: result.current.revision,
                updatedAt: result.current.updatedAt,
              },
            });
          case 'binned':
            throw notFound('This project was deleted. It is still in the bin and can be restored.');
          case 'missing':
            throw unknown();
        }
      },
    ),
    operation(
      {
        method: 'delete',
        path: '/api/projects/{id}',
        id: 'deleteProject',
        summary: 'Move a project into the bin, from where it can be restored for 30 days',
        parameters: ID,
        answers: { 204: { description: 'It is in the bin' } },
        problems: [404, 503, 507],
      },
      ({ params }, response) => {
        if (!store.remove(params.id!)) throw unknown();
        response.status(204).end();
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/revisions',
        id: 'listRevisions',
        summary: 'List the earlier revisions kept of a project, newest first',
        parameters: ID,
        answers: { 200: { description: 'Name and time of each', schema: projectListSchema } },
        problems: [404, 503],
      },
      ({ params }, response) => {
        const revisions = store.revisions(params.id!);
        if (revisions === undefined) throw unknown();
        response.json(revisions);
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/revisions/{revision}',
        id: 'readRevision',
        summary: 'Read a project as it was; to go back to it, write it over the current revision',
        parameters: { ...ID, revision: 'Number of the revision' },
        answers: { 200: { description: 'The project as it was', schema: storedProjectSchema } },
        problems: [404, 503],
      },
      ({ params }, response) => {
        const revision = Number(params.revision);
        const stored = Number.isSafeInteger(revision) ? store.revision(params.id!, revision) : undefined;
        if (stored === undefined) throw notFound('No such revision of a project is kept.');
        response.json(stored);
      },
    ),
  ];
}

function unknown(): Problem {
  return notFound('There is no project with this id.');
}

export function required(stored: StoredProject | undefined): StoredProject {
  if (stored === undefined) throw unknown();
  return stored;
}
