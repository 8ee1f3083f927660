import { SaxesParser } from 'saxes';
import { READING_LIMITS } from './limits.ts';
import { Refusal } from './refusal.ts';
import type { Warnings } from './warnings.ts';

/** One element of the drawing. Elements of other vocabularies (metadata, editors' notes) are not in the tree. */
export interface XmlElement {
  /** Without prefix: `rect`, `g`. */
  readonly name: string;
  /**
   * Without prefix for SVG's own and for `href` and `label`, whatever prefix those carry; `line-role` is a note of
   * editors that a `tspan` is a line of its own.
   */
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly (XmlElement | string)[];
  readonly parent: XmlElement | null;
  /** Number in the document, from 0. */
  readonly order: number;
}

export interface XmlDocument {
  readonly root: XmlElement;
  readonly byId: ReadonlyMap<string, XmlElement>;
  readonly styleTexts: readonly string[];
  /** What the file says about the program that wrote it: its version attribute and first comments. */
  readonly writer: string;
}

interface Growing {
  name: string;
  attributes: Map<string, string>;
  children: (Growing | string)[];
  parent: Growing | null;
  order: number;
}

/** Elements whose text means something. */
const TEXTUAL = new Set(['text', 'tspan', 'textPath', 'a', 'title', 'style']);

/**
 * Parses XML into a bare tree. Entities the document declares are put in as plain text, never expanded within each
 * other; nothing outside the document is fetched. Throws `Refusal` for what is not a whole, well-formed SVG.
 */
export function parseXml(text: string, warnings: Warnings): XmlDocument {
  const parser = new SaxesParser({ xmlns: false, position: true });
  let root: Growing | null = null;
  let current: Growing | null = null;
  let prefix = '';
  let elements = 0;
  let foreignDepth = 0;
  let depth = 0;
  let comments = '';
  let atEnd = false;
  const byId = new Map<string, Growing>();
  const styleTexts: string[] = [];

  parser.on('error', (error) => {
    if (/undefined entity/.test(error.message)) {
      warnings.once(
        'entities',
        'The file uses text abbreviations (entities) it does not define; they were kept as written.',
      );
      return;
    }
    if (atEnd) {
      const isBegun = root !== null;
      throw new Refusal(({ svgCutOff, noSvgElement }) => (isBegun ? svgCutOff : noSvgElement));
    }
    const line = /^\d+/.exec(error.message)?.[0] ?? '?';
    const isBegun = root !== null;
    const what = error.message.replace(/^\d+:\d+: /, '').slice(0, 120);
    throw new Refusal(({ svgDamaged, notSvg }) => (isBegun ? svgDamaged(line, what) : notSvg));
  });

  parser.on('doctype', (doctype) => {
    const declared = readEntities(doctype, text, warnings);
    for (const [name, value] of declared) parser.ENTITIES[name] = value;
  });
  parser.on('comment', (comment) => {
    if (comments.length < 500) comments += ` ${comment.slice(0, 200)}`;
  });
  parser.on('processinginstruction', ({ target }) => {
    if (target === 'xml-stylesheet') sayExternal(warnings);
  });

  parser.on('opentag', (tag) => {
    elements += 1;
    depth += 1;
    if (elements > READING_LIMITS.elements)
      throw new Refusal(({ tooManyElements }) => tooManyElements(READING_LIMITS.elements));
    if (depth > READING_LIMITS.nesting) throw new Refusal(({ tooDeep }) => tooDeep(READING_LIMITS.nesting));
    const colon = tag.name.indexOf(':');
    const ownPrefix = colon < 0 ? '' : tag.name.slice(0, colon);
    const name = tag.name.slice(colon + 1);
    if (!root) {
      if (name !== 'svg') throw new Refusal(({ otherElement }) => otherElement(tag.name.slice(0, 40)));
      prefix = ownPrefix;
    }
    if (foreignDepth > 0 || ownPrefix !== prefix) {
      foreignDepth += 1;
      return;
    }
    const element: Growing = {
      name,
      attributes: ownAttributes(tag.attributes, warnings),
      children: [],
      parent: current,
      order: elements - 1,
    };
    if (name === 'script') sayScript(warnings);
    if (/^(animate[A-Z]?\w*|set)$/.test(name))
      warnings.once(
        'not-understood',
        'The file moves or changes things over time (animation); they were read as they stand at first.',
      );
    const id = element.attributes.get('id');
    if (id && !byId.has(id)) byId.set(id, element);
    if (!root) {
      root = element;
      const version = Object.entries(tag.attributes).find(([key]) => key.endsWith(':version'));
      if (version) comments = `${version[0]} ${version[1].slice(0, 100)} ${comments}`;
    }
    current?.children.push(element);
    current = element;
  });

  parser.on('closetag', () => {
    depth -= 1;
    if (foreignDepth > 0) {
      foreignDepth -= 1;
      return;
    }
    if (current?.name === 'style') {
      const kind = current.attributes.get('type') ?? 'text/css';
      if (kind === 'text/css' || kind === '')
        styleTexts.push(current.children.filter((child) => typeof child === 'string').join(''));
    }
    current = current?.parent ?? null;
  });

  const addText = (piece: string): void => {
    if (foreignDepth === 0 && current && TEXTUAL.has(current.name)) current.children.push(piece);
  };
  parser.on('text', addText);
  parser.on('cdata', addText);

  parser.write(text);
  atEnd = true;
  parser.close();
  if (!root) throw new Refusal(({ noSvgElement }) => noSvgElement);
  return { root, byId, styleTexts, writer: comments };
}

