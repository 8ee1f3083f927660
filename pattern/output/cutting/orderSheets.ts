import type { ClothLay, Project } from '../../exchange/project.ts';
import { type CutMark, type Drawing, drawLay } from '../../plan/index.ts';
import { type Bounds, rectangle } from '../../plan/intervals.ts';
import type { DrawingSink } from '../../plan/sink.ts';
import { cleanText, isolate, LEADING, shorten, wrap } from '../../plan/text.ts';
import { PAGE_MARGIN_MM, PAPERS, TEXT } from '../../plan/tokens.ts';
import { caution, LANG } from '../../plan/words.ts';
import { formatLength, formatSize, type ShownUnits } from '../../units/index.ts';
import { blankPage } from '../pageTable.ts';
import { clothName, type PlanSheetOptions } from '../planSheets.ts';
import { chalkLength } from '../positions.ts';
import type { Sheet, SheetWindow } from '../sheet.ts';
import { type CuttingOrder, type CuttingStretch, cuttingOrder } from './cuttingOrder.ts';
import { CUTTING, stepWords } from './words.ts';

const MAP = { height: 118, longHeight: 190, smallScale: 15, after: 3 } as const;
const STEP = { size: 3.2, box: 3.6, number: 12, text: 18, between: 1.8 } as const;

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
  const page = new Pages(title, project, options);
  page.note(CUTTING.lead);
  if (stretch.doubled) page.note(CUTTING.doubled, true);
  page.note(caution(material, cloth, project), true);
  const map = orderMap(lay, project, order, stretch, options);
  page.window(map);
  for (const step of stretch.steps) {
    const { what, at, gives } = stepWords(step, options.units, stretch.doubled);
    page.step(String(step.number), what, at, gives === '' ? '' : `→ ${gives}`);
  }
  if (stretch.places.length > 0 && project.cutting.tableMm !== null) {
    page.head(CUTTING.table(formatLength(project.cutting.tableMm, options.units)));
    stretch.places.forEach(({ fromMm, toMm, tags, hanging }, i) => {
      const at = (mm: number) => `${chalkLength(mm, options.units)} ${options.units}`;
      page.step(
        '',
        CUTTING.place(i + 1, at(fromMm), at(toMm)),
        tags.length > 0 ? CUTTING.placeCuts(tags.join(' · ')) : '',
        hanging.length > 0 ? CUTTING.placeHangs(hanging.join(' · ')) : '',
      );
    });
  }
  page.head(CUTTING.left);
  const left = leftWords(order, stretch, segment === lay.segments.length - 1, options.units);
  for (const words of left) page.note(`– ${words}`);
  return page.close();
}

/** What is left of a stretch, and after the last one of the length bought, in words with their sizes. */
export function leftWords(
  { lengthLeftMm, widthMm }: CuttingOrder,
  { left, doubled }: CuttingStretch,
  isLast: boolean,
  units: ShownUnits,
): string[] {
  const lines: string[] = [];
  if (isLast && lengthLeftMm !== null)
    lines.push(CUTTING.leftLength(formatSize(lengthLeftMm, widthMm, units)));
  for (const box of left) {
    const size = leftSize(box, doubled, units);
    const range = (a: number, b: number) => `${chalkLength(a, units)}–${chalkLength(b, units)}`;
    const at = `${range(box.minX, box.maxX)} along, ${range(box.minY, box.maxY)} across`;
    lines.push(CUTTING.leftPiece(size, at));
  }
  return lines.length > 0 ? lines : [CUTTING.leftNone];
}

