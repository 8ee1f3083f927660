import type { Arrangement } from './arrangement.ts';
import type { Model } from './model.ts';

/** A column across the strip: where the next box goes, and how far the column reaches along the strip. */
interface Column {
  readonly x: number;
  readonly end: number;
  nextY: number;
}

/**
 * The layout that is there at once, whatever the outlines: bounding boxes in columns across the strip, longest
 * first, each into the first column with room (first fit decreasing height; Coffman, Garey, Johnson & Tarjan
 * 1980). Copies beyond the longest strip allowed are left out. Returns how many were placed.
 */
export function placeOnShelves(model: Model, arrangement: Arrangement): number {
  const { spacedBox: box, bodyBox: body } = model.poses;
  const margin = model.problem.gap / 2;
  const top = model.stripWidth + margin;
  arrangement.room.fill(-1);
  const boxes = model.copies.map(({ item }, copy) => {
    const pose = model.favouritePose(item);
    return { copy, pose, onFold: model.problem.items[item]?.onFold === true };
  });
  const extent = (pose: number, axis: 0 | 1) =>
    (box[4 * pose + axis + 2] as number) - (box[4 * pose + axis] as number);
  // Pieces on the fold need the foot of a column, so they open theirs first.
  boxes.sort(
    (a, b) => Number(b.onFold) - Number(a.onFold) || extent(b.pose, 0) - extent(a.pose, 0) || a.copy - b.copy,
  );
  const columns: Column[] = [];
  let end = -margin;
  let placed = 0;
  for (const { copy, pose, onFold } of boxes) {
    if (pose < 0) continue;
    const length = extent(pose, 0);
    const height = extent(pose, 1);
    let column = columns.find((c) => !onFold && c.end - c.x >= length && c.nextY + height <= top);
    if (!column) {
      const bodyEnd = end - (box[4 * pose] as number) + (body[4 * pose + 2] as number);
      if (bodyEnd > model.maxLength) continue;
      column = { x: end, end: end + length, nextY: -margin };
      columns.push(column);
      end += length;
    }
    arrangement.room[copy] = 0;
    arrangement.pose[copy] = pose;
    // A corner's arc is drawn around, so the spaced box may be a hair larger than the margin: never below the edge.
    arrangement.x[copy] = Math.max(column.x - (box[4 * pose] as number), -(body[4 * pose] as number));
    arrangement.y[copy] =
      column.nextY === -margin
        ? -(body[4 * pose + 1] as number)
        : column.nextY - (box[4 * pose + 1] as number);
    column.nextY = (arrangement.y[copy] as number) + (box[4 * pose + 3] as number);
    placed++;
  }
  return placed;
}
