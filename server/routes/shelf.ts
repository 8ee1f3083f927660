import { z } from 'zod';
import { shelfChangedSchema, shelfChangeSchema, shelfSchema } from '../../pattern/exchange/shelf.ts';
import { searchShelf } from '../../pattern/shelf/search.ts';
import { type Operation, operation } from '../http/operation.ts';
import { notFound, Problem } from '../http/problem.ts';
import type { ShelfResult, ShelfStore } from '../storage/shelfStore.ts';

const searchQuerySchema = z.object({
  search: z
    .string()
    .max(200)
    .optional()
    .describe('Words that all must appear in name, fibre, place, notes or project'),
});

/** Cloth that is there, for all projects. */
export function shelfOperations(shelf: ShelfStore): Operation[] {
  return [
    operation(
      {
        method: 'get',
        path: '/api/shelf',
        id: 'readShelf',
        summary: 'List the cloth on the shelf, what came last first',
        query: searchQuerySchema,
        answers: { 200: { description: 'The entries', schema: shelfSchema } },
        problems: [503],
      },
      ({ query }, response) => {
        response.json({ entries: searchShelf(shelf.list(), query.search ?? '') });
      },
    ),
    operation(
      {
        method: 'post',
        path: '/api/shelf/changes',
        id: 'changeShelf',
        summary:
          'Put cloth on the shelf, reserve it for a project, take it when it is cut: one step, all or nothing',
        body: shelfChangeSchema,
        answers: {
          200: {
            description: 'The shelf after the step, and the number to take it back by',
            schema: shelfChangedSchema,
          },
        },
        problems: [422, 503, 507],
      },
      ({ body }, response) => {
        response.json(answer(shelf.change(body)));
      },
    ),
    operation(
      {
        method: 'post',
        path: '/api/shelf/changes/{number}/undo',
        id: 'undoShelfChange',
        summary: 'Take one of the last 200 steps back, if what it touched has not changed since',
        parameters: { number: 'Number of the step' },
        answers: {
          200: {
            description: 'The shelf after that, and the number to redo it by',
            schema: shelfChangedSchema,
          },
        },
        problems: [404, 422, 503, 507],
      },
      ({ params }, response) => {
        const number = Number(params.number);
        if (!Number.isSafeInteger(number)) throw notFound('Steps of the shelf have whole numbers.');
        response.json(answer(shelf.takeBack(number)));
      },
    ),
  ];
}

function answer(result: ShelfResult): z.infer<typeof shelfChangedSchema> {
  switch (result.kind) {
    case 'changed':
      return { entries: result.entries, change: result.change };
    case 'refused':
      throw new Problem({
        status: 422,
        kind: 'shelf',
        title: 'Not possible on the shelf',
        detail: result.message,
      });
    case 'missing':
      throw notFound('No such step of the shelf is remembered; only the last ones are.');
  }
}
