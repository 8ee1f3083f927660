import { type Arrangement, usedLength } from './arrangement.ts';
import type { Model, Room } from './model.ts';

/** Above anything that length or number of sheets can cost: area without a place counts first. */
const UNPLACED_WEIGHT = 1e6;

/** A later sheet costs this much more than the one before it: earlier ones are preferred. */
const LATER_SHEET = 1e-3;

/** Rewards a sheet left nearly empty: one step further to a sheet less. */
const CONCENTRATION = 1e-2;

/**
 * What an arrangement costs; less is better. First the share of the area that found no place; then, on a strip,
 * the length, in sizes; on sheets their number, earlier ones cheaper, full and empty ones cheaper than half full.
 */
export function cost(model: Model, arrangement: Arrangement): number {
  let unplaced = 0;
  const areas = new Float64Array(model.rooms.length);
  model.copies.forEach(({ item }, i) => {
    const area = model.itemArea[item] as number;
    const room = arrangement.room[i] as number;
    if (room < 0) unplaced += area;
    else areas[room] = (areas[room] as number) + area;
  });
  const missing = (UNPLACED_WEIGHT * unplaced) / (model.totalArea || 1);
  if (model.stripWidth > 0) return missing + usedLength(model, arrangement) / model.size;
  let sheets = 0;
  areas.forEach((area, room) => {
    if (area === 0) return;
    const { container } = model.rooms[room] as Room;
    const fill = area / (model.containerArea[container] as number);
    sheets += 1 + LATER_SHEET * room - CONCENTRATION * fill * fill;
  });
  return missing + sheets;
}

/** Rooms in use. */
export function roomsUsed(model: Model, arrangement: Arrangement): number {
  const used = new Uint8Array(model.rooms.length);
  for (const room of arrangement.room) if (room >= 0) used[room] = 1;
  return used.reduce((sum, one) => sum + one, 0);
}
