import type { z } from 'zod';
import type { ClothLay, Project } from '../../pattern/exchange/project.ts';
import type { Language } from '../../pattern/language.ts';
import {
  consumptionTable,
  cuttingTable,
  type DataTable,
  fullLaySheets,
  fullLaysFault,
  layToDxf,
  outputWords,
  planSheets,
  positionsTable,
  projectorLaySheets,
} from '../../pattern/output/index.ts';
import { drawLay } from '../../pattern/plan/drawLay.ts';
import { drawingToSvg } from '../../pattern/plan/svg.ts';
import type { Download } from '../http/download.ts';
import { cannotBeMade } from '../http/problem.ts';
import { pdfFile } from './pdfFile.ts';
import type { drawingQuery, fullQuery, planQuery, projectorLayQuery, tableQuery } from './queries.ts';
import { type Ending, tableFile } from './tableFile.ts';

/** Layouts of a project, and how they were asked for. */
export interface LayFileInput<Query extends z.ZodType> {
  readonly project: Project;
  readonly found: readonly ClothLay[];
  readonly query: z.output<Query>;
}

/** The lay plans as sheets of the paper asked for. */
export function planPdf(
  { project, found, query }: LayFileInput<typeof planQuery>,
  language: Language,
): Promise<Download> {
  const options = { page: query.page, units: query.units ?? project.units, language };
  const sheets = found.flatMap((lay) => planSheets(lay, project, options));
  return pdfFile(
    sheets,
    { project: project.name, words: outputWords(language).plan, ending: 'plan' },
    query,
    language,
  );
}

/** @throws Problem 422 where the paper is too small for its margins */
export function fullLayPdf(
  { project, found, query }: LayFileInput<typeof fullQuery>,
  language: Language,
): Promise<Download> {
  const words = outputWords(language).full;
  const options = {
    paper: query.page,
    rollMm: query.roll,
    marginMm: query.margin,
    overlapMm: query.overlap,
    units: query.units ?? project.units,
    language,
  };
  const fault = fullLaysFault(found, project, options);
  if (fault !== null) throw cannotBeMade(fault);
  return pdfFile(
    fullLaySheets(found, project, options),
    { project: project.name, words: { title: words.lays, subject: words.subject }, ending: 'full-size' },
    query,
    language,
  );
}

/** @throws Problem 422 where nothing lies on the cloth */
export function projectorLayPdf(
  { project, found, query }: LayFileInput<typeof projectorLayQuery>,
  language: Language,
): Promise<Download> {
  const { projector, full } = outputWords(language);
  const options = { units: query.units ?? project.units, mirrored: query.mirror === '1', language };
  const sheets = projectorLaySheets(found, project, options);
  if (sheets.length < 2) throw cannotBeMade(full.nothing);
  return pdfFile(sheets, { project: project.name, words: projector, ending: 'projector' }, query, language);
}

/** Of the first layout. */
export function layoutDxf({ project, found, query }: LayFileInput<typeof tableQuery>): Download {
  const lay = found[0]!;
  return {
    type: 'image/vnd.dxf',
    name: `${project.name}-${lay.clothId}-${lay.spread}`,
    ending: 'dxf',
    body: layToDxf(lay, project),
    save: query.download === '1',
  };
}

/** Of the first layout. */
export function layoutSvg(
  { project, found, query }: LayFileInput<typeof drawingQuery>,
  language: Language,
): Download {
  const lay = found[0]!;
  const drawing = drawLay(lay, project, {
    page: query.page,
    units: query.units ?? project.units,
    language,
  });
  return {
    type: 'image/svg+xml; charset=utf-8',
    name: `lay-${lay.clothId}-${lay.spread}`,
    ending: 'svg',
    body: drawingToSvg(drawing),
    save: query.download === '1',
  };
}

const TABLES = {
  positions: positionsTable,
  cutting: cuttingTable,
  consumption: consumptionTable,
} satisfies Record<string, (found: readonly ClothLay[], project: Project) => DataTable>;

export type LayTable = keyof typeof TABLES;

/** One of the tables of the layouts, as CSV or JSON. */
export function layTable({
  project,
  found,
  query,
  table,
  ending,
}: LayFileInput<typeof tableQuery> & { readonly table: LayTable; readonly ending: Ending }): Download {
  const name = `${project.name}-${table}`;
  return tableFile(TABLES[table](found, project), name, ending, query.download === '1');
}
