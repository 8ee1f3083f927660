import type { z } from 'zod';
import { projectAsCut } from '../../pattern/cutList/index.ts';
import { isCurrentPlan } from '../../pattern/exchange/currentPlan.ts';
import { type ClothLay, LIMITS, type Piece, type Project } from '../../pattern/exchange/project.ts';
import type { Language } from '../../pattern/language.ts';
import {
  cutListTable,
  fullPieceSheets,
  fullPiecesFault,
  type LabelSheet,
  labelFault,
  labelSheets,
  labelsFor,
  outputWords,
  piecesToDxf,
  projectorPieceSheets,
  type ShelfPlaces,
  shoppingList,
  shoppingSheets,
  shoppingTable,
  tickSheets,
} from '../../pattern/output/index.ts';
import { checkPiece } from '../../pattern/pieces/index.ts';
import type { Download } from '../http/download.ts';
import { cannotBeMade as cannot, notFound } from '../http/problem.ts';
import { pdfFile } from './pdfFile.ts';
import type {
  labelsQuery,
  listQuery,
  piecesDxfQuery,
  piecesQuery,
  projectorPiecesQuery,
  shoppingQuery,
  ticksQuery,
} from './queries.ts';
import { type Ending, tableFile } from './tableFile.ts';

/** A project, and how its file was asked for. Each maker throws a `Problem` where that file can't be. */
export interface ProjectFileInput<Query extends z.ZodType> {
  readonly project: Project;
  readonly query: z.output<Query>;
}

/** With all pieces each size that is cut gets a sheet of its own; a piece asked for alone comes as it is drawn. */
function asCut(project: Project, piece: string | undefined): Project {
  return piece === undefined ? projectAsCut(project) : project;
}

/** Pieces in full size, divided over the paper asked for. */
export function piecesPdf(
  { project, query }: ProjectFileInput<typeof piecesQuery>,
  language: Language,
): Promise<Download> {
  const words = outputWords(language).full;
  const cut = asCut(project, query.piece);
  const { sound, faulty } = piecesOf(cut, query.piece, language);
  const options = {
    paper: query.page,
    rollMm: query.roll,
    marginMm: query.margin,
    overlapMm: query.overlap,
    unfold: query.unfold === '1',
    units: query.units ?? project.units,
    leftOut: faulty.map(({ name }) => name),
    language,
  };
  const fault = fullPiecesFault(sound, options);
  if (fault !== null) throw cannot(fault);
  return pdfFile(
    fullPieceSheets(sound, cut, options),
    { project: project.name, words: { title: words.pieces, subject: words.subject }, ending: 'pieces' },
    query,
    language,
  );
}

/** Pieces in full size for a projector. */
export function projectorPiecesPdf(
  { project, query }: ProjectFileInput<typeof projectorPiecesQuery>,
  language: Language,
): Promise<Download> {
  const words = outputWords(language).projector;
  const { sound } = piecesOf(project, query.piece, language);
  const options = {
    units: query.units ?? project.units,
    mirrored: query.mirror === '1',
    unfold: query.unfold === '1',
    language,
  };
  return pdfFile(
    projectorPieceSheets(sound, project, options),
    { project: project.name, words, ending: 'projector' },
    query,
    language,
  );
}

/** Pieces as DXF; those that cannot be drawn are named in it. */
export function piecesDxf(
  { project, query }: ProjectFileInput<typeof piecesDxfQuery>,
  language: Language,
): Download {
  const cut = asCut(project, query.piece);
  const { sound, faulty } = piecesOf(cut, query.piece, language);
  const leftOut = faulty.map(({ name }) => name);
  const body = piecesToDxf(sound, cut, leftOut);
  const name = `${project.name}-pieces`;
  return { type: 'image/vnd.dxf', name, ending: 'dxf', body, save: query.download === '1' };
}

/** The tick list. */
export function ticksPdf(
  { project, query }: ProjectFileInput<typeof ticksQuery>,
  language: Language,
): Promise<Download> {
  const words = outputWords(language).ticks;
  if (project.cutList.every((row) => row.plain + row.mirrored + row.onFold === 0)) {
    throw cannot(words.nothing);
  }
  const options = { page: query.page, by: query.by, units: query.units ?? project.units, language };
  return pdfFile(
    tickSheets(project, options),
    { project: project.name, words, ending: 'ticks' },
    query,
    language,
  );
}

/** The shopping list, from the latest layouts. */
export function shoppingPdf(
  { project, query, places }: WithPlaces<typeof shoppingQuery>,
  language: Language,
): Promise<Download> {
  const words = outputWords(language).shopping;
  const options = { page: query.page, units: query.units ?? project.units, language };
  return pdfFile(
    shoppingSheets(project, shoppingList(project, currentLays(project), places), options),
    { project: project.name, words, ending: 'shopping' },
    query,
    language,
  );
}

/** Labels for the cut pieces. */
export function labelsPdf(
  { project, query }: ProjectFileInput<typeof labelsQuery>,
  language: Language,
): Promise<Download> {
  const words = outputWords(language).labels;
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
  const fault = labelFault(sheet, language);
  if (fault !== null) throw cannot(fault);
  const labels = labelsFor(project, query.material);
  if (labels.length === 0) throw cannot(words.nothing);
  if (labels.length > LIMITS.copies) {
    throw cannot(words.tooMany(labels.length, LIMITS.copies));
  }
  return pdfFile(
    labelSheets(labels, sheet, language),
    { project: project.name, words, ending: 'labels' },
    query,
    language,
  );
}

/** The cut list as a table. */
export function cutList({ project, query, ending }: ListInput): Download {
  return tableFile(cutListTable(project), `${project.name}-cut-list`, ending, query.download === '1');
}

/** The shopping list as a table. */
export function shoppingRows({
  project,
  query,
  ending,
  places,
}: WithPlaces<typeof listQuery> & { readonly ending: Ending }): Download {
  const table = shoppingTable(shoppingList(project, currentLays(project), places));
  return tableFile(table, `${project.name}-shopping`, ending, query.download === '1');
}

type WithPlaces<Query extends z.ZodType> = ProjectFileInput<Query> & {
  /** Where what is on the shelf lies. */
  readonly places: ShelfPlaces;
};

type ListInput = ProjectFileInput<typeof listQuery> & { readonly ending: Ending };

/** The latest layouts of every material. */
function currentLays(project: Project): ClothLay[] {
  return project.plans.filter(isCurrentPlan).flatMap(({ results }) => results);
}

/** The pieces asked for, those that can be drawn apart from those that can't. */
function piecesOf(
  project: Project,
  id: string | undefined,
  language: Language,
): { sound: Piece[]; faulty: Piece[] } {
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
  if (sound.length === 0) throw cannot(faults[0] ?? outputWords(language).full.noPieces);
  return { sound, faulty };
}
