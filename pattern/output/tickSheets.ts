import type { Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { isolate } from '../plan/text.ts';
import type { PAPERS } from '../plan/tokens.ts';
import { formatSize, type ShownUnits } from '../units/index.ts';
import { Pages, pageSubtitle } from './pages.ts';
import type { Sheet } from './sheet.ts';
import { progressOf, type TickItem, type TickPart, tickParts } from './ticks.ts';
import { type OutputWords, outputWords } from './words/index.ts';

export interface TickSheetOptions {
  readonly page: keyof typeof PAPERS;
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
  /** What the list is ordered by. */
  readonly by: 'material' | 'part';
}

/** Every piece to cut with a box to tick, those cut already crossed; what is held back at the end. */
export function tickSheets(
  project: Project,
  { page, units, by, language = USUAL_LANGUAGE }: TickSheetOptions,
): Sheet[] {
  const words = outputWords(language).ticks;
  const parts = tickParts(project);
  const ticks = new Set(project.cutting.ticks);
  const { done, total } = progressOf(parts, ticks);
  const pages = new Pages(words.title, pageSubtitle(project, units, language), page, language);
  pages.note(words.progress(done, total), true);
  const rows = (list: readonly TickPart[], withMaterial: boolean) => {
    for (const part of list) {
      const size = part.size
        ? words.size(formatSize(part.size.widthMm, part.size.heightMm, units, language), part.isOpened)
        : '';
      const detail = withMaterial
        ? [isolate(part.material), size].filter((part) => part !== '').join(' · ')
        : size;
      pages.boxes(
        isolate(part.name),
        detail,
        part.items.map((item) => ({ words: itemWords(item, words), done: ticks.has(item.mark) })),
      );
    }
  };
  const now = parts.filter(({ held }) => !held);
  if (by === 'material') {
    for (const { id } of project.materials) {
      const own = now.filter(({ materialId }) => materialId === id);
      const [first] = own;
      if (!first) continue;
      const progress = progressOf(own, ticks);
      pages.head(`${isolate(first.material)} · ${words.progress(progress.done, progress.total)}`);
      rows(own, false);
    }
  } else {
    pages.head(words.parts);
    rows(byPiece(now), true);
  }
  const held = parts.filter((part) => part.held);
  if (held.length > 0) {
    pages.head(words.held);
    rows(held, true);
  }
  return pages.close();
}

/** Rows of one piece in several materials next to each other. */
function byPiece(parts: readonly TickPart[]): TickPart[] {
  const groups = new Map<string, TickPart[]>();
  for (const part of parts) groups.set(part.pieceId, [...(groups.get(part.pieceId) ?? []), part]);
  return [...groups.values()].flat();
}

function itemWords({ hand, copy, of }: TickItem, words: OutputWords['ticks']): string {
  return of === 1 ? words.hands[hand] : `${words.hands[hand]} ${copy}`;
}
