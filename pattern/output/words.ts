/** English words of lists and sheets that go to the table, so that another language is another file. */

export const TICKS = {
  title: 'Tick list',
  parts: 'By part',
  held: 'Held back: cut these last, to measure',
  progress: (done: number, total: number) =>
    done === total ? `all ${total} cut` : `${done} of ${total} cut`,
  size: (size: string, isOpened: boolean) => (isOpened ? `${size} opened` : size),
  hands: { plain: 'plain', mirrored: 'mirrored', fold: 'on fold' },
} as const;
