import type { ClothLay, Project } from '../exchange/project.ts';
import type { ShelfPlan } from '../exchange/shelf.ts';
import { clothFrame } from '../plan/clothFrame.ts';

type Ring = ShelfPlan['outline'];

/** A sketch needs no finer outlines than this. */
const MOST_POINTS = 60;
/** Nor more of them; more pieces than that are a blur. */
const MOST_PLACED = 500;
const MOST_NAMES = 200;

/**
 * A lay as it is kept with the cloth on the shelf: what it is for, which pieces, and a sketch.
 *
 * @param name how it is laid, in words
 * @param now ISO time
 */
export function shelfPlan(
  project: Project,
  lay: ClothLay,
  { projectId, name, now }: { readonly projectId: string; readonly name: string; readonly now: string },
): ShelfPlan {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  const frame = clothFrame(lay, cloth);
  const shifted = (ring: Ring, [dx, dy]: readonly [number, number]): Ring =>
    coarse(ring).map(([x, y]) => [tenths(x + dx), tenths(y + dy)] as const);
  const [first] = frame.stretches;
  const box = (length: number, depth: number): Ring => [
    [0, 0],
    [length, 0],
    [length, depth],
    [0, depth],
  ];
  const sheet = first?.segment.outline;
  const outline =
    sheet && first
      ? shifted(sheet, first.originMm)
      : box(Math.max(1, frame.toMm), Math.max(1, frame.depthMm));
  // Of several sheets alike the first is sketched; the names are those of all.
  const drawn = sheet ? frame.stretches.slice(0, 1) : frame.stretches;
  const placed = drawn.flatMap(({ segment, originMm }) =>
    segment.placed.map((piece) => shifted(piece.outline, originMm)),
  );
  return {
    projectId,
    projectName: project.name,
    at: now,
    name,
    pieces: countedPieces(project, lay),
    outline,
    placed: placed.slice(0, MOST_PLACED),
  };
}

/** How many of each piece a lay gives, by name; a pair is two. */
function countedPieces({ pieces }: Project, { segments }: ClothLay): ShelfPlan['pieces'] {
  const counts = new Map<string, number>();
  for (const { pieceId, hand } of segments.flatMap(({ placed }) => placed)) {
    const name = pieces.find(({ id }) => id === pieceId)?.name ?? pieceId;
    counts.set(name, (counts.get(name) ?? 0) + (hand === 'pair' ? 2 : 1));
  }
  return [...counts].slice(0, MOST_NAMES).map(([name, copies]) => ({ name, copies }));
}

/** Every so-manieth point of a fine outline. */
function coarse(ring: Ring): Ring {
  const step = Math.ceil(ring.length / MOST_POINTS);
  return step <= 1 ? ring : ring.filter((_, i) => i % step === 0);
}

const tenths = (mm: number): number => Math.round(mm * 10) / 10;
