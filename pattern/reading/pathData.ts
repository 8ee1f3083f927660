import type { PathCommand } from './pathCommands.ts';

export interface ParsedPath {
  readonly commands: PathCommand[];
  /** Where in the text the path stops making sense; SVG draws what comes before. Null for a sound path. */
  readonly faultAt: number | null;
  /** There was more than `maxCommands`. */
  readonly cutShort: boolean;
}

const ARGUMENTS: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};

/** Reads path data by the grammar of SVG 1.1 §8.3.9 into absolute commands, shorthands (H V S T) spelled out. */
export function parsePathData(text: string, maxCommands: number): ParsedPath {
  const commands: PathCommand[] = [];
  const scanner = new Scanner(text);
  let letter = '';
  let x = 0;
  let y = 0;
  let startX = 0;
  let startY = 0;
  // Where the handle of the last curve points, for S and T; the kind of curve it belongs to.
  let handleX = 0;
  let handleY = 0;
  let handleOf: 'C' | 'Q' | '' = '';
  const v: number[] = [];

  for (;;) {
    scanner.skipSeparators();
    if (scanner.done) return { commands, faultAt: null, cutShort: false };
    const at = scanner.position;
    const command = scanner.letter();
    if (command) letter = command;
    // After a Z or before the first letter there must be one.
    else if (letter === '' || letter === 'Z' || letter === 'z')
      return { commands, faultAt: at, cutShort: false };
    const kind = letter.toUpperCase();
    const needed = ARGUMENTS[kind];
    if (needed === undefined || (commands.length === 0 && kind !== 'M'))
      return { commands, faultAt: at, cutShort: false };
    v.length = 0;
    for (let i = 0; i < needed; i++) {
      const value = kind === 'A' && (i === 3 || i === 4) ? scanner.flag() : scanner.number();
      if (value === null) return { commands, faultAt: at, cutShort: false };
      v.push(value);
    }
    if (commands.length >= maxCommands) return { commands, faultAt: null, cutShort: true };
    const relative = letter !== kind;
    const dx = relative ? x : 0;
    const dy = relative ? y : 0;
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0] = v;
    let curve: 'C' | 'Q' | '' = '';
    switch (kind) {
      case 'M':
        x = startX = a + dx;
        y = startY = b + dy;
        commands.push(['M', x, y]);
        // More pairs after a move are lines.
        letter = relative ? 'l' : 'L';
        break;
      case 'L':
        x = a + dx;
        y = b + dy;
        commands.push(['L', x, y]);
        break;
      case 'H':
        x = a + dx;
        commands.push(['L', x, y]);
        break;
      case 'V':
        y = a + dy;
        commands.push(['L', x, y]);
        break;
      case 'C':
        handleX = c + dx;
        handleY = d + dy;
        commands.push(['C', a + dx, b + dy, handleX, handleY, e + dx, f + dy]);
        x = e + dx;
        y = f + dy;
        curve = 'C';
        break;
      case 'S': {
        const x1 = handleOf === 'C' ? 2 * x - handleX : x;
        const y1 = handleOf === 'C' ? 2 * y - handleY : y;
        handleX = a + dx;
        handleY = b + dy;
        commands.push(['C', x1, y1, handleX, handleY, c + dx, d + dy]);
        x = c + dx;
        y = d + dy;
        curve = 'C';
        break;
      }
      case 'Q':
        handleX = a + dx;
        handleY = b + dy;
        commands.push(['Q', handleX, handleY, c + dx, d + dy]);
        x = c + dx;
        y = d + dy;
        curve = 'Q';
        break;
      case 'T':
        handleX = handleOf === 'Q' ? 2 * x - handleX : x;
        handleY = handleOf === 'Q' ? 2 * y - handleY : y;
        commands.push(['Q', handleX, handleY, a + dx, b + dy]);
        x = a + dx;
        y = b + dy;
        curve = 'Q';
        break;
      case 'A':
        commands.push(['A', a, b, c, d === 1, e === 1, f + dx, g + dy]);
        x = f + dx;
        y = g + dy;
        break;
      case 'Z':
        commands.push(['Z']);
        x = startX;
        y = startY;
        break;
    }
    handleOf = curve;
  }
}

/** Walks over numbers, letters and flags; each reader skips separators before it. */
class Scanner {
  position = 0;
  private readonly pattern = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
  private readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  get done(): boolean {
    return this.position >= this.text.length;
  }

  skipSeparators(): void {
    while (this.position < this.text.length) {
      const code = this.text.charCodeAt(this.position);
      // Space, tab, line feed, form feed, carriage return, comma.
      if (code === 32 || code === 9 || code === 10 || code === 12 || code === 13 || code === 44)
        this.position += 1;
      else break;
    }
  }

  letter(): string | null {
    const code = this.text.charCodeAt(this.position) | 32;
    if (code < 97 || code > 122) return null;
    this.position += 1;
    return this.text.charAt(this.position - 1);
  }

  number(): number | null {
    this.skipSeparators();
    this.pattern.lastIndex = this.position;
    const match = this.pattern.exec(this.text);
    if (!match) return null;
    this.position = this.pattern.lastIndex;
    const value = Number(match[0]);
    return Number.isFinite(value) ? value : null;
  }

  /** A single digit 0 or 1, which may stand without a separator after it. */
  flag(): number | null {
    this.skipSeparators();
    const digit = this.text.charAt(this.position);
    if (digit !== '0' && digit !== '1') return null;
    this.position += 1;
    return Number(digit);
  }
}
