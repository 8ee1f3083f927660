import type { Point } from '../../nesting/packing/types.ts';
import { basicShape } from './basicShapes.ts';
import { StyleSheet } from './cssRules.ts';
import type { DrawingOutline, DrawingText } from './drawing.ts';
import { flatten, type PointBudget, type Polyline, TooManyPoints } from './flatten.ts';
import { MM_PER_PIXEL, toUserUnits } from './length.ts';
import { READING_LIMITS } from './limits.ts';
import { compose, IDENTITY, type Matrix, meanScale, translation } from './matrix.ts';
import type { PathCommand } from './pathCommands.ts';
import { parsePathData } from './pathData.ts';
import { Refusal } from './refusal.ts';
import { INITIAL_STYLE, isPainted, type Property, propertiesOf, type Style, styleOf } from './style.ts';
import { readText } from './texts.ts';
import { parseTransform } from './transform.ts';
import { diagonalOf, type Page, pageMatrix, parseViewBox, type Viewport, viewBoxMatrix } from './viewport.ts';
import type { Warnings } from './warnings.ts';
import { sayExternal, type XmlDocument, type XmlElement } from './xmlTree.ts';

/** One shape as drawn on the page: in mm, y up, curves flattened. */
export interface DrawnShape {
  readonly id: string;
  readonly elementId: string;
  readonly label: string;
  /** Label of the group or layer around it. */
  readonly groupLabel: string;
  /** Same for shapes drawn side by side in one group: only such are joined. */
  readonly groupKey: string;
  readonly shape: DrawingOutline['shape'];
  readonly polylines: readonly Polyline[];
  readonly strokeMm: number;
  readonly strokeColour: string | null;
  readonly fillColour: string | null;
  readonly dashed: boolean;
  /** Its fill can be seen, so an open line shows as if it were closed. */
  readonly filled: boolean;
  readonly clone: boolean;
  readonly layer?: string;
  /** Ends of its line that the file adorns with a marker: arrow heads, as a rule. */
  readonly markers?: LineEnds;
}

/** Either end of a line. */
export interface LineEnds {
  readonly start: boolean;
  readonly end: boolean;
}

export interface Drawn {
  readonly shapes: readonly DrawnShape[];
  readonly texts: readonly DrawingText[];
}

/** Containers whose content is drawn where they stand. */
const GROUPS = new Set(['g', 'a']);
const SHAPES = new Set(['rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon', 'path']);
/** Content that is only ever used by reference, or is no drawing. */
const APART = new Set([
  'defs',
  'symbol',
  'clipPath',
  'mask',
  'marker',
  'pattern',
  'title',
  'desc',
  'style',
  'script',
]);

/** Names that drawing programs give by themselves say nothing. */
const DEFAULT_LABEL =
  /^(svg|path|rect|circle|ellipse|line|polyline|polygon|use|clone|layer|group|calque|ebene|capa|livello|g|text|tspan)[\s_-]*[\d.-]*$/i;

interface Place {
  readonly matrix: Matrix;
  readonly style: Style;
  readonly viewport: Viewport;
  /** Ids of the `use` elements this is drawn through, each followed by a slash. */
  readonly prefix: string;
  readonly groupLabel: string;
  readonly groupKey: string;
  readonly cloneDepth: number;
  readonly clipped: boolean;
}

/** Draws the document on its page. Throws `Refusal` where a limit is passed. */
export function walk(
  document: XmlDocument,
  page: Page,
  factor: number,
  tolerance: number,
  warnings: Warnings,
): Drawn {
  const walker = new Walker(document, factor, tolerance, warnings);
  walker.drawRoot(page);
  return { shapes: walker.shapes, texts: walker.texts };
}

class Walker {
  readonly shapes: DrawnShape[] = [];
  readonly texts: DrawingText[] = [];
  private visits = 0;
  private segments = 0;
  private readonly budget: PointBudget = { left: READING_LIMITS.points };
  /** Targets of the `use` elements being drawn just now. */
  private readonly active = new Set<XmlElement>();
  private readonly properties = new Map<XmlElement, Property>();
  private readonly sheet: StyleSheet;
  private readonly document: XmlDocument;
  private readonly factor: number;
  private readonly tolerance: number;
  private readonly warnings: Warnings;

