import type { Point } from '../../../nesting/packing/types.ts';
import type { DrawingText } from '../drawing.ts';
import { READING_LIMITS } from '../limits.ts';
import { compose, type Matrix, meanScale, rotation, translation } from '../matrix.ts';
import { planeOf } from './curves.ts';
import type { DxfDocument } from './document.ts';
import { type DxfRecord, numberOf, textOf } from './records.ts';

/** No font is at hand: letters are about this wide, lines this far apart, measured in the letters' height. */
const LETTER_WIDTH = 0.9;
const LINE_STEP = 5 / 3;

const CONTROL: Readonly<Record<string, string>> = { d: '°', p: '±', c: '⌀', '%': '%' };

/** The text of a TEXT, MTEXT or ATTRIB on the page, or null if it says nothing or stands nowhere. */
export function letteringOf(record: DxfRecord, matrix: Matrix): Omit<DrawingText, 'layer'> | null {
  const multiline = record.kind === 'MTEXT';
  const lines = (multiline ? paragraphs(record) : [controlCodes(textOf(record, 1) ?? '')])
    .map((line) => line.replace(/\s+/g, ' ').trim())
    .filter((line) => line !== '');
  if (lines.length === 0) return null;
  const height = numberOf(record, 40, 1) || 1;
  const { at, across, down, angle } = multiline ? paragraphPlace(record) : linePlace(record);
  const own = multiline ? matrix : compose(matrix, planeOf(record));
  const letters = compose(own, compose(translation(...at), rotation(angle)));
  const width = Math.max(...lines.map((line) => line.length)) * LETTER_WIDTH * height;
  const tall = height + (lines.length - 1) * LINE_STEP * height;
  const left = -across * width;
  // `down` is the share of the block's height that lies above the place it is hung at.
  const top = tall * down;
  const corners = [
    [left, top],
    [left + width, top],
    [left, top - tall],
    [left + width, top - tall],
  ].map(([x, y]) => place(letters, x as number, y as number));
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const box = { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) };
  if (!Object.values(box).every((value) => Math.abs(value) < 1e15)) return null;
  return {
    elementId: textOf(record, 5) ?? '',
    text: lines.join('\n').slice(0, READING_LIMITS.textLength),
    at: place(own, ...at),
    anchor: across === 0 ? 'start' : across === 1 ? 'end' : 'middle',
    sizeMm: height * meanScale(own),
    box,
  };
}

const place = (m: Matrix, x: number, y: number): Point => [
  m[0] * x + m[2] * y + m[4],
  m[1] * x + m[3] * y + m[5],
];

interface Hung {
  readonly at: Point;
  /** Share of the width that lies left of the place. */
  readonly across: number;
  /** Share of the height that lies above it. */
  readonly down: number;
  readonly angle: number;
}

function linePlace(record: DxfRecord): Hung {
  const across = numberOf(record, 72, 0);
  const up = numberOf(record, 73, 0) || numberOf(record, 74, 0);
  const hung = (across !== 0 || up !== 0) && record.codes.includes(11);
  const code = hung && across !== 3 && across !== 5 ? 11 : 10;
  return {
    at: [numberOf(record, code, 0), numberOf(record, code + 10, 0)],
    across: across === 1 || across === 4 ? 0.5 : across === 2 ? 1 : 0,
    down: up === 3 ? 0 : up === 2 || across === 4 ? 0.5 : 1,
    angle: numberOf(record, 50, 0),
  };
}

function paragraphPlace(record: DxfRecord): Hung {
  // 1 to 9: top, middle, bottom; left, centre, right in each.
  const attachment = Math.min(9, Math.max(1, numberOf(record, 71, 1))) - 1;
  const direction = record.codes.includes(11)
    ? (Math.atan2(numberOf(record, 21, 0), numberOf(record, 11, 1)) * 180) / Math.PI
    : numberOf(record, 50, 0);
  return {
    at: [numberOf(record, 10, 0), numberOf(record, 20, 0)],
    across: (attachment % 3) / 2,
    down: Math.floor(attachment / 3) / 2,
    angle: direction,
  };
}

/** `%%d` and the like, and `\U+00E9`. */
function controlCodes(text: string): string {
  return text
    .replace(/%%(?:([dpc%])|[uo])/gi, (_, letter: string | undefined) =>
      letter ? (CONTROL[letter.toLowerCase()] ?? '') : '',
    )
    .replace(/%%(\d{3})/g, (_, digits: string) => String.fromCharCode(Number(digits)))
    .replace(/\\U\+([0-9a-f]{4})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

/** The lines of an MTEXT without its formatting codes (DXF reference, "MTEXT" and "Format codes"). */
function paragraphs(record: DxfRecord): string[] {
  let raw = '';
  record.codes.forEach((code, i) => {
    if ((code === 3 || code === 1) && raw.length < 20_000) raw += record.values[i] ?? '';
  });
  const text = controlCodes(raw)
    .replace(/\\\\/g, '\ue001')
    .replace(/\\([{}])/g, (_, brace: string) => (brace === '{' ? '\ue002' : '\ue003'))
    .replace(/\\[Pn]/g, '\n')
    .replace(/\\~/g, ' ')
    .replace(/\\S([^;\\]{0,200})(?:;|$)/g, (_, stacked: string) => stacked.replace(/[\^#]/g, '/'))
    .replace(/\\[ACFHQTWfpc][^;\\{}\n]{0,200}(?:;|$)/g, '')
    .replace(/\\[LlOoKkX]/g, '')
    .replace(/\^[IJM]/g, ' ')
    .replace(/[{}]/g, '')
    .replace(/[\ue001-\ue003]/g, (mark) => (mark === '\ue001' ? '\\' : mark === '\ue002' ? '{' : '}'));
  return text.split('\n');
}

/** The encoding a DXF states, for `TextDecoder`: files before 2007 are in the code page of their header. */
export function encodingOf(head: string): string {
  const version = /\$ACADVER\s+1\s+AC(\d{4})/.exec(head)?.[1];
  if (version !== undefined && Number(version) >= 1021) return 'utf-8';
  const page = /\$DWGCODEPAGE\s+3\s+(?:ANSI_|DOS)?(\d{3,5})/i.exec(head)?.[1];
  if (page === undefined) return 'windows-1252';
  const named: Readonly<Record<string, string>> = {
    932: 'shift_jis',
    936: 'gbk',
    949: 'euc-kr',
    950: 'big5',
    866: 'ibm866',
    874: 'windows-874',
  };
  return named[page] ?? (/^125\d$/.test(page) ? `windows-${page}` : 'windows-1252');
}

/** The text that says in which units a D6673 file is drawn. */
export const unitsText = (document: DxfDocument): string =>
  document.entities
    .filter(({ kind }) => kind === 'TEXT')
    .map((entity) => /^\s*units\s*:\s*(\w+)/i.exec(textOf(entity, 1) ?? '')?.[1] ?? '')
    .find((found) => found !== '') ?? '';
