/** English words for why sheets can't be put together as typed. */
export const pagesEn = {
  nothing: 'Type the numbers of the pages, one row of sheets a line.',
  noPage: (row: number, word: string) => `Row ${row}: “${word}” is no page; type numbers, and – for a gap.`,
  tooMany: (most: number) => `More than ${most} sheets in a row or column can’t be put together.`,
  unread: (page: number) => `There is no page ${page} among those that are read.`,
  twice: (page: number) => `Page ${page} stands twice; each sheet has one place.`,
  tooFew: 'At least two sheets are needed to put together.',
};

export type PagesWords = typeof pagesEn;
