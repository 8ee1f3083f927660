import type { Greys } from '../../pattern/photo/catchEdge.ts';

/** A picture ready to be shown: upright, with its size in pixels. */
export interface Photo {
  readonly url: string;
  readonly width: number;
  readonly height: number;
  /** How bright its pixels are, for catching on edges. */
  readonly greys: Greys;
}

/** Photos are shrunk to this many pixels a side: as fine as a click. */
const MOST_PX = 4_000;

/** Opens a picture file the way it was held. @throws if the browser can't show it */
export async function openPhoto(file: Blob): Promise<Photo> {
  const bitmap = await createImageBitmap(file);
  const shrink = Math.min(1, MOST_PX / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(bitmap.width * shrink);
  canvas.height = Math.round(bitmap.height * shrink);
  const context = canvas.getContext('2d');
  if (!context) throw new Error('the picture could not be drawn');
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const greys = greysOf(context.getImageData(0, 0, canvas.width, canvas.height));
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.92));
  if (!blob) throw new Error('the picture could not be drawn');
  return { url: URL.createObjectURL(blob), width: canvas.width, height: canvas.height, greys };
}

/** Luma of ITU-R BT.601, as pictures are stored by. */
function greysOf({ width, height, data }: ImageData): Greys {
  const values = new Uint8Array(width * height);
  for (let i = 0; i < values.length; i++)
    values[i] = 0.299 * (data[4 * i] ?? 0) + 0.587 * (data[4 * i + 1] ?? 0) + 0.114 * (data[4 * i + 2] ?? 0);
  return { width, height, values };
}
