import PDFDocument from 'pdfkit';
import { printCopies } from '../../pattern/output/printTile.ts';
import type { DocumentFacts, Sheet, SheetPrint, SheetWindow } from '../../pattern/output/sheet.ts';
import type { Drawing, DrawingItem, DrawnPoint, PathItem, TextItem } from '../../pattern/plan/index.ts';
import { STYLES } from '../../pattern/plan/index.ts';
import { textWidth } from '../../pattern/plan/text.ts';
import { FONT_FILES, type FontName, fontFile, fontRuns } from './fonts.ts';

const POINTS_PER_MM = 72 / 25.4;

/**
 * Longest side of a page in units of the file (ISO 32000-1, annex C: 200 inches at 72 to the inch). Beyond it
 * `UserUnit` makes the unit larger; readers that know nothing of it show such a page too small.
 */
const MOST_UNITS = 14_400;

/** The size of a unit, in 1/72 inch, that keeps a page of this size within the format's limit. */
export function userUnit(widthMm: number, heightMm: number): number {
  const units = Math.max(widthMm, heightMm) * POINTS_PER_MM;
  // Dust of binary fractions is taken off before rounding up.
  return Math.max(1, Math.ceil((units / MOST_UNITS) * 100 - 1e-9) / 100);
}

/** Every file says it is this old: the same content gives the same bytes. */
const MADE = new Date(Date.UTC(2000, 0, 1));

/** What pdfkit has and its types leave out. */
interface Inside {
  readonly _root: { readonly data: Record<string, unknown> };
  readonly _font: { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };
  openImage(address: string): { readonly width: number; readonly height: number };
  readonly page: { readonly dictionary: { readonly data: Record<string, unknown> } };
}

/**
 * The sheets as a PDF file in true size: one page a sheet, fonts embedded, contents, title and language set, and a
 * wish not to be scaled when printed. The same sheets always give the same bytes.
 */
export async function sheetsToPdf(sheets: readonly Sheet[], facts: DocumentFacts): Promise<Buffer> {
  if (sheets.length === 0) throw new RangeError('sheetsToPdf: a file needs at least one page');
  const doc = new PDFDocument({
    autoFirstPage: false,
    pdfVersion: '1.7',
    lang: facts.lang,
    // No font but ours: an empty name keeps pdfkit from adding its own.
    font: '',
    info: {
      Title: facts.title,
      Subject: facts.subject,
      Creator: 'clothlay',
      Producer: 'clothlay',
      CreationDate: MADE,
      ModDate: MADE,
    },
  });
  const chunks: Buffer[] = [];
  const ended = new Promise<void>((resolve, reject) => {
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', resolve);
    doc.on('error', reject);
  });
  const inside = doc as unknown as Inside;
  inside._root.data.ViewerPreferences = doc.ref({ PrintScaling: 'None', DisplayDocTitle: true });
  for (const name of Object.keys(FONT_FILES) as FontName[]) doc.registerFont(name, fontFile(name));
  const painter = new Painter(doc);
  for (const { drawing, prints = [], windows = [], bookmark, alsoHere = [] } of sheets) {
    const unit = userUnit(drawing.widthMm, drawing.heightMm);
    const scale = POINTS_PER_MM / unit;
    doc.addPage({ size: [drawing.widthMm * scale, drawing.heightMm * scale], margin: 0 });
    if (unit !== 1) inside.page.dictionary.data.UserUnit = unit;
    for (const entry of bookmark === undefined ? alsoHere : [bookmark, ...alsoHere])
      doc.outline.addItem(entry);
    doc.scale(scale);
    painter.paint(drawing);
    for (const print of prints) painter.paintPrint(print);
    for (const window of windows) painter.paintThrough(window);
    // Many pages take seconds: whoever else waits for this thread gets a turn after each.
    await new Promise((resolve) => setImmediate(resolve));
  }
  doc.end();
  await ended;
  return Buffer.concat(chunks);
}

/** One drawing as a file of one page. */
export function drawingToPdf(drawing: Drawing): Promise<Buffer> {
  const { title, description, lang } = drawing;
  return sheetsToPdf([{ drawing, bookmark: title }], { title, subject: description, lang });
}

class Painter {
  readonly #doc: PDFKit.PDFDocument;
  /** Whether a font has a letter, asked once. */
  readonly #known = new Map<string, boolean>();
  /** Pictures opened so far, by data address; null for what can't be read. */
  readonly #images = new Map<string, object | null>();

  constructor(doc: PDFKit.PDFDocument) {
    this.#doc = doc;
  }

