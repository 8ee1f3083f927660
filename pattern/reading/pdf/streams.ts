/** Where a stream of a PDF lies in the file. */
export interface PdfStream {
  /** Its dictionary, or a little before; what is packed; the end of the file where no length is told. */
  readonly dictionaryAt: number;
  readonly begin: number;
  readonly end: number;
  /** By deflate; other ways of packing are rare. */
  readonly isPacked: boolean;
}

const STEP = 1_000_000;
/** How far before its stream a dictionary begins. */
const DICTIONARY = 2_000;

/** The streams of a PDF but for pictures, which are never unpacked. Streams themselves are never packed in others. */
export function* streamsOf(bytes: Uint8Array): Generator<PdfStream> {
  const decoder = new TextDecoder('latin1');
  const word = /stream\r?\n/g;
  for (let at = 0; at < bytes.length; at += STEP) {
    const from = Math.max(0, at - DICTIONARY);
    const text = decoder.decode(bytes.subarray(from, at + STEP + 10));
    word.lastIndex = at - from;
    for (let match = word.exec(text); match; match = word.exec(text)) {
      if (match.index + from >= at + STEP) break;
      if (text.slice(match.index - 3, match.index) === 'end') continue;
      const headAt = Math.max(0, match.index - DICTIONARY);
      const head = text.slice(headAt, match.index);
      const dictionaryAt = headAt + head.lastIndexOf(' obj') + 1;
      const dictionary = text.slice(dictionaryAt, match.index);
      if (/\/Subtype\s*\/Image\b/.test(dictionary)) continue;
      const begin = from + match.index + match[0].length;
      const length = Number(/\/Length\s+(\d+)\b(?!\s+\d+\s+R)/.exec(dictionary)?.[1] ?? Number.NaN);
      // A length that is kept elsewhere or wrong: up to the word that ends it.
      const end = length > 0 && begin + length <= bytes.length ? begin + length : endOf(bytes, begin);
      const isPacked = /\/(?:FlateDecode|Fl)\b/.test(dictionary);
      yield { dictionaryAt: from + dictionaryAt, begin, end, isPacked };
    }
  }
}

const END = [...'endstream'].map((letter) => letter.charCodeAt(0));

function endOf(bytes: Uint8Array, begin: number): number {
  for (let at = bytes.indexOf(END[0] as number, begin); at >= 0; at = bytes.indexOf(END[0] as number, at + 1))
    if (END.every((code, i) => bytes[at + i] === code)) return at;
  return bytes.length;
}

/** The first bytes that a packed stream unpacks to, `most` of them; of what is broken as many as there are. */
export async function unpackedTo(packed: Uint8Array, most: number): Promise<Uint8Array> {
  const whole = new Uint8Array(Math.min(most, MOST_SWELLING * packed.length));
  let length = 0;
  await unpack(packed, (part) => {
    const kept = part.subarray(0, whole.length - length);
    whole.set(kept, length);
    length += kept.length;
    return length < whole.length;
  });
  return whole.subarray(0, length);
}

/** Bytes handed over at a time. */
const SLICE = 8_192;

/** Deflate packs 1032 to 1 at the best. */
const MOST_SWELLING = 1_032;

/** Unpacks a stream part by part for as long as it is asked to go on; what is broken goes as far as it goes. */
export async function unpack(packed: Uint8Array, take: (part: Uint8Array) => boolean): Promise<void> {
  const unpacking = new DecompressionStream('deflate');
  const writer = unpacking.writable.getWriter();
  // Bit by bit, so that what comes before something broken is out by then. The end is seen by the reader; what comes
  // after the packed data is an error to the writer alone.
  const write = async (): Promise<void> => {
    for (let at = 0; at < packed.length; at += SLICE) {
      await writer.ready;
      await writer.write(new Uint8Array(packed.subarray(at, at + SLICE)));
    }
    await writer.close();
  };
  write().catch(() => undefined);
  const reader = unpacking.readable.getReader();
  try {
    for (;;) {
      const { done, value } = (await reader.read()) as { done: boolean; value?: Uint8Array };
      if (done) break;
      if (value && !take(value)) {
        await reader.cancel();
        break;
      }
    }
  } catch {
    // Broken or locked: the engine will say so.
  }
}
