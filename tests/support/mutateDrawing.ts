import { deflateSync, inflateSync } from 'node:zlib';
import type { Random } from '../../nesting/packing/random.ts';
import type { SeedDrawing } from './seedDrawings.ts';

/** Numbers at which arithmetic and limits break. */
const NUMBERS = [
  '0',
  '-0',
  '-1',
  '1e-320',
  '1e9',
  '-1e9',
  '1e38',
  '1e308',
  '9e999',
  'NaN',
  'Infinity',
  '2147483648',
  '4294967296',
  '0.0000001',
  '1.5',
  '-',
  '.',
  '1..2',
  '99999999999999999999',
];

const WORDS: Readonly<Record<SeedDrawing['kind'], readonly string[]>> = {
  svg: [
    '<g>',
    '</g>',
    '<svg width="0">',
    '<use href="#a"/>',
    '&a;',
    'url(#a)',
    'matrix(0 0 0 0 0 0)',
    'rotate(1e300)',
    'A0 0 0 1 1 5 5',
    'c',
    'Z',
    'M',
    'style="display:none"',
    'transform="scale(1e12)"',
    '<!--',
    ']]>',
    '%',
    'em',
    '"',
    '>',
  ],
  dxf: [
    '0\nSECTION\n',
    '0\nENDSEC\n',
    '0\nINSERT\n2\nPAIR\n',
    '0\nINSERT\n2\nBUCKLE\n70\n30000\n71\n30000\n44\n1\n45\n1\n',
    '0\nSPLINE\n71\n25\n',
    '0\nSEQEND\n',
    '0\nVERTEX\n',
    '42\n1e300\n',
    '210\n0\n220\n0\n230\n-1\n',
    '41\n0\n',
    '40\n0\n',
    '0\nEOF\n',
    '999\n',
    '\n',
  ],
  pdf: [
    '<<',
    '>>',
    'endstream',
    'endobj',
    'stream\n',
    '/Length 0',
    '1 0 R',
    '100 0 R',
    '102 0 R',
    'q ',
    'Q ',
    '0 0 0 0 0 0 cm ',
    '1e9 0 0 1e9 0 0 cm ',
    '/X Do ',
    'W n ',
    're S ',
    'BT ',
    'ET ',
    '[1e9 -1] 0 d ',
    '/OC /L BDC ',
    'EMC ',
    '(',
    '<',
    '[[[[[[[[',
    '/Kids [2 0 R]',
    '/Rotate 45',
    '/UserUnit 0',
    '/MediaBox [0 0 0 0]',
  ],
};

/** A sound file with some of its bytes, numbers, words and parts changed; the same for the same stream of numbers. */
export function mutated(
  { kind, bytes }: SeedDrawing,
  others: readonly SeedDrawing[],
  random: Random,
): Uint8Array {
  let text = Buffer.from(bytes).toString('latin1');
  if (kind === 'pdf' && random.unit() < 0.8) text = withStreams(text, (content) => change(content));
  else text = change(text);
  return new Uint8Array(Buffer.from(text, 'latin1'));

  function change(content: string): string {
    let now = content;
    for (let left = 1 + random.below(6); left > 0; left--) now = once(now);
    return now;
  }

  function once(content: string): string {
    const at = random.below(content.length + 1);
    const to = Math.min(content.length, at + 1 + random.below(random.unit() < 0.2 ? 20_000 : 60));
    const words = WORDS[kind];
    // Most other changes to an SVG are caught by the parser at once.
    if (kind === 'svg' && random.unit() < 0.6) return numberChanged(content, at);
    switch (random.below(9)) {
      case 0:
        return content.slice(0, at) + content.slice(to);
      case 1: {
        // A part again, and again.
        const part = content.slice(at, to);
        return content.slice(0, to) + part.repeat(1 + random.below(40)) + content.slice(to);
      }
      case 2:
        return content.slice(0, at) + String.fromCharCode(random.below(256)) + content.slice(at + 1);
      case 3:
        return content.slice(0, at) + (words[random.below(words.length)] as string) + content.slice(at);
      case 4:
        return random.unit() < 0.1 ? content.slice(0, at) : numberChanged(content, at);
      case 5: {
        const same = others.filter((other) => other.kind === kind);
        const other = same[random.below(same.length)];
        if (!other) return content;
        const donor = Buffer.from(other.bytes).toString('latin1');
        const from = random.below(donor.length);
        return content.slice(0, at) + donor.slice(from, from + 1 + random.below(2_000)) + content.slice(at);
      }
      case 6: {
        // Two lines change places.
        const lines = content.split('\n');
        const [i, j] = [random.below(lines.length), random.below(lines.length)];
        [lines[i], lines[j]] = [lines[j] as string, lines[i] as string];
        return lines.join('\n');
      }
      default:
        return numberChanged(content, at);
    }
  }

  /** The next number after a place becomes another. */
  function numberChanged(content: string, at: number): string {
    const number = /-?\d+(?:\.\d+)?/g;
    number.lastIndex = at;
    const found = number.exec(content) ?? /-?\d+(?:\.\d+)?/.exec(content);
    if (!found) return content;
    const value = Number(found[0]);
    const choices = [...NUMBERS, String(value * 1e6), String(-value), String(value + 1), String(value / 7)];
    const other = choices[random.below(choices.length)] as string;
    return content.slice(0, found.index) + other + content.slice(found.index + found[0].length);
  }

  /** What a PDF's streams hold changed, packed ones packed again; sometimes the rest of the file instead. */
  function withStreams(file: string, edit: (content: string) => string): string {
    const places = [...file.matchAll(/stream\r?\n/g)].filter(
      ({ index }) => file.slice(index - 3, index) !== 'end',
    );
    const place = places[random.below(Math.max(1, places.length))];
    if (!place) return edit(file);
    const from = place.index + place[0].length;
    const to = file.indexOf('endstream', from);
    if (to < 0) return edit(file);
    const dictionary = file.slice(file.lastIndexOf(' obj', place.index), place.index);
    const body = file.slice(from, to);
    if (!dictionary.includes('FlateDecode')) return file.slice(0, from) + edit(body) + file.slice(to);
    try {
      const plain = inflateSync(Buffer.from(body, 'latin1')).toString('latin1');
      const packed = deflateSync(Buffer.from(edit(plain), 'latin1')).toString('latin1');
      const stated = file
        .slice(0, from)
        .replace(/\/Length\s+\d+(?![\s\S]*\/Length)/, `/Length ${packed.length}`);
      return `${stated}${packed}\n${file.slice(to)}`;
    } catch {
      return file.slice(0, from) + edit(body) + file.slice(to);
    }
  }
}
