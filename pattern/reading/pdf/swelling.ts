import { streamsOf, unpack } from './streams.ts';

/** Compressed streams shorter than this can't swell to anything that matters: deflate packs 1032 to 1 at the best. */
const SMALL_BYTES = 20_000;

/**
 * Whether what a PDF holds packed (pictures aside, which are never unpacked) swells to more than `most` bytes in all.
 * The engine unpacks a stream whole before it looks at it, so this must be known before.
 */
export async function swellsBeyond(bytes: Uint8Array, most: number): Promise<boolean> {
  let left = most;
  for (const { begin, end, isPacked } of streamsOf(bytes)) {
    if (!isPacked || end - begin < SMALL_BYTES) continue;
    await unpack(bytes.subarray(begin, end), (part) => {
      left -= part.length;
      return left >= 0;
    });
    if (left < 0) return true;
  }
  return false;
}