/** Size of a remainder as it will lie there: on doubled cloth two of them, or one that opens out at the fold. */
function leftSize({ minX, maxX, minY, maxY }: Bounds, doubled: boolean, units: ShownUnits): string {
  if (!doubled) return formatSize(maxX - minX, maxY - minY, units);
  return minY <= ON_FOLD_MM
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
      words: leftSize(box, stretch.doubled, units),
    });
  }
  for (const { number, work } of stretch.steps) {
    if (work.kind === 'straight') {
      for (const { at, from, to } of work.lines) {
        marks.push({ kind: 'cut', segment, number, across: work.across, at, from, to });
      }
    } else if (work.kind === 'off') {
      for (const at of [work.squareMm, work.offMm]) {
        if (at !== null) marks.push({ kind: 'cut', segment, number, across: true, at, from: 0, to: depth });
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

/** Pages written from top to bottom. */
class Pages {
  readonly #title: string;
  readonly #subtitle: string;
  readonly #width: number;
  readonly #height: number;
  readonly #done: Sheet[] = [];
  #sink: DrawingSink;
  #windows: SheetWindow[] = [];
  #y = 0;

  constructor(title: string, project: Project, { page, units }: PlanSheetOptions) {
    this.#title = title;
    this.#subtitle = `${isolate(cleanText(project.name))} · ${units === 'in' ? 'inches, to 1/16' : `${units}, to 1 mm`}`;
    ({ width: this.#width, height: this.#height } = PAPERS[page]);
    this.#sink = this.#begin();
  }

  get #inner(): number {
    return this.#width - 2 * PAGE_MARGIN_MM;
  }

  #begin(): DrawingSink {
    const sink = blankPage(this.#width, this.#height);
    const y = PAGE_MARGIN_MM + TEXT.title * 0.8;
    const title = shorten(this.#title, this.#inner, TEXT.title, 'title');
    sink.text('notes', 'title', title, PAGE_MARGIN_MM, y, TEXT.title);
    sink.text(
      'notes',
      'subtitle',
      shorten(this.#subtitle, this.#inner, 3, 'subtitle'),
      PAGE_MARGIN_MM,
      y + 4.8,
      3,
    );
    this.#y = y + 6.6;
    return sink;
  }

  #room(height: number): void {
    if (this.#y + height <= this.#height - PAGE_MARGIN_MM) return;
    this.#end();
    this.#sink = this.#begin();
  }

  #end(): void {
    const first = this.#done.length === 0;
    const drawing: Drawing = {
      widthMm: this.#width,
      heightMm: this.#height,
      title: this.#title,
      description: this.#subtitle,
      lang: LANG,
      scale: 1,
      frames: [],
      layers: this.#sink.layers(),
    };
    this.#done.push({
      drawing,
      ...(first ? { bookmark: this.#title } : {}),
      ...(this.#windows.length > 0 ? { windows: this.#windows } : {}),
    });
    this.#windows = [];
  }

  note(words: string, strong = false): void {
    const role = strong ? 'note-strong' : 'note';
    for (const line of wrap(words, this.#inner, TEXT.note, role)) {
      this.#room(TEXT.note * LEADING);
      this.#y += TEXT.note * LEADING + 0.2;
      this.#sink.text('notes', role, line, PAGE_MARGIN_MM, this.#y, TEXT.note);
    }
  }

  head(words: string): void {
    this.#room(14);
    this.#y += 7;
    this.#sink.text('notes', 'fact', words, PAGE_MARGIN_MM, this.#y, 3.6);
    this.#y += 0.8;
  }

  window(drawing: Drawing): void {
    this.#room(drawing.heightMm);
    const clip = { x: PAGE_MARGIN_MM, y: this.#y, width: drawing.widthMm, height: drawing.heightMm };
    this.#windows.push({ drawing, x: clip.x, y: clip.y, clip });
    this.#y += drawing.heightMm + MAP.after;
  }

  /** A box to tick, the step's number, and its lines: what, where (strong), what comes of it. */
  step(number: string, what: string, at: string, gives: string): void {
    const { size } = STEP;
    const width = this.#inner - STEP.text;
    const lines = [
      ...wrap(what, width, size, 'note').map((text) => ({ text, role: 'note' as const })),
      ...(at === ''
        ? []
        : wrap(at, width, size, 'note-strong').map((text) => ({ text, role: 'note-strong' as const }))),
      ...(gives === ''
        ? []
        : wrap(gives, width, size, 'note').map((text) => ({ text, role: 'note' as const }))),
    ];
    this.#room(Math.min(lines.length, 8) * size * LEADING + STEP.between);
    this.#y += STEP.between;
    const box = rectangle(PAGE_MARGIN_MM, this.#y + 0.5, STEP.box, STEP.box);
    this.#sink.add('notes', { kind: 'path', role: 'ruler', lines: [box], closed: true });
    if (number !== '') {
      this.#sink.text(
        'notes',
        'cut-number',
        number,
        PAGE_MARGIN_MM + STEP.number,
        this.#y + size * LEADING,
        4,
        {
          anchor: 'end',
        },
      );
    }
    for (const { text, role } of lines) {
      this.#room(size * LEADING);
      this.#y += size * LEADING;
      this.#sink.text('notes', role, text, PAGE_MARGIN_MM + STEP.text - 3, this.#y, size);
    }
    this.#y += 0.6;
  }

  close(): Sheet[] {
    this.#end();
    return this.#done;
  }
}
