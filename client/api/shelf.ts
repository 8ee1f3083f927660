import {
  type ShelfChangeInput,
  type ShelfEntry,
  shelfChangedSchema,
  shelfSchema,
} from '../../pattern/exchange/shelf.ts';
import { call } from './http.ts';

export interface ShelfChanged {
  readonly entries: readonly ShelfEntry[];
  readonly change: number;
}

export async function readShelf(): Promise<readonly ShelfEntry[]> {
  return (await call('GET', '/api/shelf', shelfSchema)).entries;
}

export function changeShelf(change: ShelfChangeInput): Promise<ShelfChanged> {
  return call('POST', '/api/shelf/changes', shelfChangedSchema, change);
}

export function undoShelfChange(change: number): Promise<ShelfChanged> {
  return call('POST', `/api/shelf/changes/${change}/undo`, shelfChangedSchema, {});
}
