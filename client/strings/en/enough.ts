import { many } from './words.ts';

/** Is it enough? What would make a cloth do. */

export const enough = {
  ask: 'What would make it fit?',
  askHelp: 'Tries single concessions one after the other, and shows those with which everything has a place.',
  title: 'What would make it fit',
  judging: 'Looking once more at the layout itself …',
  trying: (tried: number, of: number) => `Trying what could give way: ${tried} of ${of} …`,
  stop: 'Stop',
  again: 'Ask again',
  fitsAfterAll: 'It fits after all: more time has found places for everything. Lay it out again.',
  found: (count: number) => `${many(count, 'way')} found, the one that costs you least in front:`,
  none: (of: number) =>
    `None of ${many(of, 'single concession')} was found to be enough. Two together may be, or a larger cloth.`,
  noneYet: 'None found yet.',
  missing: (names: string) => `Without a place so far: ${names}.`,
  short: (by: string) => `The shortest layout found is ${by} longer than what there is.`,
  doIt: 'Do it',
  done: (what: string) => `Done: ${what}. Lay the cloth out again to see it in the plan.`,
  failed: (reason: string) => `The question could not be answered: ${reason}`,
  picture: (what: string) => `Layout with this: ${what}`,
  times: (name: string, copies: number) => (copies > 1 ? `${copies} × ${name}` : name),
  say: {
    unfold: (cloth: string) => `Lay ${cloth} in a single layer instead of doubled`,
    alsoCloth: (cloth: string) => `Take ${cloth} as well`,
    gap: (cloth: string, to: string) => `Leave only ${to} between the pieces on ${cloth}`,
    noGap: (cloth: string) => `Leave no gap between the pieces on ${cloth}`,
    margin: (cloth: string, to: string) => `Leave only ${to} along the edges of ${cloth}`,
    noMargin: (cloth: string) => `Use ${cloth} right up to its edges`,
    tilt: (cloth: string, degrees: number) =>
      `Let pieces tilt by up to ${degrees}° off the grain on ${cloth}`,
    join: (piece: string, allowance: string) =>
      `Make ${piece} from two lengths, with ${allowance} for the seam at each`,
    joinWidth: (piece: string, allowance: string) =>
      `Make ${piece} from two widths, with ${allowance} for the seam at each`,
    butt: (piece: string) => `Make ${piece} from two lengths, butted edge to edge`,
    buttWidth: (piece: string) => `Make ${piece} from two widths, butted edge to edge`,
    crosswise: (piece: string) => `Let ${piece} lie across the grain as well`,
    otherMaterial: (piece: string, material: string) => `Cut ${piece} from ${material}`,
    eitherWay: (cloth: string) => `Let pieces point either way on ${cloth}, though it shows`,
    shorter: (piece: string, by: string) => `Make ${piece} shorter by ${by}`,
  },
};