  paint(drawing: Drawing): void {
    for (const layer of drawing.layers) this.#items(layer.items);
  }

  paintThrough({ drawing, x, y, clip }: SheetWindow): void {
    const doc = this.#doc;
    doc.save();
    doc.rect(clip.x, clip.y, clip.width, clip.height).clip();
    doc.translate(x, y);
    this.paint(drawing);
    doc.restore();
  }

  /** Fills with a picture over and over; with nothing where the picture can't be read. */
  paintPrint(print: SheetPrint): void {
    const doc = this.#doc;
    const image = this.#image(print.tile.picture);
    if (image === null) return;
    doc.save();
    for (const ring of print.rings) this.#trace(ring, true);
    doc.clip('even-odd');
    doc.transform(...print.matrix);
    const size = { width: print.tile.pictureWidth, height: print.tile.pictureHeight };
    for (const [x, y] of printCopies(print)) doc.image(image as unknown as string, x, y, size);
    doc.restore();
  }

  #image(address: string): object | null {
    let image = this.#images.get(address);
    if (image === undefined) {
      try {
        const opened = (this.#doc as unknown as Inside).openImage(address);
        image = opened.width > 0 && opened.height > 0 ? opened : null;
      } catch {
        image = null;
      }
      this.#images.set(address, image);
    }
    return image;
  }

  #items(items: readonly DrawingItem[]): void {
    for (const item of items) {
      if (item.kind === 'group') this.#items(item.items);
      else if (item.kind === 'path') this.#path(item);
      else this.#text(item);
    }
  }

  #path({ role, lines, closed }: PathItem): void {
    const doc = this.#doc;
    const { fill, stroke, strokeWidth, dash, cap, join } = STYLES[role];
    const drawn = lines.filter((points) => points.length > 1);
    if (drawn.length === 0 || (fill === undefined && stroke === undefined)) return;
    // The format allows no change of state within a path, so colours come first.
    if (fill !== undefined) doc.fillColor(fill);
    if (stroke !== undefined) {
      doc.strokeColor(stroke).lineWidth(strokeWidth ?? 0.2);
      doc.lineCap(cap ?? 'butt').lineJoin(join ?? 'miter');
      // pdfkit takes a list of lengths; its types know only one.
      if (dash) doc.dash(dash as unknown as number, {});
      else doc.undash();
    }
    for (const points of drawn) this.#trace(points, closed);
    if (stroke === undefined) doc.fill('even-odd');
    else if (fill === undefined) doc.stroke();
    else doc.fillAndStroke('even-odd');
  }

  #trace(points: readonly DrawnPoint[], closed: boolean): void {
    points.forEach(([x, y], i) => {
      if (i === 0) this.#doc.moveTo(x, y);
      else this.#doc.lineTo(x, y);
    });
    if (closed) this.#doc.closePath();
  }

  #text({ role, x, y, size, anchor, rotation, text }: TextItem): void {
    const doc = this.#doc;
    const { fill = '#000000', bold = false } = STYLES[role];
    const runs = fontRuns(text, bold, (font, codePoint) => this.#has(font, codePoint)).map((run) => ({
      ...run,
      width: doc.font(run.font).fontSize(size).widthOfString(run.text),
    }));
    const full = runs.reduce((sum, { width }) => sum + width, 0);
    if (full === 0) return;
    // Drawings are fitted by widths known beforehand; letters that turn out wider are set narrower, not across a line.
    const room = textWidth(text, size, role);
    const squeeze = full > room ? Math.max(0.5, room / full) : 1;
    const drawn = full * squeeze;
    let at = anchor === 'start' ? x : anchor === 'middle' ? x - drawn / 2 : x - drawn;
    doc.save();
    if (rotation !== 0) doc.rotate(rotation, { origin: [x, y] });
    doc.fillColor(fill);
    for (const run of runs) {
      doc.font(run.font).fontSize(size);
      const options = { lineBreak: false, baseline: 'alphabetic', horizontalScaling: squeeze * 100 } as const;
      doc.text(run.text, at, y, options);
      at += run.width * squeeze;
    }
    doc.restore();
  }

  #has(font: FontName, codePoint: number): boolean {
    const key = `${font} ${codePoint}`;
    let known = this.#known.get(key);
    if (known === undefined) {
      this.#doc.font(font);
      known = (this.#doc as unknown as Inside)._font.font.hasGlyphForCodePoint(codePoint);
      this.#known.set(key, known);
    }
    return known;
  }
}
