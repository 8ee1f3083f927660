import { READING_LIMITS } from './limits.ts';
import type { Warnings } from './warnings.ts';
import { sayExternal, type XmlElement } from './xmlTree.ts';

/** What one element may ask of a selector: a name, an id, classes. '' and [] ask nothing. */
interface Compound {
  readonly name: string;
  readonly id: string;
  readonly classes: readonly string[];
  /** How it hangs on the compound before it: anywhere inside it, or a child of it. */
  readonly relation: 'inside' | 'child';
}

interface Rule {
  /** From the outermost to the element itself. */
  readonly selector: readonly Compound[];
  readonly specificity: number;
  readonly declarations: readonly Declaration[];
}

interface Declaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
}

interface Found {
  readonly weight: number;
  readonly declarations: readonly Declaration[];
}

/** Longest head of a rule: a list of selectors. */
const MAX_HEAD = 20_000;
const MAX_CLASSES = 2_000;

/** Comparisons of selectors with elements over a whole drawing. */
const MATCH_BUDGET = 20_000_000;

/** The style sheets of a drawing: simple selectors only (element, .class, #id, lists, inside, child). */
export class StyleSheet {
  private readonly rules: Rule[] = [];
  private comparisons = 0;
  private readonly warnings: Warnings;

  constructor(texts: readonly string[], warnings: Warnings) {
    this.warnings = warnings;
    const text = texts
      .join('\n')
      .replace(/\/\*[\s\S]*?(?:\*\/|$)/g, ' ')
      .replace(/<!--|-->/g, ' ');
    if (text.length > READING_LIMITS.styleCharacters)
      warnings.once(
        'limit',
        'The style rules of the file are longer than any pattern needs; they were left out.',
      );
    else this.add(text, 0);
  }

  /** What the sheets and the element's own attributes say of it: later and more specific ones win. */
  declarations(element: XmlElement): Map<string, string> {
    const found: Found[] = [];
    if (this.comparisons > MATCH_BUDGET) return this.withOwn(found, element);
    this.rules.forEach((rule, order) => {
      if (this.matches(rule.selector, element))
        found.push({
          weight: rule.specificity + order / (this.rules.length + 1),
          declarations: rule.declarations,
        });
    });
    found.sort((p, q) => p.weight - q.weight);
    return this.withOwn(found, element);
  }

  private withOwn(found: Found[], element: XmlElement): Map<string, string> {
    const own = element.attributes.get('style');
    if (own) found.push({ weight: Number.POSITIVE_INFINITY, declarations: parseDeclarations(own) });
    const result = new Map<string, string>();
    for (const important of [false, true]) {
      for (const { declarations } of found) {
        for (const declaration of declarations)
          if (declaration.important === important) result.set(declaration.property, declaration.value);
      }
    }
    return result;
  }

  private add(text: string, depth: number): void {
    let at = 0;
    // Looked for anew only once passed, so that a hostile sheet is walked over once.
    let open = text.indexOf('{');
    let semicolon = text.indexOf(';');
    while (at < text.length) {
      if (open >= 0 && open < at) open = text.indexOf('{', at);
      if (semicolon >= 0 && semicolon < at) semicolon = text.indexOf(';', at);
      const head = text.slice(at, Math.min(open < 0 ? text.length : open, at + MAX_HEAD)).trim();
      if (head.startsWith('@') && semicolon >= 0 && (open < 0 || semicolon < open)) {
        if (head.startsWith('@import')) sayExternal(this.warnings);
        at = semicolon + 1;
        continue;
      }
      if (open < 0) return;
      const close = endOfBlock(text, open);
      if (!head.startsWith('@')) this.addRule(head, text.slice(open + 1, close));
      else if (depth < 3 && /^@media\s+(all|screen)$/.test(head))
        this.add(text.slice(open + 1, close), depth + 1);
      else if (!head.startsWith('@font-face'))
        this.warnings.once(
          'not-understood',
          'Some style rules of the file hold only under conditions; they were left out.',
        );
      at = close + 1;
    }
  }

