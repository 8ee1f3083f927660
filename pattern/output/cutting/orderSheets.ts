import type { ClothLay, Project } from '../../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../../language.ts';
import { caution } from '../../plan/caution.ts';
import { type CutMark, type Drawing, drawLay } from '../../plan/index.ts';
import type { Bounds } from '../../plan/intervals.ts';
import { PAGE_MARGIN_MM, PAPERS } from '../../plan/tokens.ts';
import { formatLength, formatSize, type ShownUnits, unitName } from '../../units/index.ts';
import { Pages, pageSubtitle } from '../pages.ts';
import type { PageTable } from '../pageTable.ts';
import { clothName, type PlanSheetOptions } from '../planSheets.ts';
import { chalkLength } from '../positions.ts';
import type { Sheet } from '../sheet.ts';
import { outputWords } from '../words/index.ts';
import { type CuttingOrder, type CuttingStretch, cuttingOrder } from './cuttingOrder.ts';
import { stepWords } from './stepWords.ts';
import { cuttingWords } from './words/index.ts';

const MAP = { height: 118, longHeight: 190, smallScale: 15 } as const;

/** The first place on a short table stands with its heading. */
const FIRST_PLACE_MM = 18;

/**
 * In which order one stretch of a lay is cut: a map with the ruler lines numbered, a box to tick for each step, where
 * the cloth is moved on a short table, and what is left. As many pages as it takes; none where nothing lies.
 * @param positions where its pieces lie, to follow on the same page if there is room
 */
export function orderSheets(
  lay: ClothLay,
  project: Project,
  segment: number,
  options: PlanSheetOptions,
  positions?: PageTable,
): Sheet[] {
  const { language = USUAL_LANGUAGE, units } = options;
  const words = cuttingWords(language);
  const order = cuttingOrder(lay, project);
  const stretch = order.stretches[segment];
  if (!stretch || stretch.steps.length === 0) return [];
  const several = lay.segments.length > 1;
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const material = project.materials.find((entry) => entry.id === lay.materialId);
  const whole = clothName(lay, project, language);
  const title = words.order(several ? outputWords(language).part(whole, segment + 1) : whole);
  const page = new Pages(title, pageSubtitle(project, units, language), options.page, language);
  page.note(words.lead);
  if (stretch.doubled !== 'no') page.note(words.doubled[stretch.doubled], true);
  page.note(caution(material, cloth, project, language), true);
  const map = orderMap(lay, project, order, stretch, options);
  page.window(map);
  for (const step of stretch.steps) {
    const { what, at, gives } = stepWords(step, units, stretch.doubled, language);
    page.step(String(step.number), what, at, gives === '' ? '' : `→ ${gives}`);
  }
  if (stretch.places.length > 0 && project.cutting.tableMm !== null) {
    page.head(words.table(formatLength(project.cutting.tableMm, units, language)), FIRST_PLACE_MM);
    for (const { where, cuts, hangs } of placeWords(stretch, units, language)) {
      page.step('', where, cuts, hangs);
    }
  }
  page.head(words.left);
  const left = leftWords(order, stretch, segment === lay.segments.length - 1, units, language);
  for (const line of left) page.note(`– ${line}`);
  if (positions) page.table(outputWords(language).positions.heading, positions);
  return page.close();
}

/** Where the cloth lies on a short table, place after place, and what is cut there. */
export function placeWords(
  { places }: CuttingStretch,
  units: ShownUnits,
  language: Language = USUAL_LANGUAGE,
): { where: string; cuts: string; hangs: string }[] {
  const words = cuttingWords(language);
  const at = (mm: number) => `${chalkLength(mm, units, language)} ${unitName(units, language)}`;
  return places.map(({ fromMm, toMm, tags, hanging }, i) => ({
    where: words.place(i + 1, at(fromMm), at(toMm)),
    cuts: tags.length > 0 ? words.placeCuts(tags.join(' · ')) : '',
    hangs: hanging.length > 0 ? words.placeHangs(hanging.join(' · ')) : '',
  }));
}

