import type { DrawingText } from '../drawing.ts';
import { READING_LIMITS } from '../limits.ts';
import { compose, type Matrix, translation } from '../matrix.ts';
import { boxOf, mapped } from './clip.ts';

/** A glyph as pdf.js hands it on; a bare number moves the pen back by thousandths of the size. */
export type Glyph =
  | number
  | { readonly unicode?: string; readonly width?: number; readonly isSpace?: boolean };

/** A stretch of text on one line, in mm. */
export interface Run {
  readonly text: string;
  readonly start: readonly [number, number];
  readonly end: readonly [number, number];
  /** Height of the letters, as a vector that points from foot to head. */
  readonly up: readonly [number, number];
  readonly layer: string;
}

/** The text state of the PDF imaging model (ISO 32000-1, 9.3 and 9.4). */
export class TextPen {
  charSpacing = 0;
  wordSpacing = 0;
  stretch = 1;
  leading = 0;
  size = 0;
  rise = 0;
  invisible = false;
  private matrix: Matrix = [1, 0, 0, 1, 0, 0];
  private line: Matrix = [1, 0, 0, 1, 0, 0];

  begin(): void {
    this.set([1, 0, 0, 1, 0, 0]);
  }

  set(matrix: Matrix): void {
    this.matrix = matrix;
    this.line = matrix;
  }

  move(x: number, y: number): void {
    this.set(compose(this.line, translation(x, y)));
  }

  nextLine(): void {
    this.move(0, -this.leading);
  }

  /** Writes glyphs and moves on; null if they say nothing. `outer` maps user space to the page in mm. */
  write(glyphs: readonly Glyph[], outer: Matrix, layer: string): Run | null {
    let text = '';
    let pen = 0;
    for (const glyph of glyphs) {
      if (typeof glyph === 'number') {
        pen -= (glyph / 1000) * this.size * this.stretch;
        // A step back of more than a fifth of the size is how many programs write a space.
        if (glyph < -200 && text !== '' && !text.endsWith(' ')) text += ' ';
        continue;
      }
      if (!glyph || typeof glyph !== 'object') continue;
      if (text.length < READING_LIMITS.textLength) text += glyph.unicode ?? '';
      const spacing = this.charSpacing + (glyph.isSpace ? this.wordSpacing : 0);
      pen += (((glyph.width ?? 0) / 1000) * this.size + spacing) * this.stretch;
    }
    const whole = compose(outer, this.matrix);
    const start = mapped([0, this.rise], whole);
    const end = mapped([pen, this.rise], whole);
    const head = mapped([0, this.rise + this.size], whole);
    this.matrix = compose(this.matrix, translation(pen, 0));
    if (text.trim() === '' || this.invisible || ![...start, ...end, ...head].every(Number.isFinite))
      return null;
    return { text, start, end, up: [head[0] - start[0], head[1] - start[1]], layer };
  }
}

/** Gaps between runs, in sizes: one word up to the first, one line up to the second. */
const WORD_GAP = 0.12;
const LINE_GAP = 1;

/** Runs that follow each other on one line put together. */
export function textsOf(runs: readonly Run[]): DrawingText[] {
  const lines: Run[] = [];
  for (const run of runs) {
    const before = lines[lines.length - 1];
    const gap = before ? gapBetween(before, run) : null;
    if (!before || gap === null || before.text.length > READING_LIMITS.textLength) {
      lines.push(run);
      continue;
    }
    const apart = gap > WORD_GAP && !before.text.endsWith(' ') && !run.text.startsWith(' ');
    lines[lines.length - 1] = {
      ...before,
      text: `${before.text}${apart ? ' ' : ''}${run.text}`,
      end: run.end,
    };
  }
  return lines.flatMap((run): DrawingText[] => {
    const text = withoutLigatures(run.text).replace(/\s+/g, ' ').trim().slice(0, READING_LIMITS.textLength);
    if (text === '') return [];
    const [ux, uy] = run.up;
    const low = -0.2;
    const high = 0.8;
    const corners = [run.start, run.end].flatMap(([x, y]): [number, number][] => [
      [x + ux * low, y + uy * low],
      [x + ux * high, y + uy * high],
    ]);
    return [
      {
        elementId: '',
        text,
        at: [run.start[0], run.start[1]],
        anchor: 'start',
        sizeMm: Math.hypot(ux, uy),
        box: boxOf(corners),
        ...(run.layer === '' ? {} : { layer: run.layer }),
      },
    ];
  });
}

/** Letters that fonts draw as one: "ﬂ" for "fl". Fractions and the like stay as they are. */
const withoutLigatures = (text: string): string =>
  text.replace(/[\uFB00-\uFB06]/g, (letter) => letter.normalize('NFKC'));

/** How far a run begins after another one on the same line, in sizes; null if it is not on it. */
function gapBetween(before: Run, run: Run): number | null {
  const size = Math.hypot(...before.up);
  const other = Math.hypot(...run.up);
  if (size === 0 || Math.abs(other / size - 1) > 0.1 || before.layer !== run.layer) return null;
  const [ux, uy] = [before.up[0] / size, before.up[1] / size];
  if (ux * run.up[0] + uy * run.up[1] < 0.99 * other) return null;
  const dx = run.start[0] - before.end[0];
  const dy = run.start[1] - before.end[1];
  // Along the line of writing, and across it.
  const along = (dx * uy - dy * ux) / size;
  const across = (dx * ux + dy * uy) / size;
  const forward = (run.end[0] - run.start[0]) * uy - (run.end[1] - run.start[1]) * ux;
  const gap = forward < 0 ? -along : along;
  return Math.abs(across) < 0.25 && gap > -0.3 && gap < LINE_GAP ? gap : null;
}
