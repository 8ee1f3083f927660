import type { Response } from 'express';
import { z } from 'zod';
import { totalCopies } from '../../pattern/cutList/index.ts';
import { layRequestSchema, layStateSchema } from '../../pattern/exchange/lay.ts';
import { LIMITS, type Project } from '../../pattern/exchange/project.ts';
import { layAcceptedSchema } from '../../pattern/exchange/storedProject.ts';
import type { MakeFile } from '../files/makers.ts';
import { drawingQuery } from '../files/queries.ts';
import { EventStream } from '../http/eventStream.ts';
import { invalid, requireUniqueIds } from '../http/faults.ts';
import { type Operation, operation } from '../http/operation.ts';
import { notFound, Problem } from '../http/problem.ts';
import { DRAWING_POLICY } from '../http/security.ts';
import { isEnded, type Lays, type LayView } from '../lays.ts';
import { sendFile } from './sendFile.ts';

const ID = { id: 'Id of the lay' };

/** Listeners to one lay's events; a page needs one. */
const LISTENERS = 16;

const eventsQuerySchema = z.object({
  cancelOnClose: z
    .enum(['0', '1'])
    .optional()
    .describe('1: cancel the lay when this listener goes away and no other is left'),
});

/** Lays: asked for, watched, drawn, cancelled. */
export function layOperations(lays: Lays, make: MakeFile): Operation[] {
  return [
    operation(
      {
        method: 'post',
        path: '/api/lays',
        id: 'requestLay',
        summary: 'Ask for the pieces of a project to be laid on their cloths',
        body: layRequestSchema,
        answers: {
          202: {
            description: 'Accepted; the work goes on after this answer',
            schema: layAcceptedSchema,
            headers: { Location: 'Address of the lay' },
          },
        },
        problems: [429, 503],
      },
      ({ body }, response) => {
        requireUniqueIds(body.project);
        requireCount(body.project);
        const result = lays.add(body, String(response.locals.client ?? ''));
        if (result.kind !== 'accepted') throw refused(result.kind, lays);
        response.status(202).location(`/api/lays/${result.id}`).json({ id: result.id });
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/lays/{id}',
        id: 'readLay',
        summary: 'Read how far a lay is, with the best layouts so far',
        parameters: ID,
        answers: { 200: { description: 'State and layouts', schema: layStateSchema } },
        problems: [404],
      },
      ({ params }, response) => {
        response.json(required(lays.get(params.id!)).state);
      },
    ),
    operation(
      {
        method: 'delete',
        path: '/api/lays/{id}',
        id: 'cancelLay',
        summary: 'End a lay with what it has; one that has ended stays as it is',
        parameters: ID,
        answers: { 200: { description: 'The last state', schema: layStateSchema } },
        problems: [404],
      },
      ({ params }, response) => {
        response.json(required(lays.cancel(params.id!)).state);
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/lays/{id}/events',
        id: 'watchLay',
        summary: 'Follow a lay: its state at once and after each change, until it has ended',
        parameters: ID,
        query: eventsQuerySchema,
        answers: {
          200: {
            description: 'Server-sent events; `data` is the state as JSON, `id` its revision',
            mediaType: 'text/event-stream',
          },
          204: { description: 'The lay has ended and the listener has its last state; nothing will follow' },
        },
        problems: [404, 503],
      },
      ({ params, query, request }, response) => {
        const id = params.id!;
        const { state } = required(lays.get(id));
        // A browser takes a closed stream up again and says what it has; 204 makes it stop.
        if (isEnded(state.state) && request.get('Last-Event-ID') === String(state.revision)) {
          response.status(204).end();
          return;
        }
        if (lays.listenerCount(id) >= LISTENERS) {
          throw new Problem({ status: 503, detail: `At most ${LISTENERS} listeners can follow one lay.` });
        }
        if (request.method === 'HEAD') {
          response.type('text/event-stream').end();
          return;
        }
        follow(lays, id, query.cancelOnClose === '1', response);
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/lays/{id}/layout.svg',
        id: 'drawLay',
        summary: 'Draw the lay of one cloth to scale, for one sheet of A4',
        parameters: ID,
        query: drawingQuery,
        answers: { 200: { description: 'The drawing', mediaType: 'image/svg+xml' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) => {
        const { state, project } = required(lays.get(params.id!));
        const lay = state.results.find(
          (result) =>
            (query.cloth === undefined || result.clothId === query.cloth) &&
            (query.material === undefined || result.materialId === query.material) &&
            (query.spread === undefined || result.spread === query.spread),
        );
        if (lay === undefined) throw noLayout(state.state);
        return sendFile(response, make, 'layoutSvg', { project, found: [lay], query }, DRAWING_POLICY);
      },
    ),
  ];
}

/** The schema bounds each cell of the cut list; together they may ask for no more than the engine is made for. */
function requireCount(project: Project): void {
  const copies = totalCopies(project);
  if (copies <= LIMITS.copies) return;
  const message = `the cut list asks for ${copies} pieces; one lay may hold at most ${LIMITS.copies}`;
  throw invalid('body', [{ path: 'project.cutList', message }]);
}

function refused(kind: 'full' | 'yoursFull' | 'unreachable' | 'closed', lays: Lays): Problem {
  if (kind === 'closed') return new Problem({ status: 503, detail: 'The server is shutting down.' });
  if (kind === 'unreachable') {
    return new Problem({
      status: 503,
      kind: 'queue-unreachable',
      title: 'Lays can’t be asked for now',
      detail:
        'The queue that hands lays to other machines (Redis) can’t be reached. Projects are stored as ever; try again in a moment.',
      headers: { 'Retry-After': '5' },
    });
  }
  const { waiting, waitingOfClient } = lays.limits;
  if (kind === 'yoursFull') {
    return new Problem({
      status: 429,
      kind: 'your-queue-full',
      title: 'Too many lays of yours',
      detail: `You have ${waitingOfClient} lays waiting, as many as one may have. Try again when one has ended.`,
      headers: { 'Retry-After': '10' },
    });
  }
  return new Problem({
    status: 503,
    kind: 'queue-full',
    title: 'Too many lays at once',
    detail: `So many lays are waiting that no more fit (at most ${waiting}). Try again when one has ended.`,
    headers: { 'Retry-After': '10' },
  });
}

export function required(view: LayView | undefined): LayView {
  if (view === undefined) {
    throw notFound(
      'There is no lay with this id. Ended lays are kept for an hour, and only the latest ones.',
    );
  }
  return view;
}

export function noLayout(state: string): Problem {
  const isStillWorking = state === 'queued' || state === 'running';
  return notFound(
    isStillWorking
      ? 'There is no layout for this cloth yet.'
      : 'The lay holds no layout for this cloth, material and spread.',
  );
}

function follow(lays: Lays, id: string, cancelOnClose: boolean, response: Response): void {
  const message = () => {
    const state = lays.get(id)?.state;
    return { id: state?.revision ?? 0, data: JSON.stringify(state) };
  };
  let stopListening = () => {};
  const stream = new EventStream(response, {
    message,
    onClose: (wasFinished) => {
      stopListening();
      if (cancelOnClose && !wasFinished && lays.listenerCount(id) === 0) lays.cancel(id);
    },
  });
  const tell = () => {
    const state = lays.get(id)?.state;
    if (state === undefined || isEnded(state.state)) stream.finish();
    else stream.changed();
  };
  stopListening = lays.listen(id, tell);
  tell();
}
