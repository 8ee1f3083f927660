import { type DrawingItem, type DrawingLayer, LAYER_NAMES, type LayerName } from './drawing.ts';
import type { Role } from './tokens.ts';

/** Collects items by layer while a drawing is put together. */
export class DrawingSink {
  private readonly byLayer = new Map<LayerName, DrawingItem[]>();

  add(layer: LayerName, ...items: readonly DrawingItem[]): void {
    const list = this.byLayer.get(layer);
    if (list) for (const item of items) list.push(item);
    else this.byLayer.set(layer, [...items]);
  }

  text(
    layer: LayerName,
    role: Role,
    text: string,
    x: number,
    y: number,
    size: number,
    more: { readonly anchor?: 'start' | 'middle' | 'end'; readonly rotation?: number } = {},
  ): void {
    if (text === '') return;
    this.add(layer, {
      kind: 'text',
      role,
      x,
      y,
      size,
      anchor: more.anchor ?? 'start',
      rotation: more.rotation ?? 0,
      text,
    });
  }

  layers(): DrawingLayer[] {
    return LAYER_NAMES.flatMap((name) => {
      const items = this.byLayer.get(name);
      return items && items.length > 0 ? [{ name, items }] : [];
    });
  }
}