  constructor(document: XmlDocument, factor: number, tolerance: number, warnings: Warnings) {
    this.document = document;
    this.factor = factor;
    this.tolerance = tolerance;
    this.warnings = warnings;
    this.sheet = new StyleSheet(document.styleTexts, warnings);
  }

  drawRoot(page: Page): void {
    const { root } = this.document;
    const property = this.property(root);
    const style = styleOf(property, INITIAL_STYLE, diagonalOf(page.inner));
    if (style.gone) {
      this.sayHidden();
      return;
    }
    this.drawChildren(root, {
      matrix: compose(pageMatrix(page, this.factor), this.ownTransform(property)),
      style,
      viewport: page.inner,
      prefix: '',
      groupLabel: '',
      groupKey: 'page',
      cloneDepth: 0,
      clipped: false,
    });
  }

  private property(element: XmlElement): Property {
    let property = this.properties.get(element);
    if (!property) {
      property = propertiesOf(element, this.sheet);
      this.properties.set(element, property);
    }
    return property;
  }

  private drawChildren(element: XmlElement, place: Place): void {
    for (const child of element.children) if (typeof child !== 'string') this.draw(child, place);
  }

  private draw(element: XmlElement, outer: Place): void {
    if (APART.has(element.name)) return;
    this.visits += 1;
    if (this.visits > READING_LIMITS.visits)
      throw new Refusal(({ tooManyClones }) => tooManyClones(READING_LIMITS.visits));
    const property = this.property(element);
    const style = styleOf(property, outer.style, diagonalOf(outer.viewport));
    if (style.gone) {
      this.sayHidden();
      return;
    }
    const clipped = outer.clipped || isReference(property('clip-path')) || isReference(property('mask'));
    const place: Place = {
      ...outer,
      style,
      clipped,
      matrix: compose(outer.matrix, this.ownTransform(property)),
    };
    const { name } = element;
    if (SHAPES.has(name)) this.drawShape(element, property, place);
    else if (name === 'text') this.drawText(element, property, place);
    else if (GROUPS.has(name)) this.drawChildren(element, this.inside(element, place));
    else if (name === 'svg') this.drawNested(element, property, this.inside(element, place), property);
    else if (name === 'use') this.drawClone(element, property, place);
    else if (name === 'switch') this.drawSwitch(element, this.inside(element, place));
    else if (name === 'image')
      this.warnings.once(
        'picture',
        'The file contains pictures (photographs or scans). Only drawn lines are read, not pictures.',
      );
    else if (name === 'foreignObject')
      this.warnings.once(
        'not-understood',
        'The file contains parts that are no drawing (web page content); they were left out.',
      );
  }

  private inside(group: XmlElement, place: Place): Place {
    return {
      ...place,
      groupLabel: labelOf(group) || place.groupLabel,
      groupKey: `${place.prefix}${group.order}`,
    };
  }

  private ownTransform(property: Property): Matrix {
    const text = property('transform');
    if (text === undefined) return IDENTITY;
    const matrix = parseTransform(text);
    if (!matrix) {
      this.warnings.each(
        'bad-transform',
        `A shift or turn in the file is not understood and was left out: "${text.slice(0, 60)}".`,
      );
      return IDENTITY;
    }
    const origin = property('transform-origin');
    if (origin === undefined) return matrix;
    const words = origin.slice(0, 100).split(/[\s,]+/);
    const x = toUserUnits(words[0], Number.NaN, 16);
    const y = toUserUnits(words[1] ?? '0', Number.NaN, 16);
    if (x === null || y === null || Number.isNaN(x) || Number.isNaN(y)) {
      this.warnings.once(
        'bad-transform',
        'Something in the file is turned about a point worded in a way that is not understood; it may stand in the wrong place, its size is right.',
      );
      return matrix;
    }
    return compose(compose(translation(x, y), matrix), translation(-x, -y));
  }

