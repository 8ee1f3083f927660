/**
 * What drawings look like: colours, line widths, hatches, sizes of text. Everything a renderer needs to paint an
 * item is in `STYLES`, by role. Made for a black-and-white printer first: hands are told apart by hatch and words,
 * colour only helps. Lengths in millimetres on paper.
 */

export const INK = '#1f2d36';
const SOFT_INK = '#55646d';
const FAINT_INK = '#93a0a6';
export const PAPER = '#ffffff';
const LINEN = '#faf6ec';
const LINEN_DARK = '#e9e1cd';
const SEA = '#dcebe9';
const CLAY = '#f7e3d4';
const CLAY_LINE = '#b9835c';
const LILAC = '#e7e2f3';
const LILAC_LINE = '#7f72ab';
const STRAW = '#f6edbf';
const STRAW_LINE = '#a08c2b';
const SAGE = '#e6efdc';
const PINE = '#0d5c55';
const RUST = '#a83a2b';
const RUST_PALE = '#f8dcd6';

export interface Style {
  /** Missing: not filled (paths), or ink (texts). */
  readonly fill?: string;
  readonly stroke?: string;
  /** mm. */
  readonly strokeWidth?: number;
  /** mm on, mm off, … */
  readonly dash?: readonly number[];
  readonly cap?: 'butt' | 'round';
  readonly join?: 'miter' | 'round';
  readonly bold?: boolean;
}

const line = (stroke: string, strokeWidth: number, more: Style = {}): Style => ({
  stroke,
  strokeWidth,
  join: 'round',
  ...more,
});
const text = (fill: string, bold = false): Style => ({ fill, bold });

const styles = {
  page: { fill: PAPER },
  // Cloth
  cloth: { fill: LINEN },
  'cloth-edge': line(SOFT_INK, 0.25),
  selvedge: { fill: LINEN_DARK },
  'selvedge-hatch': line(SOFT_INK, 0.12),
  fold: line(INK, 0.9, { cap: 'butt' }),
  'fold-loop': line(INK, 0.3),
  repeat: line(FAINT_INK, 0.18),
  'upper-edge': line(INK, 0.4),
  crease: line(FAINT_INK, 0.18, { dash: [2.4, 1, 0.4, 1] }),
  'open-out': line(INK, 0.5, { dash: [3, 1.2] }),
  'cut-end': line(INK, 0.45, { dash: [1.6, 0.9] }),
  break: line(SOFT_INK, 0.25, { dash: [0.5, 0.9], cap: 'round' }),
  squaring: { fill: LINEN_DARK },
  offcut: { ...line(SOFT_INK, 0.2, { dash: [1, 1] }), fill: PAPER },
  'offcut-hatch': line(FAINT_INK, 0.14, { dash: [0.5, 1.1] }),
  flaw: { ...line(RUST, 0.3), fill: RUST_PALE },
  'flaw-hatch': line(RUST, 0.18),
  direction: line(INK, 0.5, { cap: 'round' }),
  'direction-head': { fill: INK },
  'edge-name': text(SOFT_INK),
  'fold-name': text(INK, true),
  'flaw-name': text(RUST, true),
  'offcut-name': text(SOFT_INK),
  caption: text(INK, true),
  // Pieces
  piece: {},
  'piece-plain': { fill: SEA },
  'piece-mirrored': { fill: CLAY },
  'piece-pair': { fill: LILAC },
  'piece-fold': { fill: STRAW },
  'piece-either': { fill: SAGE },
  'hatch-mirrored': line(CLAY_LINE, 0.16),
  'hatch-pair': line(LILAC_LINE, 0.16),
  'hatch-fold': line(STRAW_LINE, 0.2, { dash: [2, 1.4] }),
  'piece-edge': line(INK, 0.3),
  'fold-edge': line(INK, 1),
  'sew-edge': line(INK, 0.3, { dash: [1.6, 0.9] }),
  'sew-line': line(SOFT_INK, 0.2, { dash: [1.2, 0.8] }),
  'inner-line': line(SOFT_INK, 0.18, { dash: [0.4, 0.8], cap: 'round' }),
  notch: line(INK, 0.4, { cap: 'round' }),
  ghost: line(FAINT_INK, 0.2, { dash: [1.6, 1.2] }),
  grain: line(INK, 0.18, { cap: 'round' }),
  top: { fill: INK },
  'top-name': text(INK),
  'piece-name': text(INK, true),
  'piece-label': text(INK),
  tag: { ...line(INK, 0.12), fill: PAPER },
  leader: line(INK, 0.14),
  'leader-dot': { fill: INK },
  // Rulers, dimensions
  ruler: line(SOFT_INK, 0.14),
  'ruler-text': text(SOFT_INK),
  dimension: line(INK, 0.2),
  'dimension-text': text(INK, true),
  'cut-line': line(PINE, 0.55),
  'cut-badge': { ...line(PINE, 0.25), fill: PAPER },
  'cut-number': text(PINE, true),
  'left-box': line(SOFT_INK, 0.2, { dash: [1, 1] }),
  'table-end': line(INK, 0.4, { dash: [0.6, 1], cap: 'round' }),
  done: { fill: '#eef0f0' },
  'done-hatch': line(FAINT_INK, 0.12),
  'done-tick': line(PINE, 0.9, { cap: 'round' }),
  'held-hatch': line(INK, 0.22),
  'scale-bar': line(INK, 0.2),
  'scale-bar-fill': { fill: INK },
  // On a print: seen on light and on dark
  'print-halo': line('#ffffff', 1.1),
  'print-edge': line(INK, 0.35),
  'print-wrong': line(RUST, 0.9),
  'print-tag': { ...line(INK, 0.15), fill: PAPER },
  'print-words': text(RUST, true),
  // Light on dark, for a projector: lines wide enough to be seen on cloth
  'dark-page': { fill: '#000000' },
  'light-line': line('#ffffff', 0.9),
  'light-heavy': line('#ffffff', 2.2),
  'light-thin': line('#d8d8d8', 0.5),
  'light-dashed': line('#ffe27a', 0.6, { dash: [5, 3] }),
  'light-grid': line('#3a4a4a', 0.35),
  'light-fill': { fill: '#ffffff' },
  'light-text': text('#ffffff'),
  'light-strong': text('#ffffff', true),
  // Words around the drawing
  title: text(INK, true),
  subtitle: text(SOFT_INK),
  'fact-name': text(SOFT_INK),
  fact: text(INK, true),
  warning: text(RUST, true),
  'table-line': line(FAINT_INK, 0.12),
  'table-head': text(SOFT_INK),
  'table-text': text(INK),
  'table-strong': text(INK, true),
  note: text(INK),
  'note-strong': text(INK, true),
} satisfies Readonly<Record<string, Style>>;

