import {
  type Drawing,
  type DrawingItem,
  type DrawnPoint,
  flatItems,
  type GroupItem,
  type PathItem,
  type TextItem,
} from '../../pattern/plan/drawing.ts';
import { inside, type Ring, rectangle, turned } from '../../pattern/plan/intervals.ts';
import { CAP_HEIGHT, DESCENT, textWidth } from '../../pattern/plan/text.ts';

/** Questions that tests ask of a drawing. */

export function texts(drawing: Drawing): TextItem[] {
  return flatItems(drawing).filter((item) => item.kind === 'text');
}

export function paths(drawing: Drawing): PathItem[] {
  return flatItems(drawing).filter((item) => item.kind === 'path');
}

export function groups(drawing: Drawing): GroupItem[] {
  const found: GroupItem[] = [];
  const walk = (items: readonly DrawingItem[]) => {
    for (const item of items) {
      if (item.kind !== 'group') continue;
      found.push(item);
      walk(item.items);
    }
  };
  for (const layer of drawing.layers) walk(layer.items);
  return found;
}

/** All words, with what keeps right-to-left names apart taken off. */
export function words(drawing: Drawing): string {
  return texts(drawing)
    .map((t) => t.text.replace(/[\u2068\u2069]/gu, ''))
    .join('\n');
}

/** The box a text takes, by the published widths: four corners, turned with it. */
export function textBox(text: TextItem): Ring {
  const width = textWidth(text.text, text.size, text.role);
  const back = text.anchor === 'start' ? 0 : text.anchor === 'middle' ? width / 2 : width;
  const [x, y] = turned([[text.x, text.y]], -text.rotation)[0] as DrawnPoint;
  const box = rectangle(x - back, y - CAP_HEIGHT * text.size, width, (CAP_HEIGHT + DESCENT) * text.size);
  return turned(box, text.rotation);
}

export function isInside(rings: readonly Ring[], [x, y]: DrawnPoint, tolerance = 0): boolean {
  return inside(rings, y).some(([a, b]) => a - tolerance <= x && x <= b + tolerance);
}