  /** An svg inside the drawing, or a symbol drawn through a `use` (then `size` are the `use`'s properties). */
  private drawNested(element: XmlElement, property: Property, place: Place, size: Property): void {
    const { viewport, style } = place;
    const across = (key: string, from: Property): number | null =>
      toUserUnits(from(key), viewport.width, style.fontSize);
    const up = (key: string, from: Property): number | null =>
      toUserUnits(from(key), viewport.height, style.fontSize);
    const width =
      across('width', size) ?? (element.name === 'svg' ? across('width', property) : null) ?? viewport.width;
    const height =
      up('height', size) ?? (element.name === 'svg' ? up('height', property) : null) ?? viewport.height;
    if (!(width > 0 && height > 0)) return;
    const viewBox = parseViewBox(element.attributes.get('viewBox'));
    const toWindow = viewBox
      ? viewBoxMatrix(viewBox, width, height, element.attributes.get('preserveAspectRatio'))
      : IDENTITY;
    const shift =
      element.name === 'svg' ? translation(across('x', property) ?? 0, up('y', property) ?? 0) : IDENTITY;
    this.drawChildren(element, {
      ...place,
      matrix: compose(compose(place.matrix, shift), toWindow),
      viewport: viewBox ?? { width, height },
    });
  }

  private drawSwitch(element: XmlElement, place: Place): void {
    for (const child of element.children) {
      if (typeof child === 'string' || APART.has(child.name)) continue;
      if (child.attributes.get('requiredExtensions')) continue;
      const language = child.attributes.get('systemLanguage');
      if (language !== undefined && !/\ben\b/.test(language.slice(0, 200))) continue;
      this.draw(child, place);
      return;
    }
  }

  private drawClone(element: XmlElement, property: Property, place: Place): void {
    const reference = (element.attributes.get('href') ?? '').trim();
    if (reference !== '' && !reference.startsWith('#')) {
      sayExternal(this.warnings);
      return;
    }
    const target = this.document.byId.get(reference.slice(1));
    if (!target) {
      this.warnings.each(
        'clone-missing',
        `A clone in the file refers to "${reference.slice(0, 60)}", which is not there; it was left out.`,
      );
      return;
    }
    for (let around: XmlElement | null = element; around; around = around.parent) {
      if (around === target || this.active.has(target)) {
        this.warnings.each(
          'clone-cycle',
          `A clone in the file contains itself ("${reference.slice(0, 60)}"); it was left out.`,
        );
        return;
      }
    }
    if (place.cloneDepth >= READING_LIMITS.cloneDepth) {
      this.warnings.once(
        'limit',
        `Clones of clones more than ${READING_LIMITS.cloneDepth} deep were left out.`,
      );
      return;
    }
    const x = toUserUnits(property('x'), place.viewport.width, place.style.fontSize) ?? 0;
    const y = toUserUnits(property('y'), place.viewport.height, place.style.fontSize) ?? 0;
    const inner: Place = {
      ...place,
      matrix: compose(place.matrix, translation(x, y)),
      prefix: `${place.prefix}${keyOf(element)}/`,
      groupLabel: labelOf(element) || place.groupLabel,
      cloneDepth: place.cloneDepth + 1,
    };
    this.active.add(target);
    if (target.name === 'symbol' || target.name === 'svg') {
      const own = this.property(target);
      const style = styleOf(own, inner.style, diagonalOf(inner.viewport));
      if (style.gone) this.sayHidden();
      else {
        const matrix = compose(inner.matrix, this.ownTransform(own));
        this.drawNested(target, own, this.inside(target, { ...inner, style, matrix }), property);
      }
    } else {
      this.draw(target, inner);
    }
    this.active.delete(target);
  }

