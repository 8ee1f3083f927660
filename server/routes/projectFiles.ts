import { z } from 'zod';
import { projectAsCut } from '../../pattern/cutList/index.ts';
import { isCurrentPlan } from '../../pattern/exchange/currentPlan.ts';
import { type ClothLay, LIMITS, type Piece, type Project } from '../../pattern/exchange/project.ts';
import {
  cutListTable,
  fullPieceSheets,
  fullPiecesFault,
  type LabelSheet,
  labelFault,
  labelSheets,
  labelsFor,
  piecesToDxf,
  projectorPieceSheets,
  shoppingList,
  shoppingSheets,
  shoppingTable,
  tickSheets,
} from '../../pattern/output/index.ts';
import { checkPiece } from '../../pattern/pieces/index.ts';
import { sendDownload } from '../http/download.ts';
import { type Operation, operation } from '../http/operation.ts';
import { cannotBeMade as cannot, notFound } from '../http/problem.ts';
import type { ProjectStore } from '../storage/projectStore.ts';
import { download, fullSize, mirror, sendTable, units } from './layFiles.ts';
import { required } from './projects.ts';
import { sendPdf } from './sendPdf.ts';

const ID = { id: 'Id of the project' };

const piece = z.string().max(64).optional().describe('Id of the piece; all pieces if left out');
const mm = (least: number, most: number) => z.coerce.number().min(least).max(most);

const piecesQuery = z.object({
  piece,
  ...fullSize,
  unfold: z.enum(['0', '1']).default('0').describe('1: half pieces opened out'),
  units,
  download,
});

const ticksQuery = z.object({
  by: z.enum(['material', 'part']).default('material').describe('What the list is ordered by'),
  page: z.enum(['a4', 'letter']).default('a4').describe('Paper'),
  units,
  download,
});

const labelsQuery = z.object({
  material: z.string().max(64).optional().describe('Id of the material; all if left out'),
  page: z.enum(['a4', 'letter']).default('a4').describe('Paper'),
  rows: z.coerce.number().int().min(1).max(100).default(8).describe('Labels one below the other'),
  columns: z.coerce.number().int().min(1).max(50).default(3).describe('Labels side by side'),
  marginX: mm(0, 200).default(8).describe('Left and right of the outer labels, mm'),
  marginY: mm(0, 200).default(12).describe('Above and below the outer labels, mm'),
  gapX: mm(0, 200).default(2).describe('Between labels side by side, mm'),
  gapY: mm(0, 200).default(0).describe('Between labels one below the other, mm'),
  frames: z.enum(['0', '1']).default('1').describe('1: a line around each label'),
  download,
});

/** With all pieces each size that is cut gets a sheet of its own; a piece asked for alone comes as it is drawn. */
function asCut(project: Project, piece: string | undefined): Project {
  return piece === undefined ? projectAsCut(project) : project;
}

