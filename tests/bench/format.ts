import { z } from 'zod';
import type {
  Container,
  Item,
  Layout,
  Outline,
  Placement,
  Problem,
  SearchMethod,
  SearchResult,
} from '../../nesting/packing/types.ts';

/** The engine's ways to search, the one in use first. */
export const METHODS: readonly [SearchMethod, ...SearchMethod[]] = ['separation', 'annealing'];

/** The neutral problem and layout files of the open benchmark folder, in the units of their sources. */

const outline = z.array(z.tuple([z.number(), z.number()])).min(3);
const pieceSchema = z.object({
  id: z.coerce.string(),
  quantity: z.number().int().min(0),
  mirroredQuantity: z.number().int().min(0).default(0),
  rotations: z.union([z.literal('any'), z.array(z.number()).min(1)]),
  outline,
});
const sheetSchema = z.object({
  id: z.coerce.string(),
  quantity: z.number().int().min(1),
  outline,
  holes: z.array(outline).default([]),
  flaws: z.array(outline).default([]),
});

export const problemFileSchema = z
  .object({
    name: z.string(),
    stripWidth: z.number().positive().optional(),
    sheets: z.array(sheetSchema).min(1).optional(),
    pieces: z.array(pieceSchema),
    publishedBestDensityPercent: z.object({ '2006': z.number(), '2013': z.number() }).optional(),
    answer: z.enum(['fits', 'cannot fit']).optional(),
  })
  .refine((file) => (file.stripWidth === undefined) !== (file.sheets === undefined), {
    message: 'a problem has either a stripWidth or sheets',
  });
export type ProblemFile = z.infer<typeof problemFileSchema>;

/** A layout file: which piece lies where, in the words of the benchmark folder. */
export interface LayoutFile {
  readonly problem: string;
  readonly seconds: number;
  readonly seed: number;
  readonly threads: number;
  readonly verdict: SearchResult['verdict'];
  readonly reason?: string;
  readonly placements: readonly {
    readonly piece: string;
    readonly copy: number;
    readonly sheet?: string;
    /** Counted from 1. */
    readonly sheetCopy?: number;
    readonly rotation: number;
    readonly mirrored: boolean;
    readonly x: number;
    readonly y: number;
  }[];
}

const PLAIN = 'plain';
const MIRRORED = 'mirrored';
const STRIP = 'strip';

/**
 * Turns a problem file into a packing problem. Copies as drawn and mirrored copies of a piece are different demands,
 * so they become two items, named `plain 7` and `mirrored 7`.
 */
export function toProblem(file: ProblemFile): Problem {
  const containers: Container[] = file.sheets
    ? file.sheets.map(({ id, quantity, outline, holes, flaws }) => ({
        kind: 'sheet',
        id,
        quantity,
        outline,
        blocked: [...holes, ...flaws],
      }))
    : [{ kind: 'strip', id: STRIP, width: file.stripWidth! }];
  const items = file.pieces.flatMap((piece) => [
    ...itemOf(piece, PLAIN, piece.quantity),
    ...itemOf(piece, MIRRORED, piece.mirroredQuantity),
  ]);
  return { name: file.name, containers, items, gap: 0 };
}

function itemOf(piece: ProblemFile['pieces'][number], hand: string, quantity: number): Item[] {
  if (quantity === 0) return [];
  const mirrored = hand === MIRRORED;
  const angles = piece.rotations === 'any' ? [0] : piece.rotations;
  return [
    {
      id: `${hand} ${piece.id}`,
      outline: piece.outline,
      quantity,
      poses: angles.map((rotation) => ({ rotation, mirrored })),
      ...(piece.rotations === 'any' ? { anyAngle: true } : {}),
    },
  ];
}

/** Turns an answer back into the benchmark's words. */
export function toLayoutFile(
  file: ProblemFile,
  result: SearchResult,
  { seconds, seed, threads }: { readonly seconds: number; readonly seed: number; readonly threads: number },
): LayoutFile {
  return {
    problem: file.name,
    seconds,
    seed,
    threads,
    verdict: result.verdict,
    ...(result.impossible ? { reason: result.impossible.reason } : {}),
    placements: result.layout.placements.map((placement) => placedIn(file, placement)),
  };
}

function placedIn(file: ProblemFile, placement: Placement): LayoutFile['placements'][number] {
  const { item, copy, container, containerCopy, rotation, mirrored, x, y } = placement;
  const space = item.indexOf(' ');
  const piece = item.slice(space + 1);
  const before = item.slice(0, space) === MIRRORED ? file.pieces.find(({ id }) => id === piece)!.quantity : 0;
  const where = file.sheets ? { sheet: container, sheetCopy: containerCopy + 1 } : {};
  return { piece, copy: before + copy, ...where, rotation, mirrored, x, y };
}

/** Area of all placed copies in per cent of strip width × used length; for an empty strip 0. */
export function densityPercent(problem: Problem, layout: Layout): number {
  const strip = problem.containers.find((container) => container.kind === 'strip');
  if (!strip || layout.length === 0) return 0;
  const area = new Map(problem.items.map(({ id, outline }) => [id, areaOf(outline)]));
  const placed = layout.placements.reduce((sum, { item }) => sum + area.get(item)!, 0);
  return (100 * placed) / (strip.width * layout.length);
}

export function areaOf(outline: Outline): number {
  const twice = outline.reduce((sum, [x, y], i) => {
    const [u, v] = outline[(i + 1) % outline.length]!;
    return sum + x * v - u * y;
  }, 0);
  return Math.abs(twice) / 2;
}
