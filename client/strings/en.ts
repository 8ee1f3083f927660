import * as cloths from './en/cloths.ts';
import { did } from './en/commands.ts';
import * as cutList from './en/cutList.ts';
import * as cutting from './en/cutting.ts';
import * as drawing from './en/drawing.ts';
import * as enough from './en/enough.ts';
import * as frame from './en/frame.ts';
import * as hand from './en/hand.ts';
import * as parts from './en/parts.ts';
import * as pieces from './en/pieces.ts';
import * as plan from './en/plan.ts';
import * as shelf from './en/shelf.ts';
import * as shop from './en/shop.ts';

/** Every word on the page, in English: one file a part of the page, one object a view. */
export const en = {
  lang: 'en',
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

export type Strings = typeof en;
