import type { Placed } from '../exchange/project.ts';
import { layRowId } from '../plan/layRows.ts';

/** Tells a placement from every other of its lay. */
export function placementKey(placed: Placed): string {
  return `${layRowId(placed)} ${placed.copy}`;
}
