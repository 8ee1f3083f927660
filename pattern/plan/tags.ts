import type { DrawingItem, DrawnPoint } from './drawing.ts';
import { type Bounds, bounds, type Interval, inside, type Ring } from './intervals.ts';
import { tagLabel } from './pieceLabel.ts';
import { textWidth } from './text.ts';
import { TEXT } from './tokens.ts';

/** A piece too small for any label. */
export interface SmallPiece {
  readonly tag: string;
  /** As shown on the page: outline and holes. */
  readonly rings: readonly Ring[];
}

export interface TagSpace {
  /** Boxes of labels already there: no tag may cover one. */
  readonly labels: readonly Bounds[];
  /** Boxes of all pieces and flaws: a tag beside its piece covers none. */
  readonly pieces: readonly Bounds[];
  /** The cloth, where a tag may stand. */
  readonly cloth: Bounds;
  /** Rows above the cloth for what has no room on it. */
  readonly rows: number;
  readonly rowsTop: number;
}

/** Height of one row of tags above the cloth, mm. */
export const TAG_ROW_MM = 3.6;
/** A tag may lie over its own piece if it covers no more than this many times the piece's width and height. */
const COVER = 1.15;
/** Across a strap it may stand out more, since it hides so little of its length. */
const COVER_STRAP = 1.4;
const STRAP_SHARE = 0.4;
const BETWEEN_MM = 0.5;
/** A tag on the cloth stands no farther from its piece than this. */
const REACH_MM = 22;
/** With more small pieces than this the search for room beside them is left out: it would take seconds. */
const MOST_SEARCHED = 400;

/**
 * Tags for pieces in which no word has room: over the piece where nothing else is covered, else on free cloth
 * nearby or in rows above the cloth, with a line to the piece. Gives back those for which there was no room.
 */
export function placeTags(
  small: readonly SmallPiece[],
  space: TagSpace,
): { items: DrawingItem[]; without: SmallPiece[] } {
  const items: DrawingItem[] = [];
  const taken: Bounds[] = [...space.labels];
  const stand = (tag: string, x: number, y: number) => {
    const label = tagLabel(tag, x, y);
    taken.push(bounds(label.box));
    items.push({ kind: 'path', role: 'tag', lines: [label.box], closed: true }, ...label.items);
  };

  const beside: SmallPiece[] = [];
  for (const piece of small) {
    const spot = spotOver(piece, taken);
    if (spot) stand(piece.tag, ...spot);
    else beside.push(piece);
  }
  const above: SmallPiece[] = [];
  for (const piece of beside) {
    const spot = beside.length <= MOST_SEARCHED ? spotBeside(piece, space, taken) : null;
    if (!spot) {
      above.push(piece);
      continue;
    }
    items.push(...leader(spot, middleOf(piece)));
    stand(piece.tag, ...spot);
  }
  return { items, without: tagRows(above, space, items) };
}

/** Half the size of a tag. */
function halfSize(tag: string): readonly [number, number] {
  const box = bounds(tagLabel(tag, 0, 0).box);
  return [box.maxX, box.maxY];
}

const meets = (a: Bounds, b: Bounds) =>
  a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY;

const about = (x: number, y: number, [w, h]: readonly [number, number]): Bounds => ({
  minX: x - w,
  maxX: x + w,
  minY: y - h,
  maxY: y + h,
});

/** A point within the piece, near the middle of its box. */
function middleOf(piece: SmallPiece): DrawnPoint {
  const box = bounds(piece.rings[0] as Ring);
  const y = (box.minY + box.maxY) / 2;
  const widest = inside(piece.rings, y).reduce<Interval | null>(
    (w, r) => (!w || r[1] - r[0] > w[1] - w[0] ? r : w),
    null,
  );
  return widest ? [(widest[0] + widest[1]) / 2, y] : [(box.minX + box.maxX) / 2, y];
}