  private addRule(head: string, body: string): void {
    const declarations = parseDeclarations(body);
    if (declarations.length === 0) return;
    for (const part of head.split(',')) {
      const selector = parseSelector(part.trim());
      if (!selector) {
        this.warnings.once(
          'not-understood',
          'Some style rules of the file are worded in ways that are not understood here; they were left out.',
        );
        continue;
      }
      if (this.rules.length >= READING_LIMITS.styleRules) {
        this.warnings.once(
          'limit',
          `The file has more than ${READING_LIMITS.styleRules} style rules; the rest were left out.`,
        );
        return;
      }
      let specificity = 0;
      for (const compound of selector)
        specificity +=
          (compound.id ? 1_000_000 : 0) + compound.classes.length * 1_000 + (compound.name ? 1 : 0);
      this.rules.push({ selector, specificity, declarations });
    }
  }

  private matches(selector: readonly Compound[], element: XmlElement): boolean {
    this.comparisons += 1;
    if (this.comparisons > MATCH_BUDGET) {
      this.warnings.once(
        'limit',
        'The style rules of the file are too many for its elements; some were not applied.',
      );
      return false;
    }
    const last = selector[selector.length - 1];
    if (!last || !matchesCompound(last, element)) return false;
    if (selector.length === 1) return true;
    const rest = selector.slice(0, -1);
    for (let outer = element.parent; outer; outer = outer.parent) {
      if (this.matches(rest, outer)) return true;
      if (last.relation === 'child') return false;
    }
    return false;
  }
}

function matchesCompound(compound: Compound, element: XmlElement): boolean {
  if (compound.name && compound.name !== element.name) return false;
  if (compound.id && compound.id !== element.attributes.get('id')) return false;
  if (compound.classes.length === 0) return true;
  const classes = (element.attributes.get('class') ?? '').slice(0, MAX_CLASSES).split(/\s+/);
  return compound.classes.every((name) => classes.includes(name));
}

/** Null for selectors with anything but names, classes, ids, spaces and `>`. */
function parseSelector(text: string): Compound[] | null {
  if (text === '') return null;
  const compounds: Compound[] = [];
  let relation: Compound['relation'] = 'inside';
  for (const token of text.replace(/>/g, ' > ').trim().split(/\s+/)) {
    if (token === '>') {
      relation = 'child';
      continue;
    }
    const match = /^(\*|[\w-]+)?((?:[.#][\w-]+)*)$/.exec(token);
    if (!match) return null;
    const parts = (match[2] ?? '').match(/[.#][\w-]+/g) ?? [];
    compounds.push({
      name: match[1] === '*' ? '' : (match[1] ?? ''),
      id: parts.find((part) => part.startsWith('#'))?.slice(1) ?? '',
      classes: parts.filter((part) => part.startsWith('.')).map((part) => part.slice(1)),
      relation,
    });
    relation = 'inside';
  }
  return compounds.length > 0 && compounds.length <= 10 ? compounds : null;
}

function parseDeclarations(text: string): Declaration[] {
  const declarations: Declaration[] = [];
  for (const part of text.split(';')) {
    const colon = part.indexOf(':');
    if (colon < 0) continue;
    const value = part.slice(colon + 1).trim();
    const mark = value.lastIndexOf('!');
    const important =
      mark >= 0 &&
      value
        .slice(mark + 1)
        .trim()
        .toLowerCase() === 'important';
    const plain = important ? value.slice(0, mark).trim() : value;
    if (plain === '') continue;
    declarations.push({
      property: part.slice(0, colon).trim().toLowerCase(),
      value: plain,
      important,
    });
  }
  return declarations;
}

/** Index of the brace that closes the one at `open`; the text's end if it is missing. */
function endOfBlock(text: string, open: number): number {
  let depth = 0;
  for (let at = open; at < text.length; at++) {
    if (text[at] === '{') depth += 1;
    if (text[at] === '}') {
      depth -= 1;
      if (depth === 0) return at;
    }
  }
  return text.length;
}
