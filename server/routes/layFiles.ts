import type { Response } from 'express';
import { z } from 'zod';
import type { ClothLay } from '../../pattern/exchange/project.ts';
import {
  consumptionTable,
  type DataTable,
  fullLaySheets,
  fullLaysFault,
  layToDxf,
  planSheets,
  positionsTable,
  toCsv,
  toRecords,
} from '../../pattern/output/index.ts';
import { LANG } from '../../pattern/plan/words.ts';
import { sendDownload } from '../http/download.ts';
import { type Operation, operation } from '../http/operation.ts';
import { cannotBeMade } from '../http/problem.ts';
import type { Lays, LayView } from '../lays.ts';
import { sheetsToPdf } from '../pdf/sheetsToPdf.ts';
import { noLayout, required } from './lays.ts';

const ID = { id: 'Id of the lay' };

export const download = z.enum(['0', '1']).optional().describe('1: to be saved as a file');
export const units = z
  .enum(['cm', 'mm', 'in'])
  .optional()
  .describe("How lengths are written; the project's own if left out");

const mm = (least: number, most: number) => z.coerce.number().min(least).max(most);
/** How things in true size are divided over paper. */
export const fullSize = {
  page: z
    .enum(['a4', 'letter', 'a3', 'tabloid', 'both', 'one'])
    .default('a4')
    .describe(
      'Paper to divide over; `both`: sheets that fit A4 and Letter; `one`: one sheet each, as large as it takes',
    ),
  margin: mm(0, 200).default(10).describe('Blank edge of every sheet, mm'),
  overlap: mm(0, 100).default(0).describe('How far neighbouring sheets show the same, mm'),
};

const which = {
  cloth: z.string().max(64).optional().describe('Id of the cloth; every cloth if left out'),
  material: z.string().max(64).optional().describe('Id of the material'),
  spread: z.enum(['single', 'folded']).optional().describe('How the cloth is spread'),
};
const tableQuery = z.object({ ...which, download });
const planQuery = z.object({
  ...which,
  page: z.enum(['a4', 'letter']).default('a4').describe('Paper'),
  units,
  download,
});
const fullQuery = z.object({ ...which, ...fullSize, units, download });
type Which = Pick<z.output<typeof tableQuery>, 'cloth' | 'material' | 'spread'>;

/** Files of a lay: to cut from, and for other programs. */
export function layFileOperations(lays: Lays): Operation[] {
  const find = (id: string, query: Which): { view: LayView; found: ClothLay[] } => {
    const view = required(lays.get(id));
    const found = view.state.results.filter(
      (lay) =>
        (query.cloth === undefined || lay.clothId === query.cloth) &&
        (query.material === undefined || lay.materialId === query.material) &&
        (query.spread === undefined || lay.spread === query.spread),
    );
    if (found.length === 0) throw noLayout(view.state.state);
    return { view, found };
  };
  const tableOperations = (
    name: 'positions' | 'consumption',
    summary: string,
    table: (found: ClothLay[], view: LayView) => DataTable,
  ): Operation[] =>
    (['csv', 'json'] as const).map((ending) =>
      operation(
        {
          method: 'get',
          path: `/api/lays/{id}/${name}.${ending}`,
          id: `${name}${ending === 'csv' ? 'Csv' : 'Json'}`,
          summary: `${summary}, as ${ending.toUpperCase()}`,
          parameters: ID,
          query: tableQuery,
          answers: {
            200: {
              description: 'The table; lengths in mm',
              mediaType: ending === 'csv' ? 'text/csv' : 'application/json',
            },
          },
          problems: [404],
        },
        ({ params, query }, response) => {
          const { view, found } = find(params.id!, query);
          const { name: project } = view.project;
          sendTable(response, table(found, view), `${project}-${name}`, ending, query.download === '1');
        },
      ),
    );
  return [
    operation(
      {
        method: 'get',
        path: '/api/lays/{id}/plan.pdf',
        id: 'planPdf',
        summary: 'Plans to cut from, with the positions to chalk: every cloth, or those chosen',
        parameters: ID,
        query: planQuery,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404],
      },
      async ({ params, query }, response) => {
        const { view, found } = find(params.id!, query);
        const { project } = view;
        const options = { page: query.page, units: query.units ?? project.units };
        const sheets = found.flatMap((lay) => planSheets(lay, project, options));
        const body = await sheetsToPdf(sheets, {
          title: `${project.name}: lay plan`,
          subject: 'Lay plans to cut from',
          lang: LANG,
        });
        const name = `${project.name}-plan`;
        sendDownload(response, {
          type: 'application/pdf',
          name,
          ending: 'pdf',
          body,
          save: query.download === '1',
        });
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/lays/{id}/full.pdf',
        id: 'fullLayPdf',
        summary: 'Lays in full size, divided over sheets or on one large sheet each',
        parameters: ID,
        query: fullQuery,
        answers: { 200: { description: 'The file', mediaType: 'application/pdf' } },
        problems: [404, 422],
      },
      async ({ params, query }, response) => {
        const { view, found } = find(params.id!, query);
        const { project } = view;
        const options = {
          paper: query.page,
          marginMm: query.margin,
          overlapMm: query.overlap,
          units: query.units ?? project.units,
        };
        const fault = fullLaysFault(found, project, options);
        if (fault !== null) throw cannotBeMade(fault);
        const body = await sheetsToPdf(fullLaySheets(found, project, options), {
          title: `${project.name}: lays in full size`,
          subject: 'Print at 100 %, without scaling',
          lang: LANG,
        });
        const name = `${project.name}-full-size`;
        sendDownload(response, {
          type: 'application/pdf',
          name,
          ending: 'pdf',
          body,
          save: query.download === '1',
        });
      },
    ),
    operation(
      {
        method: 'get',
        path: '/api/lays/{id}/layout.dxf',
        id: 'layoutDxf',
        summary: 'The lay of one cloth as DXF in mm, layers by number as in ASTM D6673',
        parameters: ID,
        query: tableQuery,
        answers: { 200: { description: 'The file', mediaType: 'image/vnd.dxf' } },
        problems: [404],
      },
      ({ params, query }, response) => {
        const { view, found } = find(params.id!, query);
        const lay = found[0] as ClothLay;
        const name = `${view.project.name}-${lay.clothId}-${lay.spread}`;
        const body = layToDxf(lay, view.project);
        sendDownload(response, {
          type: 'image/vnd.dxf',
          name,
          ending: 'dxf',
          body,
          save: query.download === '1',
        });
      },
    ),
    ...tableOperations('positions', 'Where every piece lies', (found, { project }) =>
      positionsTable(found, project),
    ),
    ...tableOperations('consumption', 'What each lay takes of its cloth', (found, { project }) =>
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
