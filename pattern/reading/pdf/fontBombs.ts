import { streamsOf, unpackedTo } from './streams.ts';

/** A font maps no more characters than this to glyphs: Unicode has fewer. The engine keeps an entry for each. */
const MOST_MAPPED = 200_000;
/** Fonts are small; longer programs are not looked through further. */
const LONGEST = 20_000_000;

/**
 * The file without font programs whose table of characters would make the engine, which unrolls it entry by entry,
 * take memory without end. Their streams are emptied in place: lettering is then read by its codes alone, which is
 * all that is wanted of it. The bytes themselves where there is none.
 */
export async function withoutFontBombs(bytes: Uint8Array): Promise<Uint8Array> {
  let sound: Uint8Array | null = null;
  for (const stream of streamsOf(bytes)) {
    const head = stream.isPacked
      ? await unpackedTo(bytes.subarray(stream.begin, Math.min(stream.end, stream.begin + HEAD)), 4)
      : bytes.subarray(stream.begin, stream.begin + 4);
    if (!isFont(head)) continue;
    const program = stream.isPacked
      ? await unpackedTo(bytes.subarray(stream.begin, stream.end), LONGEST)
      : bytes.subarray(stream.begin, stream.end);
    if (mapped(program) <= MOST_MAPPED) continue;
    sound ??= new Uint8Array(bytes);
    empty(sound, stream.dictionaryAt, stream.begin);
  }
  return sound ?? bytes;
}

/** Packed bytes that surely unpack to the first four. */
const HEAD = 512;

/** OpenType and TrueType begin with one of these (OpenType 1.9, "Font file"). */
const isFont = (head: Uint8Array): boolean =>
  ['\0\x01\0\0', 'true', 'typ1', 'OTTO', 'ttcf'].includes(String.fromCharCode(...head.subarray(0, 4)));

/**
 * How many entries the character tables of a font make at the most (OpenType 1.9, "cmap"). No end of them where a table
 * lies beyond what could be unpacked: the engine unpacks what is broken in its own way.
 */
function mapped(program: Uint8Array): number {
  const view = new DataView(program.buffer, program.byteOffset, program.byteLength);
  const u16 = (at: number): number => (at >= 0 && at + 2 <= view.byteLength ? view.getUint16(at) : 0);
  const u32 = (at: number): number => (at >= 0 && at + 4 <= view.byteLength ? view.getUint32(at) : 0);
  const tag = (at: number): string => String.fromCharCode(...program.subarray(at, at + 4));
  // A collection holds several fonts, which no PDF has a use for.
  if (tag(0) === 'ttcf') return Number.POSITIVE_INFINITY;
  let most = 0;
  const tables = u16(4);
  if (program.length < 12 + 16 * tables || program.length < 12) return Number.POSITIVE_INFINITY;
  for (let i = 0; i < tables; i++) {
    const entry = 12 + 16 * i;
    if (tag(entry) !== 'cmap') continue;
    const table = u32(entry + 8);
    if (table + u32(entry + 12) > program.length) return Number.POSITIVE_INFINITY;
    for (let k = 0; k < u16(table + 2); k++)
      most = Math.max(most, subtable(table + u32(table + 4 + 8 * k + 4), u16, u32));
  }
  return most;
}

type Read = (at: number) => number;

function subtable(at: number, u16: Read, u32: Read): number {
  let entries = 0;
  switch (u16(at)) {
    case 2:
      // 256 keys of eight times a number, the headers after them: how many codes each stands for.
      for (let key = 0; key < 256; key++) entries += u16(at + 6 + 512 + u16(at + 6 + 2 * key) + 2);
      return entries;
    case 4: {
      const segments = u16(at + 6) >> 1;
      for (let i = 0; i < segments; i++)
        entries += Math.max(0, u16(at + 14 + 2 * i) - u16(at + 16 + 2 * (segments + i)) + 1);
      return entries;
    }
    case 12: {
      const groups = u32(at + 12);
      // Of more groups than that one each would do.
      if (groups > MOST_MAPPED) return groups;
      for (let i = 0; i < groups; i++)
        entries += Math.max(0, u32(at + 20 + 12 * i) - u32(at + 16 + 12 * i) + 1);
      return entries;
    }
    default:
      // The others hold an entry a byte or two at the most.
      return 0;
  }
}

const ENDS = 'endstream\nendobj\n';

/** Makes a stream one without content: nothing before or after it moves. */
function empty(bytes: Uint8Array, dictionaryAt: number, begin: number): void {
  const write = (text: string, at: number): void => {
    for (let i = 0; i < text.length; i++) bytes[at + i] = text.charCodeAt(i);
  };
  const dictionary = String.fromCharCode(...bytes.subarray(dictionaryAt, begin));
  for (const match of dictionary.matchAll(/\/Length\s+\d+(?:\s+\d+\s+R)?|\/Filter\s*(?:\[[^\]]*\]|\/\w+)/g)) {
    const blank = match[0].startsWith('/Length') ? '/Length 0' : '';
    write(blank.padEnd(match[0].length), dictionaryAt + match.index);
  }
  write(ENDS, begin);
}
