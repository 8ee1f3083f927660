import type { DrawingSink } from './sink.ts';
import { LEADING, shorten, textWidth, wrap } from './text.ts';
import { TEXT } from './tokens.ts';

export interface Fact {
  readonly name: string;
  readonly value: string;
}

export interface HeaderContent {
  readonly title: string;
  readonly subtitle: string;
  readonly facts: readonly Fact[];
  /** Said in red under the facts: that not everything is on this cloth, and why. */
  readonly warnings: readonly string[];
}

const BETWEEN_FACTS_MM = 6;
const FACT_ROW_MM = 8.6;
const WARNING_LINES = 3;

/** Draws the head of a sheet with its top left corner at (x, y) and gives its height. */
export function drawHeader(
  sink: DrawingSink,
  content: HeaderContent,
  x: number,
  y: number,
  width: number,
): number {
  let at = y + TEXT.title * 0.8;
  sink.text('notes', 'title', shorten(content.title, width, TEXT.title, 'title'), x, at, TEXT.title);
  at += 4.6;
  sink.text('notes', 'subtitle', shorten(content.subtitle, width, 3, 'subtitle'), x, at, 3);
  at += 4.4;
  let factX = x;
  let rowTop = at;
  for (const fact of content.facts) {
    const w = Math.max(
      textWidth(fact.name, TEXT.note, 'fact-name'),
      textWidth(fact.value, TEXT.fact, 'fact'),
    );
    if (factX > x && factX + w > x + width) {
      factX = x;
      rowTop += FACT_ROW_MM;
    }
    sink.text('notes', 'fact-name', fact.name, factX, rowTop, TEXT.note);
    sink.text('notes', 'fact', shorten(fact.value, width, TEXT.fact, 'fact'), factX, rowTop + 4.6, TEXT.fact);
    factX += w + BETWEEN_FACTS_MM;
  }
  at = rowTop + FACT_ROW_MM - 1.6;
  for (const warning of content.warnings) {
    const lines = wrap(warning, width, 2.8, 'warning');
    const kept = lines.slice(0, WARNING_LINES);
    if (lines.length > kept.length) kept[kept.length - 1] = `${kept.at(-1)}…`;
    for (const line of kept) {
      at += 2.8 * LEADING;
      sink.text('notes', 'warning', shorten(line, width, 2.8, 'warning'), x, at - 1, 2.8);
    }
  }
  return at - y;
}