/** Files of a stored project: pieces in full size, the cut list, labels. */
export function projectFileOperations(store: ProjectStore): Operation[] {
  const read = (id: string): Project => required(store.get(id)).project;
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
      async ({ params, query }, response) => {
        const project = asCut(read(params.id!), query.piece);
        const { sound, faulty } = piecesOf(project, query.piece);
        const options = {
          paper: query.page,
          rollMm: query.roll,
          marginMm: query.margin,
          overlapMm: query.overlap,
          unfold: query.unfold === '1',
          units: query.units ?? project.units,
          leftOut: faulty.map(({ name }) => name),
        };
        const fault = fullPiecesFault(sound, options);
        if (fault !== null) throw cannot(fault);
        await sendPdf(
          response,
          fullPieceSheets(sound, project, options),
          {
            project: project.name,
            what: 'pieces in full size',
            subject: 'Print at 100 %, without scaling',
            ending: 'pieces',
          },
          query.download === '1',
        );
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/pieces-projector.pdf',
        id: 'projectorPiecesPdf',
        summary: 'Pieces in full size for a projector: light lines on dark, with a grid to set it by',
        parameters: ID,
        query: z.object({
          piece,
          unfold: z.enum(['0', '1']).default('1').describe('1: half pieces opened out'),
          mirror,
          units,
          download,
        }),
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      async ({ params, query }, response) => {
        const project = read(params.id!);
        const { sound } = piecesOf(project, query.piece);
        const options = {
          units: query.units ?? project.units,
          mirrored: query.mirror === '1',
          unfold: query.unfold === '1',
        };
        await sendPdf(
          response,
          projectorPieceSheets(sound, project, options),
          { project: project.name, what: 'for a projector', subject: 'Show at 100 %', ending: 'projector' },
          query.download === '1',
        );
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/pieces.dxf',
        id: 'piecesDxf',
        summary: 'Pieces as DXF in mm, a block each, layers by number as in ASTM D6673',
        parameters: ID,
        query: z.object({ piece, download }),
        answers: { 200: { description: 'The file', mediaType: 'image/vnd.dxf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) => {
        const project = asCut(read(params.id!), query.piece);
        const { sound, faulty } = piecesOf(project, query.piece);
        const leftOut = faulty.map(({ name: left }) => left);
        const body = piecesToDxf(sound, project, leftOut);
        const name = `${project.name}-pieces`;
        sendDownload(response, {
          type: 'image/vnd.dxf',
          name,
          ending: 'dxf',
          body,
          save: query.download === '1',
        });
      },
    ),
    ...(['csv', 'json'] as const).map((ending) =>
      operation(
        {
          method: 'get',
          path: `/api/projects/{id}/cutlist.${ending}`,
          id: `cutList${ending === 'csv' ? 'Csv' : 'Json'}`,
          summary: `The cut list, as ${ending.toUpperCase()}`,
          parameters: ID,
          query: z.object({ download }),
          answers: {
            200: {
              description: 'The table; lengths in mm',
              mediaType: ending === 'csv' ? 'text/csv' : 'application/json',
            },
          },
          problems: [404, 503],
        },
        ({ params, query }, response) => {
          const project = read(params.id!);
          sendTable(
            response,
            cutListTable(project),
            `${project.name}-cut-list`,
            ending,
            query.download === '1',
          );
        },
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
      async ({ params, query }, response) => {
        const project = read(params.id!);
        if (project.cutList.every((row) => row.plain + row.mirrored + row.onFold === 0)) {
          throw cannot('The cut list asks for nothing to cut yet.');
        }
        const options = { page: query.page, by: query.by, units: query.units ?? project.units };
        await sendPdf(
          response,
          tickSheets(project, options),
          {
            project: project.name,
            what: 'tick list',
            subject: 'What is cut and what is not',
            ending: 'ticks',
          },
          query.download === '1',
        );
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/projects/{id}/shopping.pdf',
        id: 'shoppingPdf',
        summary:
          'What to buy by the latest plans, in whole steps of the shop, with what is taken from what is there',
        parameters: ID,
        query: z.object({ page: z.enum(['a4', 'letter']).default('a4').describe('Paper'), units, download }),
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 503],
      },
      async ({ params, query }, response) => {
        const project = read(params.id!);
        const options = { page: query.page, units: query.units ?? project.units };
        await sendPdf(
          response,
          shoppingSheets(project, shoppingList(project, currentLays(project)), options),
          { project: project.name, what: 'shopping list', subject: 'What to buy', ending: 'shopping' },
          query.download === '1',
        );
      },
    ),
    ...(['csv', 'json'] as const).map((ending) =>
      operation(
        {
          method: 'get',
          path: `/api/projects/{id}/shopping.${ending}`,
          id: `shopping${ending === 'csv' ? 'Csv' : 'Json'}`,
          summary: `What to buy by the latest plans, as ${ending.toUpperCase()}`,
          parameters: ID,
          query: z.object({ download }),
          answers: {
            200: {
              description: 'The table; lengths in mm, money in hundredths',
              mediaType: ending === 'csv' ? 'text/csv' : 'application/json',
            },
          },
          problems: [404, 503],
        },
        ({ params, query }, response) => {
          const project = read(params.id!);
          const table = shoppingTable(shoppingList(project, currentLays(project)));
          sendTable(response, table, `${project.name}-shopping`, ending, query.download === '1');
        },
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
      async ({ params, query }, response) => {
        const project = read(params.id!);
        const sheet: LabelSheet = {
          page: query.page,
          rows: query.rows,
          columns: query.columns,
          marginXMm: query.marginX,
          marginYMm: query.marginY,
          gapXMm: query.gapX,
          gapYMm: query.gapY,
          frames: query.frames === '1',
        };
        const fault = labelFault(sheet);
        if (fault !== null) throw cannot(fault);
        const labels = labelsFor(project, query.material);
        if (labels.length === 0) throw cannot('The cut list asks for nothing to label.');
        if (labels.length > LIMITS.copies) {
          throw cannot(`The cut list asks for ${labels.length} pieces; at most ${LIMITS.copies} get labels.`);
        }
        await sendPdf(
          response,
          labelSheets(labels, sheet),
          { project: project.name, what: 'labels', subject: 'A label for every cut piece', ending: 'labels' },
          query.download === '1',
        );
      },
    ),
  ];
}

/** The latest layouts of every material. */
function currentLays(project: Project): ClothLay[] {
  return project.plans.filter(isCurrentPlan).flatMap(({ results }) => results);
}

/** The pieces asked for, those that can be drawn apart from those that can't. */
function piecesOf(project: Project, id: string | undefined): { sound: Piece[]; faulty: Piece[] } {
  const asked = id === undefined ? project.pieces : project.pieces.filter((entry) => entry.id === id);
  if (id !== undefined && asked.length === 0) throw notFound('The project has no piece with this id.');
  const sound: Piece[] = [];
  const faulty: Piece[] = [];
  const faults: string[] = [];
  for (const entry of asked) {
    const [fault] = checkPiece(entry).filter(({ level }) => level === 'error');
    if (fault) {
      faulty.push(entry);
      faults.push(`${entry.name}: ${fault.text}`);
    } else sound.push(entry);
  }
  if (sound.length === 0) throw cannot(faults[0] ?? 'The project has no pieces yet.');
  return { sound, faulty };
}
