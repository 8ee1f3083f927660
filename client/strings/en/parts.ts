import { many } from './words.ts';

/** Parts of one piece, and how they are joined: in the import and on the piece. */

export const parts = {
  title: 'Parts',
  importTitle: 'Parts of one piece',
  importLead: (count: number) =>
    `${many(count, 'letter')} at edges ${count === 1 ? 'tells' : 'tell'} which outlines belong together.`,
  pair: (letter: string, first: string, second: string, length: string) =>
    `${letter}: ${first} with ${second}, ${length}`,
  lone: (letter: string, name: string, edge: string) => `${letter} at ${name}, ${edge}: no partner here`,
  unlike: (off: string) => `The edges differ by ${off}, so they are not joined.`,
  choiceOf: (letter: string) => `What becomes of ${letter}`,
  choices: {
    butt: 'Join edge against edge',
    lap: 'Lay one over the other',
    later: 'Join later, on the piece',
    never: 'It is no joint',
  },
  lapMm: 'By how much',
  notTaken: 'Joined once both outlines are taken.',
  takeBoth: 'Take both',
  takenBoth: (first: string, second: string) => `Take both: ${first} and ${second}`,
  ownTitle: 'Join at edges you choose',
  firstPiece: 'First',
  firstEdge: 'Its edge',
  secondPiece: 'Second',
  secondEdge: 'Its edge',
  way: 'How',
  ways: { butt: 'edge against edge', lap: 'one over the other' },
  plan: 'Plan this joint',
  forgetPlanned: (letter: string) => `Forget joint ${letter}`,
  edge: (length: string, side: string) => `${length}, ${side}`,
  ownName: (number: number) => `#${number}`,
  /** On the piece. */
  madeOf: (names: readonly string[]) => `Put together from ${names.join(' and ')}.`,
  joint: (letter: string) => (letter === '' ? 'Joint' : `Joint ${letter}`),
  takeApart: 'Take apart',
  takeApartHelp: 'Undoes the last joint: both parts come back as pieces.',
  openTitle: 'Belongs together with',
  openAt: (letter: string, edge: string) => `${letter}, at ${edge}:`,
  missing: 'its partner is not among the pieces.',
  missingHelp: 'Bring in the drawing that holds it, join it at an edge below, or forget the letter.',
  severalHelp: 'Several pieces have this letter. Join it at an edge below.',
  joinWith: (name: string) => `Join with ${name}`,
  forget: (letter: string) => `Forget ${letter}`,
  joinOther: 'Join it with another piece',
  join: 'Join',
  preview: (first: string, second: string) => `${first} and ${second} joined`,
  joined: (first: string, second: string) => `${second} is now a part of ${first}.`,
  apart: (first: string, second: string) => `${first} and ${second} are pieces of their own again.`,
  grainDiffers: (degrees: number) =>
    `The grain lines of the parts differ by ${degrees}° once joined; that of the first counts.`,
  /** In the drawing. */
  grainSeen: (degrees: string, by: 'arrow' | 'word') =>
    by === 'arrow'
      ? `The arrow drawn on it is its grain (${degrees})`
      : `The line called grain is its grain (${degrees})`,
  foldSeen: (edge: string, by: 'bracket' | 'word') =>
    by === 'bracket'
      ? `The edge the bracket points to lies on the fold (${edge})`
      : `The edge marked “fold” lies on the fold (${edge})`,
};
