import type { Project } from '../../pattern/exchange/project.ts';
import type { MakeFile } from '../files/makers.ts';
import {
  labelsQuery,
  listQuery,
  piecesDxfQuery,
  piecesQuery,
  projectorPiecesQuery,
  shoppingQuery,
  ticksQuery,
} from '../files/queries.ts';
import { type Operation, operation } from '../http/operation.ts';
import type { ProjectStore } from '../storage/projectStore.ts';
import { required } from './projects.ts';
import { sendFile } from './sendFile.ts';

const ID = { id: 'Id of the project' };

/** Files of a stored project: pieces in full size, the cut list, labels. */
export function projectFileOperations(store: ProjectStore, make: MakeFile): Operation[] {
  const read = (id: string): Project => required(store.get(id)).project;
  const places = () => Object.fromEntries(store.shelf.list().map(({ id, place }) => [id, place]));
  return [
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/pieces.pdf',
        id: 'piecesPdf',
        summary: 'Pieces in full size, divided over sheets or on one large sheet each',
        parameters: ID,
        query: piecesQuery,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'piecesPdf', { project: read(params.id!), query }),
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/pieces-projector.pdf',
        id: 'projectorPiecesPdf',
        summary: 'Pieces in full size for a projector: light lines on dark, with a grid to set it by',
        parameters: ID,
        query: projectorPiecesQuery,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'projectorPiecesPdf', { project: read(params.id!), query }),
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/pieces.dxf',
        id: 'piecesDxf',
        summary: 'Pieces as DXF in mm, a block each, layers by number as in ASTM D6673',
        parameters: ID,
        query: piecesDxfQuery,
        answers: { 200: { description: 'The file', mediaType: 'image/vnd.dxf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'piecesDxf', { project: read(params.id!), query }),
    ),
    ...(['csv', 'json'] as const).map((ending) =>
      operation(
        {
          method: 'get',
          path: `/api/projects/{id}/cutlist.${ending}`,
          id: `cutList${ending === 'csv' ? 'Csv' : 'Json'}`,
          summary: `The cut list, as ${ending.toUpperCase()}`,
          parameters: ID,
          query: listQuery,
          answers: {
            200: {
              description: 'The table; lengths in mm',
              mediaType: ending === 'csv' ? 'text/csv' : 'application/json',
            },
          },
          problems: [404, 422, 503],
        },
        ({ params, query }, response) =>
          sendFile(response, make, 'cutList', { project: read(params.id!), query, ending }),
      ),
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/ticks.pdf',
        id: 'ticksPdf',
        summary:
          'Every piece to cut with a box to tick; what is cut already is crossed, what is held back comes last',
        parameters: ID,
        query: ticksQuery,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'ticksPdf', { project: read(params.id!), query }),
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/shopping.pdf',
        id: 'shoppingPdf',
        summary:
          'What to buy by the latest plans, in whole steps of the shop, with what is taken from what is there',
        parameters: ID,
        query: shoppingQuery,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'shoppingPdf', { project: read(params.id!), query, places: places() }),
    ),
    ...(['csv', 'json'] as const).map((ending) =>
      operation(
        {
          method: 'get',
          path: `/api/projects/{id}/shopping.${ending}`,
          id: `shopping${ending === 'csv' ? 'Csv' : 'Json'}`,
          summary: `What to buy by the latest plans, as ${ending.toUpperCase()}`,
          parameters: ID,
          query: listQuery,
          answers: {
            200: {
              description: 'The table; lengths in mm, money in hundredths',
              mediaType: ending === 'csv' ? 'text/csv' : 'application/json',
            },
          },
          problems: [404, 422, 503],
        },
        ({ params, query }, response) =>
          sendFile(response, make, 'shoppingRows', {
            project: read(params.id!),
            query,
            ending,
            places: places(),
          }),
      ),
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/labels.pdf',
        id: 'labelsPdf',
        summary: 'A label for every cut piece, on sheets of free measures',
        parameters: ID,
        query: labelsQuery,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'labelsPdf', { project: read(params.id!), query }),
    ),
  ];
}
