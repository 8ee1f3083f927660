import { setsTimes } from '../cutList/sets.ts';
import type { ClothLay, Piece, Placed, Project, Segment } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { type Bounds, bounds, turned } from './intervals.ts';
import { cleanText } from './text.ts';
import { type Hand, type HandWords, planWords } from './words/index.ts';

/**
 * One line of the table beneath a plan: a piece in one hand (and, where it is cut in several sizes or joined from
 * lengths, one of them), with the key it bears where its name won't fit.
 */
export interface LayRow {
  /** What `layRowId` gives for the placed pieces of this line. */
  readonly id: string;
  /** `A`, `B`, … `Z`, `AA`: short enough for the smallest piece. Copy 3 of it is `A3`. */
  readonly key: string;
  readonly pieceId: string;
  readonly name: string;
  readonly hand: Hand;
  readonly words: HandWords;
  /** Placements of it on this cloth. */
  readonly placements: number;
  /** Cut size in the piece's own axes, upright as drawn; a piece on the fold: opened out. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Only on the first row of a piece: whole pieces cut on this cloth, and asked for in this material. */
  readonly cut?: number;
  readonly asked?: number;
}

/** `A` … `Z`, `AA` … */
function rowKey(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : rowKey(Math.floor(index / 26) - 1) + last;
}

/** Box of a placed piece in its own axes: turned back, and opened out where it lies on the fold (at y = 0). */
function ownSize(placed: Placed): { widthMm: number; heightMm: number } {
  const whole: Segment['placed'][number]['outline'] =
    placed.hand === 'fold'
      ? [...placed.outline, ...placed.outline.map(([x, y]): readonly [number, number] => [x, -y])]
      : placed.outline;
  // Counter-clockwise with y up is the same arithmetic as clockwise with y down; undoing it takes the negative.
  const box: Bounds = bounds(turned(whole, -placed.rotation));
  const tidy = (mm: number) => Math.round(mm * 1000) / 1000;
  return { widthMm: tidy(box.maxX - box.minX), heightMm: tidy(box.maxY - box.minY) };
}

/** Which line of the table a placed piece belongs to. */
export function layRowId({ pieceId, hand, item }: Placed): string {
  // Before the colon an item names what is asked for: the piece, in its size, or one of its lengths.
  return `${pieceId} ${hand} ${item?.split(':')[0] ?? ''}`;
}

const HAND_ORDER: readonly Hand[] = ['fold', 'pair', 'plain', 'mirrored', 'either'];

/** The rows of the table, in the order of the cut list, hands of a piece together. */
export function layRows(lay: ClothLay, project: Project, language: Language = USUAL_LANGUAGE): LayRow[] {
  const words = planWords(language);
  const pieces = new Map<string, Piece>(project.pieces.map((p) => [p.id, p]));
  const byPiece = new Map<string, Map<string, Placed[]>>();
  const times = setsTimes(project);
  for (const row of project.cutList) {
    if (row.materialId === lay.materialId) byPiece.set(row.pieceId, new Map());
  }
  for (const placed of lay.segments.flatMap((s) => s.placed)) {
    const hands = byPiece.get(placed.pieceId) ?? new Map<string, Placed[]>();
    byPiece.set(placed.pieceId, hands);
    const list = hands.get(layRowId(placed));
    if (list) list.push(placed);
    else hands.set(layRowId(placed), [placed]);
  }
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const rows: LayRow[] = [];
  for (const [pieceId, hands] of byPiece) {
    const asked = project.cutList
      .filter((row) => row.pieceId === pieceId && row.materialId === lay.materialId)
      .reduce((sum, row) => sum + times * (row.plain + row.mirrored + row.onFold), 0);
    const lists = [...hands.values()].sort((a, b) => rank(a) - rank(b));
    // So many lengths make one whole piece.
    const wholes = lists
      .flat()
      .reduce((sum, { hand, part }) => sum + (hand === 'pair' ? 2 : 1) / (part?.of ?? 1), 0);
    const cut = Math.floor(wholes + 1e-6);
    let first = true;
    for (const list of lists) {
      const { hand, part } = list[0] as Placed;
      const name = cleanText(pieces.get(pieceId)?.name ?? pieceId);
      rows.push({
        id: layRowId(list[0] as Placed),
        key: rowKey(rows.length),
        pieceId,
        name: part ? words.length(name, part.n, part.of) : name,
        hand,
        words: words.hand(hand, cloth),
        placements: list.length,
        ...ownSize(list[0] as Placed),
        ...(first ? { cut, asked } : {}),
      });
      first = false;
    }
  }
  return rows;
}

function rank([first]: readonly Placed[]): number {
  return first ? 100 * HAND_ORDER.indexOf(first.hand) + (first.part?.n ?? 0) : 0;
}
