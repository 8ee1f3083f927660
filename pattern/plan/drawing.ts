import type { Role } from './tokens.ts';

/**
 * A drawing as plain data, so that the page, the SVG file and a PDF show the same thing. Millimetres on paper,
 * x to the right, y DOWN from the top left corner: the cloth's y-up axes end where a drawing begins.
 *
 * A renderer walks the layers in order, paints each item in the style its role has in `tokens.ts`, and needs to
 * know nothing about cloth.
 */

export type DrawnPoint = readonly [x: number, y: number];

/** One or more lines in one style. Filled by the even-odd rule, so a hole is one more closed line. */
export interface PathItem {
  readonly kind: 'path';
  readonly role: Role;
  readonly lines: readonly (readonly DrawnPoint[])[];
  /** Each line returns to its start. */
  readonly closed: boolean;
}

/** One line of text. */
export interface TextItem {
  readonly kind: 'text';
  readonly role: Role;
  /** Where the anchor and the baseline meet. */
  readonly x: number;
  readonly y: number;
  /** Font size, mm. */
  readonly size: number;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Degrees clockwise as seen, about (x, y). */
  readonly rotation: number;
  /** Clean: no control characters. Not escaped: that is the renderer's job. */
  readonly text: string;
}

/** Things that belong together, such as one placed piece with its label. */
export interface GroupItem {
  readonly kind: 'group';
  readonly role: Role;
  /** One sentence for a pointer that rests on it and for a screen reader. */
  readonly title?: string;
  /** Facts a screen may want back: `pieceId`, `copy`, `hand`, `segment`. Keys are camelCase words. */
  readonly data: Readonly<Record<string, string>>;
  readonly items: readonly DrawingItem[];
}

export type DrawingItem = PathItem | TextItem | GroupItem;

export const LAYER_NAMES = ['page', 'cloth', 'pieces', 'labels', 'rulers', 'notes'] as const;
export type LayerName = (typeof LAYER_NAMES)[number];

export interface DrawingLayer {
  readonly name: LayerName;
  readonly items: readonly DrawingItem[];
}

/**
 * Where a stretch of cloth lies on the page, for pointing at it: page x = `x` + (along − `fromMm`) / `scale`,
 * page y = `y` − across / `scale`, with `along` and `across` in the segment's own axes.
 */
export interface DrawingFrame {
  readonly segment: number;
  readonly x: number;
  readonly y: number;
  /** The part of the segment shown in this frame, in its own x. */
  readonly fromMm: number;
  readonly toMm: number;
}

export interface Drawing {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly title: string;
  /** What is to be seen, in a sentence or two, for those who can't see it. */
  readonly description: string;
  /** BCP 47 tag of the words in it. */
  readonly lang: string;
  /** So many millimetres of cloth are one millimetre on paper: 12 for 1:12. */
  readonly scale: number;
  readonly frames: readonly DrawingFrame[];
  /** Back to front; empty layers are left out. */
  readonly layers: readonly DrawingLayer[];
}

/** Every path and text of a drawing, out of its groups, back to front. */
export function flatItems(drawing: Drawing): (PathItem | TextItem)[] {
  const flat: (PathItem | TextItem)[] = [];
  const walk = (items: readonly DrawingItem[]) => {
    for (const item of items) {
      if (item.kind === 'group') walk(item.items);
      else flat.push(item);
    }
  };
  for (const layer of drawing.layers) walk(layer.items);
  return flat;
}
