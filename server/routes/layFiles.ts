import type { z } from 'zod';
import { isCurrentPlan } from '../../pattern/exchange/currentPlan.ts';
import type { ClothLay, Project } from '../../pattern/exchange/project.ts';
import { laysToCut } from '../../pattern/output/index.ts';
import type { LayTable } from '../files/layFiles.ts';
import type { MakeFile } from '../files/makers.ts';
import { fullQuery, ofPlan, planQuery, projectorLayQuery, tableQuery, type Which } from '../files/queries.ts';
import { type Operation, operation } from '../http/operation.ts';
import { notFound } from '../http/problem.ts';
import type { Lays } from '../lays.ts';
import type { ProjectStore } from '../storage/projectStore.ts';
import { noLayout, required } from './lays.ts';
import { required as requiredProject } from './projects.ts';
import { sendFile } from './sendFile.ts';

/** Where layouts come from, and at which addresses their files stand. */
interface LaySource {
  /** Such as `/api/lays/{id}`. */
  readonly path: string;
  /** Ids of the operations begin with it; '' for those of a lay. */
  readonly prefix: string;
  /** What `{id}` is. */
  readonly idMeans: string;
  /** What the summaries say of where the layouts come from; '' for a lay. */
  readonly of: string;
  /** Whether it holds several plans to choose from. */
  readonly ofPlan: boolean;
  /** @throws a problem for an unknown id, or where no layout is as asked for */
  readonly find: (id: string, query: Which) => { project: Project; found: readonly ClothLay[] };
}

const isAsked =
  (query: Which) =>
  (lay: ClothLay): boolean =>
    (query.cloth === undefined || lay.clothId === query.cloth) &&
    (query.material === undefined || lay.materialId === query.material) &&
    (query.spread === undefined || lay.spread === query.spread);

/** Files of a lay: to cut from, and for other programs. */
export function layFileOperations(lays: Lays, make: MakeFile): Operation[] {
  return filesOf(make, {
    path: '/api/lays/{id}',
    prefix: '',
    idMeans: 'Id of the lay',
    of: '',
    ofPlan: false,
    find: (id, query) => {
      const { project, state } = required(lays.get(id));
      const found = state.results.filter(isAsked(query));
      if (found.length === 0) throw noLayout(state.state);
      return { project, found };
    },
  });
}

/**
 * The same files from the layouts that a stored project holds, for when the server has forgotten the lay. Drawn with
 * the pieces and cloths as the project has them now: whether they changed since, the page knows and says.
 */
export function storedLayFileOperations(store: ProjectStore, make: MakeFile): Operation[] {
  return filesOf(make, {
    path: '/api/projects/{id}',
    prefix: 'project',
    idMeans: 'Id of the project',
    of: ', from the plans stored in the project',
    ofPlan: true,
    find: (id, query) => {
      const { project } = requiredProject(store.get(id));
      const plans =
        query.plan === undefined
          ? project.plans.filter(isCurrentPlan)
          : project.plans.filter((plan) => plan.id === query.plan);
      const found = plans
        .flatMap((plan) => plan.results)
        // A cloth or material that was removed since has no layout any longer.
        .filter((lay) => project.cloths.some((cloth) => cloth.id === lay.clothId))
        .filter(isAsked(query));
      if (found.length === 0) throw notFound('The project holds no such layout: lay it out first.');
      return { project, found };
    },
  });
}

function filesOf(make: MakeFile, source: LaySource): Operation[] {
  const { path: base, prefix, of, find } = source;
  /** What is cut from: of each material one layout of a roll, unless a way to spread it is asked for. */
  const findOne = (id: string, query: Which): ReturnType<LaySource['find']> => {
    const { project, found } = find(id, query);
    return { project, found: query.spread === undefined ? laysToCut(project, found) : found };
  };
  const ID = { id: source.idMeans };
  const asked = <Shape extends z.ZodRawShape>(query: z.ZodObject<Shape>): z.ZodObject<Shape> =>
    source.ofPlan ? (query.extend(ofPlan) as unknown as z.ZodObject<Shape>) : query;
  const named = (id: string): string =>
    prefix === '' ? id : `${prefix}${id.charAt(0).toUpperCase()}${id.slice(1)}`;
  const tableOperations = (table: LayTable, summary: string): Operation[] =>
    (['csv', 'json'] as const).map((ending) =>
      operation(
        {
          method: 'get',
          path: `${base}/${table}.${ending}`,
          id: named(`${table}${ending === 'csv' ? 'Csv' : 'Json'}`),
          summary: `${summary}, as ${ending.toUpperCase()}${of}`,
          parameters: ID,
          query: asked(tableQuery),
          answers: {
            200: {
              description: 'The table; lengths in mm',
              mediaType: ending === 'csv' ? 'text/csv' : 'application/json',
            },
          },
          problems: [404, 422, 503],
        },
        ({ params, query }, response) => {
          const subject = (table === 'consumption' ? find : findOne)(params.id!, query);
          return sendFile(response, make, 'layTable', { ...subject, query, table, ending });
        },
      ),
    );
  return [
    operation(
      {
        method: 'get',
        path: `${base}/plan.pdf`,
        id: named('planPdf'),
        summary: `Plans to cut from, with the positions to chalk: one of every cloth, or those chosen${of}`,
        parameters: ID,
        query: asked(planQuery),
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'planPdf', { ...findOne(params.id!, query), query }),
    ),
    operation(
      {
        method: 'get',
        path: `${base}/full.pdf`,
        id: named('fullLayPdf'),
        summary: `Lays in full size, divided over sheets or on one large sheet each${of}`,
        parameters: ID,
        query: asked(fullQuery),
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'fullLayPdf', { ...findOne(params.id!, query), query }),
    ),
    operation(
      {
        method: 'get',
        path: `${base}/projector.pdf`,
        id: named('projectorLayPdf'),
        summary: `Lays in full size for a projector: light lines on dark, with a grid to set it by${of}`,
        parameters: ID,
        query: asked(projectorLayQuery),
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'projectorLayPdf', { ...findOne(params.id!, query), query }),
    ),
    operation(
      {
        method: 'get',
        path: `${base}/layout.dxf`,
        id: named('layoutDxf'),
        summary: `The lay of one cloth as DXF in mm, layers by number as in ASTM D6673${of}`,
        parameters: ID,
        query: asked(tableQuery),
        answers: { 200: { description: 'The file', mediaType: 'image/vnd.dxf' } },
        problems: [404, 422, 503],
      },
      ({ params, query }, response) =>
        sendFile(response, make, 'layoutDxf', { ...findOne(params.id!, query), query }),
    ),
    ...tableOperations('positions', 'Where every piece lies'),
    ...tableOperations('cutting', 'In which order each lay is cut: a row for each ruler line and each piece'),
    ...tableOperations('consumption', 'What each lay takes of its cloth'),
  ];
}
