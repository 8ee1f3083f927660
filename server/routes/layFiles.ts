import type { Response } from 'express';
import { z } from 'zod';
import { isCurrentPlan } from '../../pattern/exchange/currentPlan.ts';
import { type ClothLay, type Project, spreadSchema } from '../../pattern/exchange/project.ts';
import {
  consumptionTable,
  cuttingTable,
  type DataTable,
  fullLaySheets,
  fullLaysFault,
  layToDxf,
  onePerCloth,
  planSheets,
  positionsTable,
  projectorLaySheets,
  toCsv,
  toRecords,
} from '../../pattern/output/index.ts';
import { sendDownload } from '../http/download.ts';
import { type Operation, operation } from '../http/operation.ts';
import { cannotBeMade, notFound } from '../http/problem.ts';
import type { Lays } from '../lays.ts';
import type { ProjectStore } from '../storage/projectStore.ts';
import { noLayout, required } from './lays.ts';
import { required as requiredProject } from './projects.ts';
import { sendPdf } from './sendPdf.ts';

export const download = z.enum(['0', '1']).optional().describe('1: to be saved as a file');
export const units = z
  .enum(['cm', 'mm', 'in'])
  .optional()
  .describe("How lengths are written; the project's own if left out");

const mm = (least: number, most: number) => z.coerce.number().min(least).max(most);
/** How things in true size are divided over paper. */
export const fullSize = {
  page: z
    .enum(['a4', 'letter', 'a3', 'tabloid', 'a1', 'a0', 'both', 'roll', 'one'])
    .default('a4')
    .describe(
      'Paper to divide over; `both`: sheets that fit A4 and Letter; `roll`: paper from a roll, in parts of at most 5080 mm; `one`: one sheet each, as large as it takes',
    ),
  roll: mm(100, 5080).default(914.4).describe('Width of the roll of paper, mm'),
  margin: mm(0, 200).default(10).describe('Blank edge of every sheet, mm'),
  overlap: mm(0, 100).default(0).describe('How far neighbouring sheets show the same, mm'),
};

/** Of a project: which plan. A lay is a plan by itself. */
const ofPlan = { plan: z.string().max(64).optional().describe('Id of a kept plan; the latest if left out') };
const which = {
  cloth: z.string().max(64).optional().describe('Id of the cloth; every cloth if left out'),
  material: z.string().max(64).optional().describe('Id of the material'),
  spread: spreadSchema
    .optional()
    .describe(
      'How the cloth is spread. If left out, what is cut from has of each cloth the layout that is the cheapest, else the shortest; a table of consumption has all',
    ),
};
const tableQuery = z.object({ ...which, download });
const planQuery = z.object({
  ...which,
  page: z.enum(['a4', 'letter']).default('a4').describe('Paper'),
  units,
  download,
});
export const mirror = z
  .enum(['0', '1'])
  .default('0')
  .describe('1: turned over, for cloth that lies face down');
