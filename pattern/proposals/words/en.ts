/** English words about drawings that are not true to size. */
export const sizeEn = {
  tooSmall: (percent: string) => `${percent} % too small`,
  tooLarge: (percent: string) => `${percent} % too large`,
  both: (across: string, up: string) => `${across} across and ${up} up`,
  notice: (file: string, off: string, count: number, piece: string) =>
    `Not true to size: by its test square ${file} is ${off} (${count} ${count === 1 ? 'piece' : 'pieces'}). Open ${piece} to correct it, or to leave it as it is.`,
  warning: (file: string, off: string) => `Not true to size – ${file} is ${off} by its test square.`,
};

export type SizeWords = typeof sizeEn;
