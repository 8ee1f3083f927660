import type { DrawnPoint, TextItem } from './drawing.ts';
import { cosSin, type Ring, rectangle, turned } from './intervals.ts';
import { labelPoint } from './labelPoint.ts';
import { CAP_HEIGHT, DESCENT, inTwo, isolate, LEADING, shorten, textWidth } from './text.ts';
import { type Role, TEXT } from './tokens.ts';

export interface LabelLine {
  readonly text: string;
  readonly role: Role;
}

/** What is to be said on a piece. */
export interface LabelWords {
  readonly name: string;
  /** Key and copy as in the table: `B3`. */
  readonly tag: string;
  /** `3 of 4`. */
  readonly copy: string;
  readonly handLong: string;
  readonly handShort: string;
  /** `310 × 145 mm`. */
  readonly size: string;
  /** Cut later: hatched over. */
  readonly held?: boolean;
  /** What stands beside the mark of its top. */
  readonly top: string;
}

/** Where and how a label fits: which of the ways to say it, turned by `rotation` about the page's corner. */
export interface LabelFit {
  readonly way: number;
  /** 0 says all, and the hand in full; `LAST_TIER` is the tag alone. */
  readonly tier: number;
  readonly rotation: number;
  /** Centre on the page. */
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

/** A label as drawn: its lines, the box of all of it and of each line. */
export interface SetLabel {
  readonly items: readonly TextItem[];
  readonly box: Ring;
  readonly lineBoxes: readonly Ring[];
}

/** Room around several lines and around a single one, as a share of the font size. */
const PADDING = { across: 0.6, lines: 0.35, line: 0.08, tag: 0.2 } as const;
/** Names are shortened to this width in the size they are drawn in, times that size. */
const NAME_EMS = 16;

interface Way {
  readonly lines: readonly LabelLine[];
  /** Ways of one tier compete for size; a lower tier comes first. */
  readonly tier: number;
  /** Not taken below this size. */
  readonly atLeast: number;
}

/** Texts of this size are as easy to read as any; smaller ones give way to shorter words. */
const COMFORTABLE = 3.2;

/**
 * Ways to say it: all of it with the hand in full, then with the hand in short, then without the size, then the
 * tag and the hand, then the tag alone (whose meaning the table gives).
 */
function waysToSay(words: LabelWords): Way[] {
  const strong = (text: string): LabelLine => ({ text, role: 'piece-name' });
  const plain = (text: string): LabelLine => ({ text, role: 'piece-label' });
  const { tag, copy, handLong, handShort, size } = words;
  const name = isolate(shorten(words.name, NAME_EMS, 1, 'piece-name'));
  const halves = inTwo(shorten(words.name, NAME_EMS * 2, 1, 'piece-name'))?.map((half) =>
    strong(isolate(shorten(half, NAME_EMS, 1, 'piece-name'))),
  );
  const ways: Way[] = [];
  const add = (tier: number, ...lines: LabelLine[]) =>
    ways.push({ lines, tier, atLeast: tier === 0 ? COMFORTABLE : TEXT.least });
  add(0, strong(name), plain(`${tag} · ${copy}`), plain(handLong), plain(size));
  add(0, strong(name), plain(`${tag} · ${copy} · ${handLong}`), plain(size));
  add(0, strong(`${name} · ${tag} · ${copy} · ${handLong} · ${size}`));
  add(1, strong(name), plain(`${tag} · ${copy}`), plain(handShort), plain(size));
  add(1, strong(name), plain(`${tag} · ${copy} · ${handShort}`), plain(size));
  add(1, strong(name), plain(`${tag} · ${copy} · ${handShort} · ${size}`));
  add(1, strong(`${name} · ${tag} · ${copy} · ${handShort} · ${size}`));
  if (halves) {
    add(1, ...halves, plain(`${tag} · ${copy}`), plain(handShort), plain(size));
    add(1, ...halves, plain(`${tag} · ${copy} · ${handShort}`), plain(size));
  }
  add(2, strong(name), plain(`${tag} · ${copy}`), plain(handShort));
  add(2, strong(name), plain(`${tag} · ${copy} · ${handShort}`));
  add(2, strong(`${name} · ${tag} · ${copy} · ${handShort}`));
  if (halves) add(2, ...halves, plain(`${tag} · ${copy}`), plain(handShort));
  add(3, strong(tag), plain(copy), plain(handShort));
  add(3, strong(`${tag} · ${copy}`), plain(handShort));
  add(3, strong(`${tag} · ${copy} · ${handShort}`));
  add(4, strong(tag), plain(handShort));
  add(4, strong(`${tag} · ${handShort}`));
  add(LAST_TIER, strong(tag));
  return ways;
}

/** The tier of the tag alone. */
export const LAST_TIER = 5;

/**
 * The fullest label that fits inside the rings at `TEXT.least` or more (and no larger than `most`), upright if it
 * can be, else turned; `null` if not even the tag fits. `fromTier` leaves fuller ones out.
 */
export function fitLabel(
  rings: readonly Ring[],
  words: LabelWords,
  most: number,
  fromTier: number,
): LabelFit | null {
  const outer = rings[0];
  if (!outer || outer.length < 3) return null;
  const rotations = [0, -90];
  const slanted = longestEdgeAngle(outer);
  if (slanted !== 0 && slanted !== -90) rotations.push(slanted);
  const frames = rotations.map((rotation) => ({
    rotation,
    rings: rings.map((ring) => turned(ring, -rotation)),
  }));
  const ways = waysToSay(words);
  let best: LabelFit | null = null;
  for (let tier = fromTier; tier <= LAST_TIER && !best; tier++) {
    for (const frame of frames) {
      if (best && best.size >= Math.min(COMFORTABLE, most)) break;
      // The hand in full is no reason to turn the words.
      if (tier === 0 && frame.rotation !== 0) break;
      for (const [i, way] of ways.entries()) {
        if (way.tier !== tier) continue;
        const { width, height } = blockSize(way.lines);
        const atLeast = Math.max(Math.min(way.atLeast, most), best ? best.size + 0.1 : 0);
        if (atLeast > most) continue;
        const point = labelPoint(frame.rings, width, height, atLeast, most);
        if (!point) continue;
        const [x, y] = turned([[point.x, point.y]], frame.rotation)[0] as DrawnPoint;
        best = { way: i, tier, rotation: frame.rotation, x, y, size: point.size };
      }
    }
  }
  return best;
}

/** Sets the words of a piece as fitted, perhaps for another copy of it in which they are as wide. */
export function setLabel(words: LabelWords, fit: LabelFit): SetLabel {
  return set((waysToSay(words)[fit.way] as Way).lines, fit);
}

function set(lines: readonly LabelLine[], fit: Omit<LabelFit, 'way' | 'tier'>): SetLabel {
  const { rotation, size } = fit;
  const [x, y] = turned([[fit.x, fit.y]], -rotation)[0] as DrawnPoint;
  const top = y - ((lines.length - 1) * LEADING + CAP_HEIGHT + DESCENT) * size * 0.5;
  const items: TextItem[] = [];
  const lineBoxes: Ring[] = [];
  lines.forEach(({ text, role }, i) => {
    const baseline = top + (CAP_HEIGHT + i * LEADING) * size;
    const at = turned([[x, baseline]], rotation)[0] as DrawnPoint;
    items.push({ kind: 'text', role, x: at[0], y: at[1], size, anchor: 'middle', rotation, text });
    const half = textWidth(text, size, role) / 2 + 0.15 * size;
    const box = rectangle(
      x - half,
      baseline - (CAP_HEIGHT + 0.15) * size,
      2 * half,
      (CAP_HEIGHT + DESCENT + 0.3) * size,
    );
    lineBoxes.push(turned(box, rotation));
  });
  const { width, height } = blockSize(lines);
  const w = width * size;
  const h = height * size;
  return { items, lineBoxes, box: turned(rectangle(x - w / 2, y - h / 2, w, h), rotation) };
}

/** The tag alone about a point, fits or not, in the least size. */
export function tagLabel(tag: string, x: number, y: number): SetLabel {
  return set([{ text: tag, role: 'piece-name' }], { rotation: 0, x, y, size: TEXT.least });
}

/** Width and height of the lines with padding, for a font size of 1. */
function blockSize(lines: readonly LabelLine[]): { width: number; height: number } {
  const short = lines.length === 1 && (lines[0] as LabelLine).text.length <= 5;
  return {
    width:
      Math.max(...lines.map(({ text, role }) => textWidth(text, 1, role))) +
      (short ? PADDING.tag : PADDING.across),
    height:
      (lines.length - 1) * LEADING + CAP_HEIGHT + DESCENT + (lines.length > 1 ? PADDING.lines : PADDING.line),
  };
}

/** Direction of the longest edge as an angle that reads without standing on one's head: −90° to 90°, clockwise. */
function longestEdgeAngle(ring: Ring): number {
  let longest = 0;
  let angle = 0;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i] as DrawnPoint;
    const [bx, by] = ring[(i + 1) % ring.length] as DrawnPoint;
    const length = Math.hypot(bx - ax, by - ay);
    if (length > longest + 1e-6) {
      longest = length;
      angle = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
    }
  }
  const half = ((((angle + 90) % 180) + 180) % 180) - 90;
  // An edge that is all but level or upright is read as such.
  if (Math.abs(half) < 1) return 0;
  if (Math.abs(half) > 89) return -90;
  return half;
}

/** Unit vector on paper of a direction on cloth (degrees counter-clockwise, y up). */
export function onPaper(degrees: number): DrawnPoint {
  const [cos, sin] = cosSin(degrees);
  return [cos, sin === 0 ? 0 : -sin];
}
