import { elevenMetres, manySmall } from '../plan/extremeLays.ts';
import { remnant, singleLayer, twoSegments } from '../plan/sampleLays.ts';
import type { Sample } from '../support/handmadeLays.ts';

/** Lays of every kind by what they are, for what is to hold of any lay. */
export const SAMPLES: readonly (readonly [string, () => Sample])[] = [
  ['a single layer', singleLayer],
  ['a folded part and an open one', twoSegments],
  ['a remnant', remnant],
  ['many small pieces', manySmall],
  ['eleven metres', elevenMetres],
];
