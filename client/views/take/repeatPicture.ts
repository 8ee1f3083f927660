import { PAPER } from '../../../pattern/plan/tokens.ts';

/** Longest side that a picture of a repeat is kept with, in pixels: finer than anyone sees it here. */
const MOST_PX = 900;
/** Tried in turn until the picture is small enough. */
const QUALITIES = [0.85, 0.7, 0.5] as const;
const MOST_LETTERS = 400_000;

/**
 * A file from the maker as a picture that can be kept with a cloth: made smaller, and written anew, so that nothing but
 * the picture is left of it. Null where it is none, or can't be made small enough.
 */
export async function readRepeatPicture(file: Blob): Promise<string | null> {
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file);
  } catch {
    return null;
  }
  const scale = Math.min(1, MOST_PX / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const context = canvas.getContext('2d');
  if (!context) return null;
  context.fillStyle = PAPER;
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  for (const quality of QUALITIES) {
    const address = canvas.toDataURL('image/jpeg', quality);
    if (address.length <= MOST_LETTERS) return address;
  }
  return null;
}