/** Over the piece itself, in its middle or along it. */
function spotOver(piece: SmallPiece, taken: readonly Bounds[]): DrawnPoint | null {
  const own = bounds(piece.rings[0] as Ring);
  const half = halfSize(piece.tag);
  const width = own.maxX - own.minX;
  const height = own.maxY - own.minY;
  const across = (2 * half[0]) / width;
  const down = (2 * half[1]) / height;
  const allowed = (one: number, other: number) => one <= (other <= STRAP_SHARE ? COVER_STRAP : COVER);
  if (!allowed(across, down) || !allowed(down, across)) return null;
  const [x, y] = middleOf(piece);
  for (const share of [0, -0.15, 0.15, -0.3, 0.3]) {
    const at: DrawnPoint = width > height ? [x + share * width, y] : [x, y + share * height];
    if (!taken.some((box) => meets(box, about(at[0], at[1], half)))) return at;
  }
  return null;
}

/** On free cloth: the nearest place in rings around the piece. */
function spotBeside(piece: SmallPiece, space: TagSpace, taken: readonly Bounds[]): DrawnPoint | null {
  const [x, y] = middleOf(piece);
  const half = halfSize(piece.tag);
  const { cloth } = space;
  for (let reach = 3; reach <= REACH_MM; reach += 1) {
    const steps = Math.max(8, Math.round(reach * 2));
    for (let i = 0; i < steps; i++) {
      const angle = (2 * Math.PI * i) / steps;
      const at: DrawnPoint = [x + reach * Math.cos(angle), y + reach * Math.sin(angle)];
      const box = about(at[0], at[1], [half[0] + BETWEEN_MM, half[1] + BETWEEN_MM]);
      if (box.minX < cloth.minX || box.maxX > cloth.maxX || box.minY < cloth.minY || box.maxY > cloth.maxY) {
        continue;
      }
      if (space.pieces.some((other) => meets(other, box)) || taken.some((other) => meets(other, box)))
        continue;
      return at;
    }
  }
  return null;
}

/** In rows above the cloth, left to right; gives back what no row had room for. */
function tagRows(called: readonly SmallPiece[], space: TagSpace, items: DrawingItem[]): SmallPiece[] {
  const { rows, rowsTop, cloth } = space;
  const ends = Array.from({ length: rows }, () => cloth.minX);
  const without: SmallPiece[] = [];
  const sorted = called
    .map((piece) => ({ piece, at: middleOf(piece) }))
    .sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  for (const { piece, at } of sorted) {
    const half = textWidth(piece.tag, TEXT.least, 'piece-name') / 2 + 0.6;
    // The lowest row in which the tag stands over its piece, else the one where it is pushed aside least.
    let row = -1;
    let x = 0;
    for (let r = rows - 1; r >= 0; r--) {
      const free = Math.max(at[0], (ends[r] as number) + BETWEEN_MM + half);
      if (free + half <= cloth.maxX && (row < 0 || free < x - 0.01)) {
        row = r;
        x = free;
      }
    }
    if (row < 0) {
      without.push(piece);
      continue;
    }
    ends[row] = x + half;
    const label = tagLabel(piece.tag, x, rowsTop + (row + 0.5) * TAG_ROW_MM);
    items.push(
      ...leader([x, bounds(label.box).maxY], at),
      { kind: 'path', role: 'tag', lines: [label.box], closed: true },
      ...label.items,
    );
  }
  return without;
}

/** A thin line to the piece with a dot at its end; the tag is drawn over its beginning. */
function leader(from: DrawnPoint, to: DrawnPoint): DrawingItem[] {
  const [x, y] = to;
  const r = 0.35;
  return [
    { kind: 'path', role: 'leader', lines: [[from, to]], closed: false },
    {
      kind: 'path',
      role: 'leader-dot',
      lines: [
        [
          [x - r, y],
          [x, y - r],
          [x + r, y],
          [x, y + r],
        ],
      ],
      closed: true,
    },
  ];
}
