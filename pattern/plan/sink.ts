import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { formatLength, formatSize, type ShownUnits } from '../units/index.ts';
import { type Drawing, type DrawingItem, type DrawingLayer, LAYER_NAMES, type LayerName } from './drawing.ts';
import type { Role } from './tokens.ts';
import { type PlanWords, planWords } from './words/index.ts';

/** Collects items by layer while a drawing is put together, and knows in which language it speaks. */
export class DrawingSink {
  private readonly byLayer = new Map<LayerName, DrawingItem[]>();

  readonly language: Language;
  readonly words: PlanWords;

  constructor(language: Language = USUAL_LANGUAGE) {
    this.language = language;
    this.words = planWords(language);
  }

  /** A length as it is read in the drawing's language. */
  length(mm: number, units: ShownUnits): string {
    return formatLength(mm, units, this.language);
  }

  /** A width and a height as they are read in the drawing's language. */
  size(widthMm: number, heightMm: number, units: ShownUnits): string {
    return formatSize(widthMm, heightMm, units, this.language);
  }

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

  /** What was collected as a drawing in true size, mm, without frames; described by its title if not otherwise. */
  drawing(widthMm: number, heightMm: number, title: string, description = title): Drawing {
    return {
      widthMm,
      heightMm,
      title,
      description,
      lang: this.language,
      scale: 1,
      frames: [],
      layers: this.layers(),
    };
  }

  layers(): DrawingLayer[] {
    return LAYER_NAMES.flatMap((name) => {
      const items = this.byLayer.get(name);
      return items && items.length > 0 ? [{ name, items }] : [];
    });
  }
}
