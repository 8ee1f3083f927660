/** English words for why a line of a cut list can't be read. The words such lists are written in stand in `../words.ts`. */
export const measureEn = {
  lineTooLong: (letters: number, most: number) =>
    `The line has ${letters} characters; a line of a cut list has at most ${most}.`,
  listTooLong: (lines: number, most: number) =>
    `The list has ${lines} lines; at most ${most} can be read at once.`,
  noMeasures: 'There are no measurements: write both sides, such as 30 x 20 cm.',
  oneSide: (length: string) => `Only one side is given (${length}): the other is missing.`,
  round: 'A round piece has no two sides: add it under “Type measurements”, “Other shapes”.',
  whichSides: 'Which numbers are the two sides? Write an x between them, such as 30 x 20 cm.',
  manyNumbers: (count: number) => `${count} numbers are multiplied: a flat piece has two sides.`,
  threeNumbers:
    'Three numbers are multiplied: a flat piece has two sides. Write the count apart, such as “2 pcs” or “(2)”.',
  twoCounts: (counts: string) => `Two counts are given, ${counts}: which one holds?`,
  and: (parts: readonly string[]) => parts.join(' and '),
  oddPairs: (copies: number) => `${copies} copies can’t be cut in mirrored pairs.`,
  notWhole: (count: string) => `The count ${count} is not a whole number.`,
  negativeCount: 'The count is negative.',
  zeroCount: 'The count is zero.',
  tooMany: (copies: number, most: number) => `${copies} copies are too many: at most ${most} in a project.`,
  sides: { width: 'width', height: 'height', length: 'length' },
  sameSides: (side: string) => `Both sides are called the ${side}: which one is across?`,
  whichUnit: (value: string, unit: string) =>
    `Is the ${value} in ${unit} too? Write a unit after both numbers.`,
  negativeSide: (length: string) => `A side is negative: −${length}.`,
  zeroSide: 'A side is zero.',
  longSide: (length: string, metres: number) => `A side of ${length} is too long: at most ${metres} m.`,
  threeSides: 'Width, height and length are given: a flat piece has two sides.',
  secondMissing: 'The second side is missing.',
  sidesMissing: (names: string, count: number) => `The ${names} ${count > 1 ? 'are' : 'is'} missing.`,
  sideUnread: (side: string, text: string) => `The ${side} “${text}” can’t be read.`,
  countUnread: (text: string) => `The count “${text}” can’t be read.`,
  whichCount: 'Which of the three numbers is the count? Write it as “2 pcs”.',
  numbersInRow: (count: number) =>
    `There ${count === 1 ? 'is one number' : `are ${count || 'no'} numbers`} in the row: width, height and, if you like, the count are needed.`,
};

export type MeasureWords = typeof measureEn;