  private drawShape(element: XmlElement, property: Property, place: Place): void {
    const { style, viewport, matrix } = place;
    if (style.invisible) {
      this.sayHidden();
      return;
    }
    if (!isPainted(style)) {
      this.warnings.counted(
        'invisible',
        (count) =>
          `Shapes without line and fill were left out, because nothing of them can be seen: ${count}.`,
      );
      return;
    }
    const id = `${place.prefix}${keyOf(element)}`;
    const commands = this.commandsOf(element, property, viewport, style, id);
    if (!commands) return;
    this.segments += commands.length;
    if (this.segments > READING_LIMITS.segments || this.shapes.length >= READING_LIMITS.shapes) tooMuch();
    let polylines: Polyline[];
    try {
      polylines = flatten(commands, matrix, this.tolerance, this.budget);
    } catch (error) {
      if (error instanceof TooManyPoints) tooMuch();
      throw error;
    }
    const sound = polylines.filter(({ points }) => points.every(isSound));
    if (sound.length < polylines.length)
      this.warnings.each(
        'bad-number',
        `The line "${id.slice(0, 60)}" has coordinates that are no numbers or far too large; it was left out.`,
      );
    if (sound.length === 0) return;
    if (place.clipped)
      this.warnings.once(
        'clip',
        'Parts of the drawing are hidden behind a mask or clipping frame. Lines were read in full, as if the frame were not there.',
      );
    const stroked = style.stroke.painted && style.stroke.opaque;
    const scale = style.fixedStroke ? MM_PER_PIXEL * this.factor : meanScale(matrix);
    this.shapes.push({
      id,
      elementId: element.attributes.get('id') ?? '',
      label: labelOf(element),
      groupLabel: place.groupLabel,
      groupKey: place.groupKey,
      shape: element.name === 'line' ? 'polyline' : (element.name as DrawnShape['shape']),
      polylines: sound,
      strokeMm: stroked ? style.strokeWidth * scale : 0,
      strokeColour: stroked ? style.stroke.colour : null,
      fillColour: style.fill.opaque ? style.fill.colour : null,
      dashed: stroked && style.dashed,
      filled: style.fill.painted && style.fill.opaque,
      clone: place.cloneDepth > 0,
      ...markersOf(property),
    });
  }

  private commandsOf(
    element: XmlElement,
    property: Property,
    viewport: Viewport,
    style: Style,
    id: string,
  ): PathCommand[] | null {
    const most = READING_LIMITS.segments - this.segments + 1;
    if (element.name !== 'path')
      return basicShape(element.name, property, viewport, diagonalOf(viewport), style.fontSize, most);
    const parsed = parsePathData(element.attributes.get('d') ?? '', most);
    if (parsed.faultAt !== null)
      this.warnings.each(
        'bad-path',
        `The path "${id.slice(0, 60)}" is damaged at character ${parsed.faultAt + 1}; what comes before was read.`,
      );
    return parsed.commands.length > 1 ? parsed.commands : null;
  }

  private drawText(element: XmlElement, property: Property, place: Place): void {
    if (place.style.invisible || !isPainted(place.style)) return;
    if (this.texts.length >= READING_LIMITS.texts) return;
    const text = readText(element, property, place.style, place.matrix, (inner, outer) => {
      const own = this.property(inner);
      const style = styleOf(own, outer, diagonalOf(place.viewport));
      return { property: own, style };
    });
    if (text) this.texts.push(text);
  }

  private sayHidden(): void {
    this.warnings.counted('hidden', (count) =>
      count === 1 ? '1 hidden element was left out.' : `${count} hidden elements were left out.`,
    );
  }
}

/** mm beyond which a coordinate is surely a fault: a kilometre. */
const FAR_MM = 1_000_000;

const isSound = ([x, y]: Point): boolean => Math.abs(x) <= FAR_MM && Math.abs(y) <= FAR_MM;

function tooMuch(): never {
  throw new Refusal(({ tooManyLines }) => tooManyLines);
}

/** Markers that are no arrow heads, as their names say. */
const OTHER_MARKER = /dot|circle|square|stop|tick|distance|diamond/i;

function markersOf(property: Property): Pick<DrawnShape, 'markers'> {
  const isHead = (name: string): boolean => {
    const marker = property(name) ?? property('marker');
    return isReference(marker) && !OTHER_MARKER.test(marker?.slice(0, 200) ?? '');
  };
  const markers = { start: isHead('marker-start'), end: isHead('marker-end') };
  return markers.start || markers.end ? { markers } : {};
}

const isReference = (value: string | undefined): boolean => value?.startsWith('url(') ?? false;

const keyOf = (element: XmlElement): string =>
  (element.attributes.get('id') ?? '').slice(0, 100) || `${element.name}-${element.order}`;

/** What a person called the element, '' for names made by the program. */
function labelOf(element: XmlElement): string {
  const title = element.children.find((child) => typeof child !== 'string' && child.name === 'title');
  const titled =
    typeof title === 'object' ? title.children.filter((part) => typeof part === 'string').join('') : '';
  for (const candidate of [element.attributes.get('label'), titled, element.attributes.get('aria-label')]) {
    const label = candidate?.slice(0, 400).replace(/\s+/g, ' ').trim().slice(0, READING_LIMITS.textLength);
    if (label && !DEFAULT_LABEL.test(label)) return label;
  }
  return '';
}