/** What is left of a stretch, and after the last one of the length bought, in words with their sizes. */
export function leftWords(
  { lengthLeftMm, widthMm }: CuttingOrder,
  { left, originMm, ...stretch }: CuttingStretch,
  isLast: boolean,
  units: ShownUnits,
  language: Language = USUAL_LANGUAGE,
): string[] {
  const words = cuttingWords(language);
  const lines: string[] = [];
  if (isLast && lengthLeftMm !== null)
    lines.push(words.leftLength(formatSize(lengthLeftMm, widthMm, units, language)));
  for (const box of left) {
    const size = leftSize(box, stretch, units, language);
    const range = (a: number, b: number) =>
      `${chalkLength(a, units, language)}–${chalkLength(b, units, language)}`;
    const along = range(box.minX - originMm, box.maxX - originMm);
    lines.push(words.leftPiece(size, along, range(box.minY, box.maxY)));
  }
  return lines.length > 0 ? lines : [words.leftNone];
}

/** Size of a remainder as it will lie there: on doubled cloth two of them, or one that opens out at the fold. */
function leftSize(
  { minX, maxX, minY, maxY }: Bounds,
  { doubled, spread }: Pick<CuttingStretch, 'doubled' | 'spread'>,
  units: ShownUnits,
  language: Language,
): string {
  const words = cuttingWords(language);
  if (doubled !== 'yes') return formatSize(maxX - minX, maxY - minY, units, language);
  return spread === 'folded' && minY <= ON_FOLD_MM
    ? words.leftOpened(formatSize(maxX - minX, 2 * (maxY - minY), units, language))
    : words.leftTwo(formatSize(maxX - minX, maxY - minY, units, language));
}

const ON_FOLD_MM = 0.5;

/** What is drawn over a lay for the order of cutting. */
export function orderMarks(
  stretch: CuttingStretch,
  units: ShownUnits,
  language: Language = USUAL_LANGUAGE,
): CutMark[] {
  const { segment } = stretch;
  const marks: CutMark[] = [];
  const depth = Math.max(0, ...stretch.pieces.flatMap(({ outline }) => outline.map(([, y]) => y)));
  for (const box of stretch.left) {
    marks.push({
      kind: 'left',
      segment,
      box,
      words: leftSize(box, stretch, units, language),
    });
  }
  for (const { number, work } of stretch.steps) {
    if (work.kind === 'straight') {
      for (const { at, from, to } of work.lines) {
        marks.push({ kind: 'cut', segment, number, across: work.across, at, from, to });
      }
    } else if (work.kind === 'off') {
      for (const at of [...work.squareMm, ...(work.offMm === null ? [] : [work.offMm])]) {
        marks.push({ kind: 'cut', segment, number, across: true, at, from: 0, to: depth });
      }
    }
  }
  stretch.places.forEach(({ fromMm }, i) => {
    if (i > 0)
      marks.push({ kind: 'table', segment, at: fromMm, words: cuttingWords(language).placeMark(i + 1) });
  });
  return marks;
}

function orderMap(
  lay: ClothLay,
  project: Project,
  _order: CuttingOrder,
  stretch: CuttingStretch,
  { page, units, language = USUAL_LANGUAGE }: PlanSheetOptions,
): Drawing {
  const width = PAPERS[page].width - 2 * PAGE_MARGIN_MM;
  const draw = (height: number) =>
    drawLay(lay, project, {
      page: 'fit',
      bare: true,
      tagsOnly: true,
      units,
      language,
      room: { width, height },
      marks: orderMarks(stretch, units, language),
      ...(lay.segments.length > 1 ? { segment: stretch.segment } : {}),
    });
  const map = draw(MAP.height);
  return map.scale > MAP.smallScale ? draw(MAP.longHeight) : map;
}
