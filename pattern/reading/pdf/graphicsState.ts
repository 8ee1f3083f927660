import type { Box } from '../../../nesting/geometry/points.ts';
import type { Matrix } from '../matrix.ts';

/** The part of the graphics state of the PDF imaging model (ISO 32000-1, 8.4) on which a line's reading depends. */
export interface GraphicsState {
  /** User space to mm on the page. */
  matrix: Matrix;
  /** In user space. */
  lineWidth: number;
  /** Colours as `#rrggbb`; null for a pattern, which has none. */
  stroke: string | null;
  fill: string | null;
  /** False where what is painted is wholly transparent. */
  strokeSeen: boolean;
  fillSeen: boolean;
  dashed: boolean;
  /** A box round what the clips leave, in mm on the page. */
  clip: Box;
}

/** The state a page begins with. */
export const firstState = (matrix: Matrix, clip: Box): GraphicsState => ({
  matrix,
  lineWidth: 1,
  stroke: '#000000',
  fill: '#000000',
  strokeSeen: true,
  fillSeen: true,
  dashed: false,
  clip,
});

/** Takes over the entries of a graphics state dictionary (ISO 32000-1, 8.4.5); others are passed over. */
export function setEntries(state: GraphicsState, entries: unknown): void {
  if (!Array.isArray(entries)) return;
  for (const entry of entries) {
    if (!Array.isArray(entry)) continue;
    const [key, value] = entry as [unknown, unknown];
    if (key === 'LW' && typeof value === 'number') state.lineWidth = Math.abs(value);
    else if (key === 'D' && Array.isArray(value)) state.dashed = isDash(value[0]);
    else if (key === 'CA') state.strokeSeen = value !== 0;
    else if (key === 'ca') state.fillSeen = value !== 0;
  }
}

/** Whether a dash array leaves gaps. */
export const isDash = (array: unknown): boolean =>
  Array.isArray(array) && array.some((length) => typeof length === 'number' && length > 0);

/** A colour as `#rrggbb`, or null for anything else. */
export const colourOf = (value: unknown): string | null =>
  typeof value === 'string' && /^#[0-9a-f]{6}$/i.test(value) ? value.toLowerCase() : null;
