import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Project } from '../../pattern/exchange/project.ts';
import { USUAL_LANGUAGE } from '../../pattern/language.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';
import {
  consumptionTable,
  cutListTable,
  cuttingTable,
  laysToCut,
  layToDxf,
  planSheets,
  positionsTable,
  toCsv,
} from '../../pattern/output/index.ts';
import { drawingToSvg, drawLay } from '../../pattern/plan/index.ts';
import { sheetsToPdf } from '../pdf/sheetsToPdf.ts';
import type { Arguments } from './arguments.ts';

/**
 * Writes all files of a finished lay into a folder, and gives their names. Files of the same name are replaced. Where
 * ways to spread a cloth were compared, the plan, positions and order are those of the best; drawings, DXF and the
 * table of consumption are there for each.
 */
export async function writeFiles(
  folder: string,
  project: Project,
  { results, notices }: LayProgress,
  { page, units = project.units }: Pick<Arguments, 'page' | 'units'>,
): Promise<string[]> {
  mkdirSync(folder, { recursive: true });
  const names: string[] = [];
  const write = (name: string, body: string | Buffer) => {
    writeFileSync(join(folder, name), body);
    names.push(name);
  };
  const taken = laysToCut(project, results);
  write('lay.json', `${JSON.stringify({ results, notices }, null, 1)}\n`);
  write('cut-list.csv', toCsv(cutListTable(project)));
  write('positions.csv', toCsv(positionsTable(taken, project)));
  write('cutting.csv', toCsv(cuttingTable(taken, project)));
  write('consumption.csv', toCsv(consumptionTable(results, project)));
  for (const lay of results) {
    const name = `${lay.clothId}-${lay.spread}`;
    write(`${name}.svg`, drawingToSvg(drawLay(lay, project, { page, units })));
    write(`${name}.dxf`, layToDxf(lay, project));
  }
  const sheets = taken.flatMap((lay) => planSheets(lay, project, { page, units }));
  if (sheets.length > 0) {
    const facts = {
      title: `${project.name}: lay plan`,
      subject: 'Lay plans to cut from',
      lang: USUAL_LANGUAGE,
    };
    write('plan.pdf', await sheetsToPdf(sheets, facts));
  }
  return names;
}
