import type {
  Item,
  Layout,
  Outline,
  Placement,
  Problem,
  SheetContainer,
  StripContainer,
} from '../../nesting/packing/types.ts';

/** Short ways to write problems and layouts down in tests. Millimetres; everything a test doesn't care about is plain. */

export function rectangle(width: number, height: number): Outline {
  return [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
}

/** A thing of the given outline, as drawn, once, unless said otherwise. */
export function item(id: string, outline: Outline, more: Partial<Item> = {}): Item {
  return { id, outline, quantity: 1, poses: [{ rotation: 0, mirrored: false }], ...more };
}

export function strip(width: number, more: Partial<StripContainer> = {}): StripContainer {
  return { kind: 'strip', id: 'strip', width, ...more };
}

export function sheet(outline: Outline, more: Partial<SheetContainer> = {}): SheetContainer {
  return { kind: 'sheet', id: 'sheet', quantity: 1, outline, blocked: [], ...more };
}

export function problem(
  container: StripContainer | SheetContainer | readonly (StripContainer | SheetContainer)[],
  items: readonly Item[],
  gap = 0,
): Problem {
  return { name: 'test', containers: [container].flat(), items, gap };
}

export function at(item: string, x: number, y: number, more: Partial<Placement> = {}): Placement {
  return {
    item,
    copy: 0,
    container: 'strip',
    containerCopy: 0,
    rotation: 0,
    mirrored: false,
    x,
    y,
    ...more,
  };
}

export function layout(
  placements: readonly Placement[],
  length: number,
  unplaced: Layout['unplaced'] = [],
): Layout {
  return { placements, unplaced, length };
}
