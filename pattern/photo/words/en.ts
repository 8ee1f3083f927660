/** English words for why a photo can't be measured. */
export const photoEn = {
  noSize: 'Say how large the thing of known size is.',
  fewCorners: 'Click at least three corners of the outline.',
  crossed: 'The corners of the known thing cross: drag them into order.',
  horizon: 'The outline runs towards the horizon of the photo: take it from further above.',
  empty: 'The outline encloses nothing.',
  inLine: 'Three of the four corners lie in line: drag each to its own corner.',
};

export type PhotoWords = typeof photoEn;
