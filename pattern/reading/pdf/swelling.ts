/** Compressed streams shorter than this can't swell to anything that matters: deflate packs 1032 to 1 at the best. */
const SMALL_BYTES = 20_000;
const STEP = 1_000_000;
/** How far before its stream a dictionary begins. */
const DICTIONARY = 2_000;

/**
 * Whether what a PDF holds packed (pictures aside, which are never unpacked) swells to more than `most` bytes in all.
 * The engine unpacks a stream whole before it looks at it, so this must be known before.
 */
export async function swellsBeyond(bytes: Uint8Array, most: number): Promise<boolean> {
  let left = most;
  for (const stream of packedStreams(bytes)) {
    left -= await unpackedLength(stream, left);
    if (left < 0) return true;
  }
  return false;
}

/** The packed content of each large stream that is no picture. */
function* packedStreams(bytes: Uint8Array): Generator<Uint8Array> {
  const decoder = new TextDecoder('latin1');
  const word = /stream\r?\n/g;
  for (let at = 0; at < bytes.length; at += STEP) {
    const from = Math.max(0, at - DICTIONARY);
    const text = decoder.decode(bytes.subarray(from, at + STEP + 10));
    word.lastIndex = at - from;
    for (let match = word.exec(text); match; match = word.exec(text)) {
      if (match.index + from >= at + STEP) break;
      if (text.slice(match.index - 3, match.index) === 'end') continue;
      const head = text.slice(Math.max(0, match.index - DICTIONARY), match.index);
      const dictionary = head.slice(head.lastIndexOf(' obj') + 1);
      if (!/\/(?:FlateDecode|Fl)\b/.test(dictionary) || /\/Subtype\s*\/Image\b/.test(dictionary)) continue;
      const begin = from + match.index + match[0].length;
      const length = Number(/\/Length\s+(\d+)(?!\s+\d+\s+R)/.exec(dictionary)?.[1] ?? Number.NaN);
      // A length that is kept elsewhere or wrong: the unpacking ends by itself.
      const end = length > 0 && begin + length <= bytes.length ? begin + length : bytes.length;
      if (end - begin >= SMALL_BYTES) yield bytes.subarray(begin, end);
    }
  }
}

/** How long a stream is unpacked, counted no further than beyond `most`; what is broken counts as far as it goes. */
async function unpackedLength(packed: Uint8Array, most: number): Promise<number> {
  const unpacking = new DecompressionStream('deflate');
  const writer = unpacking.writable.getWriter();
  // Its end is seen by the reader; what comes after the packed data is an error to the writer alone.
  const written = writer.write(new Uint8Array(packed)).then(
    () => writer.close(),
    () => undefined,
  );
  const reader = unpacking.readable.getReader();
  let length = 0;
  try {
    for (;;) {
      const { done, value } = (await reader.read()) as { done: boolean; value?: Uint8Array };
      if (done) break;
      length += value?.length ?? 0;
      if (length > most) {
        await reader.cancel();
        break;
      }
    }
  } catch {
    // Broken or locked: the engine will say so.
  }
  void written.catch(() => undefined);
  return length;
}
