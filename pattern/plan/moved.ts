import type { DrawingItem, DrawnPoint } from './drawing.ts';

/** An item elsewhere on the page. */
export function moved(item: DrawingItem, dx: number, dy: number): DrawingItem {
  switch (item.kind) {
    case 'path':
      return {
        ...item,
        lines: item.lines.map((line) => line.map(([x, y]): DrawnPoint => [x + dx, y + dy])),
      };
    case 'text':
      return { ...item, x: item.x + dx, y: item.y + dy };
    case 'group':
      return { ...item, items: item.items.map((child) => moved(child, dx, dy)) };
  }
}
