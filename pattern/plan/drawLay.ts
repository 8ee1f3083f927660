import type { ClothLay, Project } from '../exchange/project.ts';
import { bandChrome } from './bandArea.ts';
import { drawBand } from './drawBand.ts';
import type { Drawing, DrawingFrame } from './drawing.ts';
import type { PlacedMemory } from './drawPlaced.ts';
import {
  AFTER_HEADER_MM,
  arrange,
  BETWEEN_ROWS_MM,
  bandView,
  type LayDrawingOptions,
  LEGEND_BESIDE_MM,
  legendContent,
  rowHeight,
} from './layArrangement.ts';
import { type LayContent, layContent } from './layContent.ts';
import { drawHeader } from './sheetHeader.ts';
import { drawLegend, drawScale } from './sheetLegend.ts';
import { DrawingSink } from './sink.ts';
import type { SmallPiece } from './tags.ts';
import { PAGE_MARGIN_MM } from './tokens.ts';

/** Rows for tags of small pieces above the cloth, tried in turn. */
const TAG_ROWS = [1, 2, 4, 6] as const;
/** More tags than this have no room in any number of rows. */
const MOST_IN_ROWS = 200;
/**
 * Draws the lay of one cloth: the cloth to scale with its pieces, edges and rulers, and around it what a maker
 * needs to cut from it. Always in a round scale, which the sheet states. The same lay gives the same drawing.
 */
export function drawLay(lay: ClothLay, project: Project, options: LayDrawingOptions): Drawing {
  const content = layContent(lay, project, options);
  let best = compose(content, options, 0);
  for (const rows of TAG_ROWS) {
    if (best.without.length === 0 || best.without.length > MOST_IN_ROWS) break;
    const next = compose(content, options, rows);
    if (next.without.length < best.without.length) best = next;
  }
  return best.drawing;
}

interface Composed {
  readonly drawing: Drawing;
  readonly without: readonly SmallPiece[];
}

/** Arranges the lay with so many rows of tags, and draws it. */
function compose(content: LayContent, options: LayDrawingOptions, tagRows: number): Composed {
  const { pageWidth, pageHeight, scale, ranges, beside } = arrange(content, options, tagRows);
  const margin = options.bare && options.page === 'fit' ? 2 : PAGE_MARGIN_MM;
  const width = pageWidth - 2 * margin;
  const sink = new DrawingSink(options.language);
  sink.add('page', {
    kind: 'path',
    role: 'page',
    lines: [
      [
        [0, 0],
        [pageWidth, 0],
        [pageWidth, pageHeight],
        [0, pageHeight],
      ],
    ],
    closed: true,
  });
  let y = margin;
  if (!options.bare) y += drawHeader(sink, content.header, margin, y, width) + AFTER_HEADER_MM;
  const clothTop = y;
  const clothX = beside ? margin + LEGEND_BESIDE_MM + BETWEEN_ROWS_MM * 2 : margin;
  const frames: DrawingFrame[] = [];
  const without: SmallPiece[] = [];
  const known: PlacedMemory = new Map();
  let left = 0;
  for (const range of ranges) {
    const view = bandView(content, options, tagRows, scale, range);
    const drawn = drawBand(sink, {
      ...view,
      x: clothX,
      y,
      wordsFor: content.wordsFor,
      known,
      marks: options.marks ?? [],
      tagsOnly: options.tagsOnly ?? false,
    });
    frames.push(...drawn.frames);
    without.push(...drawn.without);
    left = bandChrome(view).left;
    y += rowHeight(view) + BETWEEN_ROWS_MM;
  }
  y -= BETWEEN_ROWS_MM;
  // Under the cloth, but where that is narrow no further right than the bars have room.
  const scaleRow = drawScale(new DrawingSink(options.language), scale, options.units, 0, 0).width;
  const scaleX = Math.max(margin, Math.min(clothX + left, pageWidth - margin - scaleRow));
  y += drawScale(sink, scale, options.units, scaleX, y + 0.5).height;
  if (!options.bare) {
    const legend = legendContent(
      without.length > 0
        ? {
            ...content,
            notes: [sink.words.noMark(without.length), ...content.notes],
          }
        : content,
      options,
      scale,
    );
    if (beside) drawLegend(sink, legend, margin, clothTop, LEGEND_BESIDE_MM, pageHeight - margin - clothTop);
    else drawLegend(sink, legend, margin, y + 1, width, pageHeight - margin - y - 1);
  }
  const { title, subtitle } = content.header;
  return {
    without,
    drawing: {
      widthMm: pageWidth,
      heightMm: pageHeight,
      title: sink.words.layPlan(title),
      description: `${subtitle}. ${content.header.facts.map((f) => `${f.name}: ${f.value}`).join('. ')}. ${sink.words.atScale(scale)}`,
      lang: sink.language,
      scale,
      frames,
      layers: sink.layers(),
    },
  };
}
