import type { ClothLay, Project } from '../../exchange/project.ts';
import { type CutMark, type Drawing, drawLay } from '../../plan/index.ts';
import type { Bounds } from '../../plan/intervals.ts';
import { PAGE_MARGIN_MM, PAPERS } from '../../plan/tokens.ts';
import { caution } from '../../plan/words.ts';
import { formatLength, formatSize, type ShownUnits } from '../../units/index.ts';
import { Pages, pageSubtitle } from '../pages.ts';
import { clothName, type PlanSheetOptions } from '../planSheets.ts';
import { chalkLength } from '../positions.ts';
import type { Sheet } from '../sheet.ts';
import { type CuttingOrder, type CuttingStretch, cuttingOrder } from './cuttingOrder.ts';
import { CUTTING, stepWords } from './words.ts';

const MAP = { height: 118, longHeight: 190, smallScale: 15 } as const;

/**
 * In which order one stretch of a lay is cut: a map with the ruler lines numbered, a box to tick for each step, where
 * the cloth is moved on a short table, and what is left. As many pages as it takes; none where nothing lies.
 */
export function orderSheets(
  lay: ClothLay,
  project: Project,
  segment: number,
  options: PlanSheetOptions,
): Sheet[] {
  const order = cuttingOrder(lay, project);
  const stretch = order.stretches[segment];
  if (!stretch || stretch.steps.length === 0) return [];
  const several = lay.segments.length > 1;
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const material = project.materials.find((entry) => entry.id === lay.materialId);
  const title = `${clothName(lay, project)}${several ? `, part ${segment + 1}` : ''}: ${CUTTING.order}`;
  const page = new Pages(title, pageSubtitle(project, options.units), options.page);
  page.note(CUTTING.lead);
  if (stretch.doubled !== 'no') page.note(CUTTING.doubled[stretch.doubled], true);
  page.note(caution(material, cloth, project), true);
  const map = orderMap(lay, project, order, stretch, options);
  page.window(map);
  for (const step of stretch.steps) {
    const { what, at, gives } = stepWords(step, options.units, stretch.doubled);
    page.step(String(step.number), what, at, gives === '' ? '' : `→ ${gives}`);
  }
  if (stretch.places.length > 0 && project.cutting.tableMm !== null) {
    page.head(CUTTING.table(formatLength(project.cutting.tableMm, options.units)));
    for (const { where, cuts, hangs } of placeWords(stretch, options.units)) {
      page.step('', where, cuts, hangs);
    }
  }
  page.head(CUTTING.left);
  const left = leftWords(order, stretch, segment === lay.segments.length - 1, options.units);
  for (const words of left) page.note(`– ${words}`);
  return page.close();
}

/** Where the cloth lies on a short table, place after place, and what is cut there. */
export function placeWords(
  { places }: CuttingStretch,
  units: ShownUnits,
): { where: string; cuts: string; hangs: string }[] {
  const at = (mm: number) => `${chalkLength(mm, units)} ${units}`;
  return places.map(({ fromMm, toMm, tags, hanging }, i) => ({
    where: CUTTING.place(i + 1, at(fromMm), at(toMm)),
    cuts: tags.length > 0 ? CUTTING.placeCuts(tags.join(' · ')) : '',
    hangs: hanging.length > 0 ? CUTTING.placeHangs(hanging.join(' · ')) : '',
  }));
}

/** What is left of a stretch, and after the last one of the length bought, in words with their sizes. */
export function leftWords(
  { lengthLeftMm, widthMm }: CuttingOrder,
  { left, originMm, ...stretch }: CuttingStretch,
  isLast: boolean,
  units: ShownUnits,
): string[] {
  const lines: string[] = [];
  if (isLast && lengthLeftMm !== null)
    lines.push(CUTTING.leftLength(formatSize(lengthLeftMm, widthMm, units)));
  for (const box of left) {
    const size = leftSize(box, stretch, units);
    const range = (a: number, b: number) => `${chalkLength(a, units)}–${chalkLength(b, units)}`;
    const at = `${range(box.minX - originMm, box.maxX - originMm)} along, ${range(box.minY, box.maxY)} across`;
    lines.push(CUTTING.leftPiece(size, at));
  }
  return lines.length > 0 ? lines : [CUTTING.leftNone];
}

/** Size of a remainder as it will lie there: on doubled cloth two of them, or one that opens out at the fold. */
function leftSize(
  { minX, maxX, minY, maxY }: Bounds,
  { doubled, spread }: Pick<CuttingStretch, 'doubled' | 'spread'>,
  units: ShownUnits,
): string {
  if (doubled !== 'yes') return formatSize(maxX - minX, maxY - minY, units);
  return spread === 'folded' && minY <= ON_FOLD_MM
    ? CUTTING.leftOpened(formatSize(maxX - minX, 2 * (maxY - minY), units))
    : CUTTING.leftTwo(formatSize(maxX - minX, maxY - minY, units));
}

const ON_FOLD_MM = 0.5;

/** What is drawn over a lay for the order of cutting. */
export function orderMarks(stretch: CuttingStretch, units: ShownUnits): CutMark[] {
  const { segment } = stretch;
  const marks: CutMark[] = [];
  const depth = Math.max(0, ...stretch.pieces.flatMap(({ outline }) => outline.map(([, y]) => y)));
  for (const box of stretch.left) {
    marks.push({
      kind: 'left',
      segment,
      box,
      words: leftSize(box, stretch, units),
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
    if (i > 0) marks.push({ kind: 'table', segment, at: fromMm, words: `table, place ${i + 1}` });
  });
  return marks;
}

function orderMap(
  lay: ClothLay,
  project: Project,
  _order: CuttingOrder,
  stretch: CuttingStretch,
  { page, units }: PlanSheetOptions,
): Drawing {
  const width = PAPERS[page].width - 2 * PAGE_MARGIN_MM;
  const draw = (height: number) =>
    drawLay(lay, project, {
      page: 'fit',
      bare: true,
      tagsOnly: true,
      units,
      room: { width, height },
      marks: orderMarks(stretch, units),
      ...(lay.segments.length > 1 ? { segment: stretch.segment } : {}),
    });
  const map = draw(MAP.height);
  return map.scale > MAP.smallScale ? draw(MAP.longHeight) : map;
}