const projectorLayQuery = z.object({ ...which, mirror, units, download });
const fullQuery = z.object({ ...which, ...fullSize, units, download });
type Which = Pick<z.output<typeof tableQuery>, 'cloth' | 'material' | 'spread'> & {
  readonly plan?: string | undefined;
};

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
  readonly problems: readonly number[];
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
export function layFileOperations(lays: Lays): Operation[] {
  return filesOf({
    path: '/api/lays/{id}',
    prefix: '',
    idMeans: 'Id of the lay',
    of: '',
    problems: [],
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
export function storedLayFileOperations(store: ProjectStore): Operation[] {
  return filesOf({
    path: '/api/projects/{id}',
    prefix: 'project',
    idMeans: 'Id of the project',
    of: ', from the plans stored in the project',
    problems: [503],
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

function filesOf(source: LaySource): Operation[] {
  const { path: base, prefix, of, find } = source;
  /** What is cut from: one layout a cloth, unless a way to spread it is asked for. */
  const findOne = (id: string, query: Which): ReturnType<LaySource['find']> => {
    const { project, found } = find(id, query);
    return { project, found: query.spread === undefined ? onePerCloth(project, found) : found };
  };
  const ID = { id: source.idMeans };
  const asked = <Shape extends z.ZodRawShape>(query: z.ZodObject<Shape>): z.ZodObject<Shape> =>
    source.ofPlan ? (query.extend(ofPlan) as unknown as z.ZodObject<Shape>) : query;
  const named = (id: string): string =>
    prefix === '' ? id : `${prefix}${id.charAt(0).toUpperCase()}${id.slice(1)}`;
  const tableOperations = (
    name: 'positions' | 'consumption' | 'cutting',
    summary: string,
    table: (found: readonly ClothLay[], project: Project) => DataTable,
  ): Operation[] =>
    (['csv', 'json'] as const).map((ending) =>
      operation(
        {
          method: 'get',
          path: `${base}/${name}.${ending}`,
          id: named(`${name}${ending === 'csv' ? 'Csv' : 'Json'}`),
          summary: `${summary}, as ${ending.toUpperCase()}${of}`,
          parameters: ID,
          query: asked(tableQuery),
          answers: {
            200: {
              description: 'The table; lengths in mm',
              mediaType: ending === 'csv' ? 'text/csv' : 'application/json',
            },
          },
          problems: [404, ...source.problems],
        },
        ({ params, query }, response) => {
          const { project, found } = (name === 'consumption' ? find : findOne)(params.id!, query);
          const saved = query.download === '1';
          sendTable(response, table(found, project), `${project.name}-${name}`, ending, saved);
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
        problems: [404, ...source.problems],
      },
      async ({ params, query }, response) => {
        const { project, found } = findOne(params.id!, query);
        const options = { page: query.page, units: query.units ?? project.units };
        const sheets = found.flatMap((lay) => planSheets(lay, project, options));
        await sendPdf(
          response,
          sheets,
          { project: project.name, what: 'lay plan', subject: 'Lay plans to cut from', ending: 'plan' },
          query.download === '1',
        );
      },
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
        problems: [404, 422, ...source.problems],
      },
      async ({ params, query }, response) => {
        const { project, found } = findOne(params.id!, query);
        const options = {
          paper: query.page,
          rollMm: query.roll,
          marginMm: query.margin,
          overlapMm: query.overlap,
          units: query.units ?? project.units,
        };
        const fault = fullLaysFault(found, project, options);
        if (fault !== null) throw cannotBeMade(fault);
        await sendPdf(
          response,
          fullLaySheets(found, project, options),
          {
            project: project.name,
            what: 'lays in full size',
            subject: 'Print at 100 %, without scaling',
            ending: 'full-size',
          },
          query.download === '1',
        );
      },
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
        problems: [404, 422, ...source.problems],
      },
      async ({ params, query }, response) => {
        const { project, found } = findOne(params.id!, query);
        const options = { units: query.units ?? project.units, mirrored: query.mirror === '1' };
        const sheets = projectorLaySheets(found, project, options);
        if (sheets.length < 2) throw cannotBeMade('No piece lies on the cloth yet.');
        await sendPdf(
          response,
          sheets,
          { project: project.name, what: 'for a projector', subject: 'Show at 100 %', ending: 'projector' },
          query.download === '1',
        );
      },
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
        problems: [404, ...source.problems],
      },
      ({ params, query }, response) => {
        const { project, found } = findOne(params.id!, query);
        const lay = found[0] as ClothLay;
        const name = `${project.name}-${lay.clothId}-${lay.spread}`;
        const body = layToDxf(lay, project);
        sendDownload(response, {
          type: 'image/vnd.dxf',
          name,
          ending: 'dxf',
          body,
          save: query.download === '1',
        });
      },
    ),
    ...tableOperations('positions', 'Where every piece lies', (found, project) =>
      positionsTable(found, project),
    ),
    ...tableOperations(
      'cutting',
      'In which order each lay is cut: a row for each ruler line and each piece',
      (found, project) => cuttingTable(found, project),
    ),
    ...tableOperations('consumption', 'What each lay takes of its cloth', (found, project) =>
      consumptionTable(found, project),
    ),
  ];
}

export function sendTable(
  response: Response,
  table: DataTable,
  name: string,
  ending: 'csv' | 'json',
  save: boolean,
): void {
  const csv = ending === 'csv';
  sendDownload(response, {
    type: csv ? 'text/csv; charset=utf-8; header=present' : 'application/json; charset=utf-8',
    name,
    ending,
    body: csv ? toCsv(table) : JSON.stringify(toRecords(table)),
    save,
  });
}
