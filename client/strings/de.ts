import * as cloths from './de/cloths.ts';
import { did } from './de/commands.ts';
import * as cutList from './de/cutList.ts';
import * as cutting from './de/cutting.ts';
import * as drawing from './de/drawing.ts';
import * as enough from './de/enough.ts';
import * as frame from './de/frame.ts';
import * as hand from './de/hand.ts';
import * as parts from './de/parts.ts';
import * as pieces from './de/pieces.ts';
import * as plan from './de/plan.ts';
import * as shelf from './de/shelf.ts';
import * as shop from './de/shop.ts';
import type { Strings } from './en.ts';

/** Every word on the page, in German: the files of `en/` once more, each with the type of its English twin. */
export const de: Strings = {
  lang: 'de',
  did,
  ...frame,
  ...pieces,
  ...parts,
  ...drawing,
  ...cutList,
  ...cloths,
  ...plan,
  ...cutting,
  ...hand,
  ...enough,
  ...shelf,
  ...shop,
};
