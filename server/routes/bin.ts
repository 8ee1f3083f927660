import { storedProjectSchema } from '../../pattern/exchange/lay.ts';
import { binSchema } from '../../pattern/exchange/storedProject.ts';
import { type Operation, operation } from '../http/operation.ts';
import { notFound } from '../http/problem.ts';
import type { ProjectStore } from '../storage/projectStore.ts';

/** Deleted projects that can be had back. */
export function binOperations(store: ProjectStore): Operation[] {
  return [
    operation(
      {
        method: 'get',
        path: '/api/bin',
        id: 'listBin',
        summary: 'List the deleted projects that can be restored, last deleted first',
        answers: { 200: { description: 'Name of each and how long it is kept', schema: binSchema } },
        problems: [503],
      },
      (_checked, response) => {
        response.json(store.binned());
      },
    ),
    operation(
      {
        method: 'post',
        path: '/api/bin/{id}/restore',
        id: 'restoreProject',
        summary: 'Take a project out of the bin, under its old id',
        parameters: { id: 'Id of the project' },
        answers: {
          200: {
            description: 'The project, stored again',
            schema: storedProjectSchema,
            headers: { Location: 'Address of the project' },
          },
        },
        problems: [404, 503, 507],
      },
      ({ params }, response) => {
        const stored = store.restore(params.id!);
        if (stored === undefined) throw notFound('There is no project with this id in the bin.');
        response.location(`/api/projects/${stored.id}`).json(stored);
      },
    ),
  ];
}
