import { turnBy } from '../geometry/transforms.ts';
import type { Model } from './model.ts';
import type { Layout, Placement } from './types.ts';

/** Where every copy lies, in flat arrays; copies are numbered as in the model. A copy without a room is not placed. */
export class Arrangement {
  /** Room number, or −1. */
  readonly room: Int32Array;
  readonly pose: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;

  constructor(copies: number) {
    this.room = new Int32Array(copies).fill(-1);
    this.pose = new Int32Array(copies);
    this.x = new Float64Array(copies);
    this.y = new Float64Array(copies);
  }

  get size(): number {
    return this.room.length;
  }

  copyFrom(other: Arrangement): void {
    this.room.set(other.room);
    this.pose.set(other.pose);
    this.x.set(other.x);
    this.y.set(other.y);
  }

  clone(): Arrangement {
    const copy = new Arrangement(this.size);
    copy.copyFrom(this);
    return copy;
  }
}

/** Largest x of any body on the strip; 0 if nothing is placed. */
export function usedLength(model: Model, arrangement: Arrangement): number {
  let length = 0;
  const { bodyBox } = model.poses;
  for (let i = 0; i < arrangement.size; i++)
    if ((arrangement.room[i] as number) >= 0)
      length = Math.max(
        length,
        (arrangement.x[i] as number) + (bodyBox[4 * (arrangement.pose[i] as number) + 2] as number),
      );
  return length;
}

/** The arrangement as plain data. */
export function toLayout(model: Model, arrangement: Arrangement): Layout {
  const placements: Placement[] = [];
  const unplaced: { item: string; copy: number }[] = [];
  let length = 0;
  model.copies.forEach(({ item: itemIndex, copy }, i) => {
    const item = model.problem.items[itemIndex];
    const room = model.rooms[arrangement.room[i] as number];
    if (!item) return;
    const container = room && model.problem.containers[room.container];
    if (!room || !container) {
      unplaced.push({ item: item.id, copy });
      return;
    }
    const pose = arrangement.pose[i] as number;
    const rotation = model.poses.rotation[pose] as number;
    const mirrored = model.poses.mirrored[pose] === 1;
    const x = arrangement.x[i] as number;
    placements.push({
      item: item.id,
      copy,
      container: container.id,
      containerCopy: room.copy,
      rotation,
      mirrored,
      x,
      y: arrangement.y[i] as number,
    });
    if (container.kind === 'strip') {
      const { cos, sin } = turnBy(rotation);
      const flip = mirrored ? -1 : 1;
      for (const [px, py] of item.outline) length = Math.max(length, px * flip * cos - py * sin + x);
    }
  });
  return { placements, unplaced, length };
}

/**
 * The arrangement of a layout of the same problem; null if something in it is unknown here, for instance
 * an angle that this model does not have among its poses.
 */
export function fromLayout(model: Model, layout: Layout): Arrangement | null {
  const { problem, poses } = model;
  const arrangement = new Arrangement(model.copies.length);
  const first = new Map<string, number>();
  model.copies.forEach(({ item, copy }, i) => {
    if (copy === 0) first.set(problem.items[item]?.id ?? '', i);
  });
  for (const placement of layout.placements) {
    const i = (first.get(placement.item) ?? Number.NaN) + placement.copy;
    const item = model.copies[i]?.item;
    if (item === undefined) return null;
    const pose = model.itemPoses[item]?.find(
      (p) => poses.rotation[p] === placement.rotation && (poses.mirrored[p] === 1) === placement.mirrored,
    );
    const room = model.rooms.findIndex(
      ({ container, copy }) =>
        copy === placement.containerCopy && problem.containers[container]?.id === placement.container,
    );
    if (pose === undefined || room < 0) return null;
    arrangement.room[i] = room;
    arrangement.pose[i] = pose;
    arrangement.x[i] = placement.x;
    arrangement.y[i] = placement.y;
  }
  return arrangement;
}
