import type { StyleSheet } from './cssRules.ts';
import { toUserUnits } from './length.ts';
import type { XmlElement } from './xmlTree.ts';

/** What of an element's style matters here, inherited parts filled in. */
export interface Style {
  /** Not drawn, and nothing inside it can be (display none, or no opacity at all). */
  readonly gone: boolean;
  /** Not drawn, but something inside it may be. */
  readonly invisible: boolean;
  readonly fill: Paint;
  readonly stroke: Paint;
  /** In user units. */
  readonly strokeWidth: number;
  /** `strokeWidth` is in pixels of the page, whatever the transforms. */
  readonly fixedStroke: boolean;
  readonly dashed: boolean;
  readonly fontSize: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly colour: string;
}

export interface Paint {
  readonly painted: boolean;
  /** A plain colour, else null (none, gradients, patterns). */
  readonly colour: string | null;
  readonly opaque: boolean;
}

const NO_PAINT: Paint = { painted: false, colour: null, opaque: true };

/** SVG's initial values: filled black, no line. */
export const INITIAL_STYLE: Style = {
  gone: false,
  invisible: false,
  fill: { painted: true, colour: '#000000', opaque: true },
  stroke: NO_PAINT,
  strokeWidth: 1,
  fixedStroke: false,
  dashed: false,
  fontSize: 16,
  anchor: 'start',
  colour: '#000000',
};

/** Reads one property: a style declaration, or else the attribute of that name. */
export type Property = (name: string) => string | undefined;

/** Reads an element's own properties: what the sheet or its style declares goes before its attributes. */
export function propertiesOf(element: XmlElement, sheet: StyleSheet): Property {
  const declared = sheet.declarations(element);
  return (name) => {
    const value = declared.get(name) ?? element.attributes.get(name)?.trim();
    return value === '' || value === 'inherit' ? undefined : value;
  };
}

/** The style of an element inside one with the style `outer`; `diagonal` is what 100 % of a line width means. */
export function styleOf(property: Property, outer: Style, diagonal: number): Style {
  const fontSize = toUserUnits(property('font-size'), outer.fontSize, outer.fontSize) ?? outer.fontSize;
  const visibility = property('visibility');
  const dashes = property('stroke-dasharray');
  const anchor = property('text-anchor');
  const colour = plainColour(property('color'), outer.colour) ?? outer.colour;
  return {
    gone: outer.gone || property('display') === 'none' || isZero(property('opacity')),
    invisible:
      visibility === undefined ? outer.invisible : visibility === 'hidden' || visibility === 'collapse',
    fill: paintOf(property('fill'), property('fill-opacity'), outer.fill, colour),
    stroke: paintOf(property('stroke'), property('stroke-opacity'), outer.stroke, colour),
    strokeWidth: Math.max(0, toUserUnits(property('stroke-width'), diagonal, fontSize) ?? outer.strokeWidth),
    // vector-effect is not inherited.
    fixedStroke: property('vector-effect') === 'non-scaling-stroke',
    dashed: dashes === undefined ? outer.dashed : /[1-9]/.test(dashes),
    fontSize,
    anchor: anchor === 'start' || anchor === 'middle' || anchor === 'end' ? anchor : outer.anchor,
    colour,
  };
}

function paintOf(
  value: string | undefined,
  opacity: string | undefined,
  outer: Paint,
  current: string,
): Paint {
  const opaque = opacity === undefined ? outer.opaque : !isZero(opacity);
  if (value === undefined) return { ...outer, opaque };
  if (value === 'none' || value === 'transparent') return { ...NO_PAINT, opaque };
  return { painted: true, colour: plainColour(value, current), opaque };
}

/** Only what is surely a colour and nothing else: the page puts it into its own drawing. */
function plainColour(value: string | undefined, current: string): string | null {
  if (value === undefined) return null;
  if (/^currentcolor$/i.test(value)) return current;
  return /^(#[0-9a-f]{3,8}|[a-z]{3,30}|rgba?\([\d\s.,%/]{1,60}\))$/i.test(value) ? value : null;
}

function isZero(opacity: string | undefined): boolean {
  if (opacity === undefined) return false;
  const value = Number(opacity.endsWith('%') ? opacity.slice(0, -1) : opacity);
  return Number.isFinite(value) && value <= 0;
}

/** Whether anything of the shape's fill or line can be seen. A line of width 0 counts: some programs mean a hairline. */
export const isPainted = (style: Style): boolean =>
  (style.fill.painted && style.fill.opaque) || (style.stroke.painted && style.stroke.opaque);
