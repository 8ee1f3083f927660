import { boundingBox } from '../../nesting/geometry/rings.ts';
import { setsTimes } from '../cutList/sets.ts';
import { pieceIn } from '../cutList/sizing.ts';
import type { ClothLay, CutRow, Piece, Project } from '../exchange/project.ts';
import { checkPiece, pieceSize, wholeShape } from '../pieces/index.ts';
import { cleanText } from '../plan/text.ts';
import type { CutStep } from './cutting/cuttingOrder.ts';
import { placementKey } from './placements.ts';

/** A piece of cloth that the cut list asks for: what gets a tick once it is cut. */
export type CutHand = 'plain' | 'mirrored' | 'fold';

export interface TickItem {
  /** How the tick is kept with the project. */
  readonly mark: string;
  readonly hand: CutHand;
  /** 1 … of so many in this hand. */
  readonly copy: number;
  readonly of: number;
}

/** All copies of a piece in one material. */
export interface TickPart {
  readonly pieceId: string;
  readonly materialId: string;
  readonly name: string;
  readonly material: string;
  /** To be cut last, to measure. */
  readonly held: boolean;
  /** Cut size in this material, as drawn where there are sets of several sizes; missing where the piece has faults. */
  readonly size?: { readonly widthMm: number; readonly heightMm: number };
  /** The size is that of the piece opened out: it is cut on the fold. */
  readonly isOpened: boolean;
  readonly items: readonly TickItem[];
}

const HANDS: readonly (readonly [CutHand, 'plain' | 'mirrored' | 'onFold'])[] = [
  ['plain', 'plain'],
  ['mirrored', 'mirrored'],
  ['fold', 'onFold'],
];

function pieceMark(materialId: string, pieceId: string, hand: CutHand, copy: number): string {
  return `cut ${materialId} ${pieceId} ${hand} ${copy}`;
}

/** Everything to cut, in the order of the cut list; what is held back comes last. */
export function tickParts(project: Project): TickPart[] {
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const materials = new Map(project.materials.map((material) => [material.id, material]));
  const times = setsTimes(project);
  const parts = project.cutList.flatMap((row: CutRow): TickPart[] => {
    const items = HANDS.flatMap(([hand, count]) =>
      Array.from({ length: times * row[count] }, (_, i): TickItem => {
        const copy = i + 1;
        return {
          mark: pieceMark(row.materialId, row.pieceId, hand, copy),
          hand,
          copy,
          of: times * row[count],
        };
      }),
    );
    if (items.length === 0) return [];
    const piece = pieces.get(row.pieceId);
    const material = materials.get(row.materialId);
    const isSound = piece && !checkPiece(piece).some(({ level }) => level === 'error');
    const sized = isSound ? pieceIn(piece, material) : null;
    const isOpened = row.onFold > 0 && row.plain + row.mirrored === 0;
    const size = sized?.ok ? (isOpened ? wholeSize(sized.piece) : pieceSize(sized.piece)) : undefined;
    return [
      {
        pieceId: row.pieceId,
        materialId: row.materialId,
        name: cleanText(piece?.name ?? row.pieceId),
        material: cleanText(material?.name ?? row.materialId),
        held: row.heldBack === true,
        isOpened,
        ...(size ? { size: { widthMm: size.widthMm, heightMm: size.heightMm } } : {}),
        items,
      },
    ];
  });
  return [...parts.filter(({ held }) => !held), ...parts.filter(({ held }) => held)];
}

function wholeSize(piece: Piece): { widthMm: number; heightMm: number } {
  const { minX, maxX, minY, maxY } = boundingBox(wholeShape(piece).outline);
  return { widthMm: maxX - minX, heightMm: maxY - minY };
}

export interface Progress {
  readonly done: number;
  readonly total: number;
}

/** How many of these are ticked. */
export function progressOf(parts: readonly TickPart[], ticks: ReadonlySet<string>): Progress {
  const items = parts.flatMap((part) => part.items);
  return { done: items.filter(({ mark }) => ticks.has(mark)).length, total: items.length };
}

/**
 * Which pieces of the cut list each placement gives, by `placementKey`, for lays of one material that are cut one
 * after the other (remnants, then one roll): a pair gives two, and a placement of either hand what is still open.
 * What the cut list doesn't count, such as the second length of a joined strap, has a mark of its own place.
 */
export function placementMarks(
  lays: readonly ClothLay[],
  project: Project,
): Map<string, readonly string[]>[] {
  const open = new Map<string, TickItem[]>();
  for (const { pieceId, materialId, items } of tickParts(project)) {
    for (const item of items) {
      const key = `${materialId} ${pieceId} ${item.hand}`;
      open.set(key, [...(open.get(key) ?? []), item]);
    }
  }
  return lays.map((lay) => {
    const marks = new Map<string, readonly string[]>();
    for (const placed of lay.segments.flatMap(({ placed: list }) => list)) {
      const take = (...hands: CutHand[]): string[] => {
        for (const hand of hands) {
          const item = open.get(`${placed.guestOf ?? lay.materialId} ${placed.pieceId} ${hand}`)?.shift();
          if (item) return [item.mark];
        }
        return [];
      };
      const given = {
        plain: () => take('plain'),
        mirrored: () => take('mirrored'),
        fold: () => take('fold'),
        either: () => take('plain', 'mirrored'),
        pair: () => [...take('plain', 'mirrored'), ...take('mirrored', 'plain')],
      }[placed.hand]();
      const own = `place ${lay.clothId} ${lay.spread} ${placementKey(placed)}`;
      marks.set(placementKey(placed), given.length > 0 ? given : [own]);
    }
    return marks;
  });
}

/** Mark of a step of the cutting; a step that changes has another one. */
export function stepMark(lay: Pick<ClothLay, 'clothId' | 'spread'>, { work, frees }: CutStep): string {
  return `step ${lay.clothId} ${lay.spread} ${fnv1a(JSON.stringify([work, frees]))}`;
}

/** 32-bit FNV-1a (Fowler, Noll and Vo; public domain) as hex digits. */
function fnv1a(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, '0');
}