/** What an item is: its class name in the SVG and the key of its style. */
export type Role = keyof typeof styles;
export const STYLES: Readonly<Record<Role, Style>> = styles;

/** Sans serifs with the same widths first: texts are fitted by those widths (see `text.ts`). */
export const FONT_FAMILY = "Arial, Helvetica, 'Liberation Sans', 'Nimbus Sans', sans-serif";

/** Hatches by hand: degrees counter-clockwise from the x axis as seen, spacing in mm, lines to a group. */
export const HATCHES = {
  mirrored: { role: 'hatch-mirrored', angleDeg: 45, spacing: 2, double: 0 },
  pair: { role: 'hatch-pair', angleDeg: -45, spacing: 2.6, double: 0.6 },
  fold: { role: 'hatch-fold', angleDeg: 0, spacing: 1.8, double: 0 },
  flaw: { role: 'flaw-hatch', angleDeg: 60, spacing: 0.9, double: 0 },
  offcut: { role: 'offcut-hatch', angleDeg: -60, spacing: 2.2, double: 0 },
  done: { role: 'done-hatch', angleDeg: 0, spacing: 1.4, double: 0 },
  held: { role: 'held-hatch', angleDeg: 45, spacing: 3.2, double: 0 },
  selvedge: { role: 'selvedge-hatch', angleDeg: 75, spacing: 0.7, double: 0 },
} as const satisfies Readonly<
  Record<string, { role: Role; angleDeg: number; spacing: number; double: number }>
>;

/**
 * Font sizes, mm; capitals are 0.72 of that. Pieces bear their names in `most` where there is room: capitals of
 * 3.3 mm, which from 70 cm away are seen under 16 minutes of arc, the least that ISO 9241-303 allows for reading
 * (from memory). Nothing on a sheet is smaller than `least`, about 6¼ points.
 */
export const TEXT = {
  least: 2.2,
  note: 2.5,
  most: 4.6,
  caption: 2.8,
  fact: 4.2,
  title: 5.2,
} as const;

/** Papers, portrait. */
export const PAPERS = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
} as const;

/** No printer in common use needs more. */
export const PAGE_MARGIN_MM = 10;

/** Scales a sheet may have: 1 to so many, numbers one can reckon with. */
export const SCALES = [
  1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300, 400, 500, 600,
  800, 1000, 1500, 2000,
] as const;
