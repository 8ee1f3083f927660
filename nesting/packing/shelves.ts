import type { Arrangement } from './arrangement.ts';
import type { Model } from './model.ts';
import type { StripContainer } from './types.ts';

/** A column across a strip: where the next box goes, and how far the column reaches along the strip. */
interface Column {
  readonly x: number;
  readonly end: number;
  nextY: number;
}

/** A strip being filled. */
interface Lane {
  readonly room: number;
  readonly container: number;
  readonly width: number;
  readonly columns: Column[];
  end: number;
}

/**
 * The layout that is there at once, whatever the outlines: bounding boxes in columns across the strip, longest
 * first, each into the first column with room (first fit decreasing height; Coffman, Garey, Johnson & Tarjan
 * 1980), of several strips into the one that ends first. Columns begin beyond all that is blocked. Copies beyond the
 * longest strip allowed, and those whose favourite pose is confined to a lattice, are left out. Returns how many were
 * placed.
 */
export function placeOnShelves(model: Model, arrangement: Arrangement): number {
  const { spacedBox: box, bodyBox: body } = model.poses;
  const margin = model.problem.gap / 2;
  arrangement.room.fill(-1);
  const boxes = model.copies.map(({ item }, copy) => {
    const pose = model.favouritePose(item);
    return { copy, item, pose, onFold: model.problem.items[item]?.onFold === true };
  });
  const extent = (pose: number, axis: 0 | 1) =>
    (box[4 * pose + axis + 2] as number) - (box[4 * pose + axis] as number);
  // Pieces on the fold need the foot of a column, so they open theirs first.
  boxes.sort(
    (a, b) => Number(b.onFold) - Number(a.onFold) || extent(b.pose, 0) - extent(a.pose, 0) || a.copy - b.copy,
  );
  const lanes = model.rooms.map(({ container }, room): Lane => {
    const strip = model.problem.containers[container] as StripContainer;
    const blocked = (strip.blocked ?? []).flat().map(([x]) => x);
    // Blocked places are met by the bare outline: no margin is kept to them.
    const end = Math.max(-margin, ...blocked.map((x) => x - margin));
    return { room, container, width: strip.width, columns: [], end };
  });
  let placed = 0;
  for (const { copy, item, pose, onFold } of boxes) {
    if (pose < 0) continue;
    const length = extent(pose, 0);
    const height = extent(pose, 1);
    const open = lanes.filter(
      (lane) => model.allowed[item]?.[lane.container] && height - 2 * margin <= lane.width,
    );
    const fits = (lane: Lane) => (c: Column) =>
      !onFold && c.end - c.x >= length && c.nextY + height <= lane.width + margin;
    let lane = open.find((l) => l.columns.some(fits(l)));
    let column = lane?.columns.find(fits(lane));
    if (!lane || !column) {
      lane = open.reduce<Lane | undefined>(
        (first, l) => (first && first.end <= l.end ? first : l),
        undefined,
      );
      if (!lane) continue;
      const bodyEnd = lane.end - (box[4 * pose] as number) + (body[4 * pose + 2] as number);
      if (bodyEnd > model.maxLength) continue;
      column = { x: lane.end, end: lane.end + length, nextY: -margin };
      lane.columns.push(column);
      lane.end += length;
    }
    arrangement.room[copy] = lane.room;
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