function ownAttributes(raw: Readonly<Record<string, string>>, warnings: Warnings): Map<string, string> {
  const own = new Map<string, string>();
  for (const [name, value] of Object.entries(raw)) {
    const colon = name.indexOf(':');
    if (colon < 0) {
      own.set(name, value);
      if (/^on[a-z]/i.test(name)) sayScript(warnings);
    } else {
      const local = name.slice(colon + 1);
      if ((local === 'href' || local === 'label') && !own.has(local)) own.set(local, value);
      else if (local === 'role' && value === 'line') own.set('line-role', value);
    }
  }
  return own;
}

function sayScript(warnings: Warnings): void {
  warnings.once('script', 'The file contains a script. It was ignored; nothing of it was run.');
}

export function sayExternal(warnings: Warnings): void {
  warnings.once(
    'external',
    'The file refers to other files or addresses. They were ignored; only what the file itself holds was read.',
  );
}

/** Entities of a DOCTYPE's internal subset, values taken literally. */
function readEntities(doctype: string, text: string, warnings: Warnings): Map<string, string> {
  const entities = new Map<string, string>();
  if (/<!ENTITY\s+%/.test(doctype) || /<!ENTITY\s+[^\s"']+\s+(SYSTEM|PUBLIC)\b/.test(doctype))
    sayExternal(warnings);
  let expandedLength = 0;
  for (const match of doctype.matchAll(/<!ENTITY\s+([\w.:-]{1,100})\s+(?:"([^"]*)"|'([^']*)')\s*>/g)) {
    const name = match[1] ?? '';
    const value = match[2] ?? match[3] ?? '';
    if (/&[^#]/.test(value)) {
      warnings.once(
        'entities',
        'The file defines text abbreviations (entities) within each other; those were not expanded.',
      );
      continue;
    }
    if (entities.size >= READING_LIMITS.entities || value.length > READING_LIMITS.entityLength) {
      warnings.once(
        'entities',
        'The file defines too many or too long text abbreviations (entities); some were not expanded.',
      );
      continue;
    }
    if (!entities.has(name)) entities.set(name, value);
  }
  if (entities.size > 0)
    for (const [, name = ''] of text.matchAll(/&([\w.:-]{1,100});/g))
      expandedLength += entities.get(name)?.length ?? 0;
  if (expandedLength > READING_LIMITS.characters) throw new Refusal(({ entitiesSwell }) => entitiesSwell);
  return entities;
}
