import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Whether poppler's tools are installed. Where CI is set they must be, so that nothing is skipped unseen. */
export const hasPoppler = (() => {
  try {
    execFileSync('pdftoppm', ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    return process.env.CI !== undefined;
  }
})();

/** Runs one of poppler's tools on a file with this content. `$FILE` in the arguments is its path. */
export function poppler(tool: string, pdf: Uint8Array, args: readonly string[]): Buffer {
  const folder = mkdtempSync(join(tmpdir(), 'clothlay-pdf-'));
  const file = join(folder, 'file.pdf');
  try {
    writeFileSync(file, pdf);
    return execFileSync(
      tool,
      args.map((arg) => (arg === '$FILE' ? file : arg)),
      { maxBuffer: 256 * 2 ** 20, stdio: ['ignore', 'pipe', 'pipe'] },
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A part of a page as grey values, 0 black. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly dpi: number;
  readonly grey: Uint8Array;
}

/** Renders a part of a page, given in mm from its upper left corner. */
export function render(
  pdf: Uint8Array,
  page: number,
  dpi: number,
  part: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): Picture {
  const pixels = (mm: number) => String(Math.round((mm / 25.4) * dpi));
  const pgm = poppler('pdftoppm', pdf, [
    ...['-gray', '-r', String(dpi), '-f', String(page), '-l', String(page)],
    ...['-x', pixels(part.x), '-y', pixels(part.y), '-W', pixels(part.width), '-H', pixels(part.height)],
    '$FILE',
  ]);
  // Portable graymap: P5, width, height, largest value, then one byte a pixel.
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.subarray(0, 64).toString('latin1'));
  if (head === null) throw new Error('pdftoppm gave no graymap');
  const [width, height] = [Number(head[1]), Number(head[2])];
  return { width, height, dpi, grey: pgm.subarray(head[0].length, head[0].length + width * height) };
}

/** Centres of the dark lines that a level or upright line through the picture crosses, in mm from its edge. */
export function crossings(picture: Picture, direction: 'level' | 'upright', atMm: number): number[] {
  const { width, height, dpi, grey } = picture;
  const at = Math.round((atMm / 25.4) * dpi);
  const size = direction === 'level' ? width : height;
  const value = (i: number) => 255 - grey[direction === 'level' ? at * width + i : i * width + at]!;
  const found: number[] = [];
  let weight = 0;
  let moment = 0;
  for (let i = 0; i <= size; i++) {
    const dark = i < size ? value(i) : 0;
    if (dark > 40) {
      weight += dark;
      moment += dark * (i + 0.5);
    } else if (weight > 0) {
      found.push(((moment / weight) * 25.4) / dpi);
      weight = 0;
      moment = 0;
    }
  }
  return found;
}

/** Reading of pdfinfo by its heads. */
export function info(pdf: Uint8Array): Record<string, string> {
  const lines = poppler('pdfinfo', pdf, ['$FILE']).toString('utf8').split('\n');
  return Object.fromEntries(
    lines.flatMap((line) => (/^([^:]+):\s*(.*)$/.exec(line) ? [[RegExp.$1, RegExp.$2]] : [])),
  );
}

/** The pages' text as poppler reads it. */
export function textOf(pdf: Uint8Array): string {
  return poppler('pdftotext', pdf, ['-layout', '$FILE', '-']).toString('utf8');
}
