/** What others may use of the engine. Everything else in this folder is its own business. */
export * from './cloth/index.ts';
export { type LengthBound, lengthBound } from './packing/lengthBound.ts';
export { search } from './packing/search.ts';
export type * from './packing/types.ts';
