import type { Drawing, DrawingItem, PathItem } from './drawing.ts';
import { FONT_FAMILY, INK, type Role, STYLES, type Style } from './tokens.ts';

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as XML content or attribute value; what XML can't hold at all is dropped. */
export function escapeXml(text: string): string {
  return text
    .replace(/[\p{Cc}\ufffe\uffff]/gu, (c) => (c === '\n' || c === '\t' ? c : ''))
    .replace(/\p{Cs}/gu, '')
    .replace(/[&<>"']/g, (c) => ESCAPES[c] as string);
}

/** Thousandths of a millimetre, without trailing zeros and never "-0". */
function number(value: number): string {
  const text = value.toFixed(3).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/**
 * The drawing as an SVG file in true size: width and height in millimetres, one user unit a millimetre. One group
 * a layer, with an id; every item carries its role as class and its style as presentation attributes, so that it
 * prints the same wherever it is opened. Texts are escaped; the same drawing always gives the same bytes.
 */
export function drawingToSvg(drawing: Drawing): string {
  const w = number(drawing.widthMm);
  const h = number(drawing.heightMm);
  const out = [
    `<?xml version="1.0" encoding="UTF-8"?>`,
    `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}" ` +
      `role="img" lang="${escapeXml(drawing.lang)}" aria-label="${escapeXml(drawing.title)}" ` +
      `font-family="${escapeXml(FONT_FAMILY)}">`,
    `<title>${escapeXml(drawing.title)}</title>`,
    `<desc>${escapeXml(drawing.description)}</desc>`,
  ];
  for (const layer of drawing.layers) {
    out.push(`<g id="layer-${layer.name}">`);
    for (const item of layer.items) writeItem(item, out);
    out.push('</g>');
  }
  out.push('</svg>', '');
  return out.join('\n');
}

function writeItem(item: DrawingItem, out: string[]): void {
  if (item.kind === 'path') {
    const d = pathData(item);
    if (d !== '') out.push(`<path class="${item.role}"${pathStyle(item.role)} d="${d}"/>`);
    return;
  }
  if (item.kind === 'text') {
    const turn =
      item.rotation === 0
        ? ''
        : ` transform="rotate(${number(item.rotation)} ${number(item.x)} ${number(item.y)})"`;
    const anchor = item.anchor === 'start' ? '' : ` text-anchor="${item.anchor}"`;
    const style = STYLES[item.role];
    const weight = style.bold ? ' font-weight="bold"' : '';
    out.push(
      `<text class="${item.role}" x="${number(item.x)}" y="${number(item.y)}" font-size="${number(item.size)}"` +
        `${anchor}${weight} fill="${style.fill ?? INK}"${turn}>${escapeXml(item.text)}</text>`,
    );
    return;
  }
  const data = Object.entries(item.data)
    .map(
      ([key, value]) => ` data-${key.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}="${escapeXml(value)}"`,
    )
    .join('');
  out.push(`<g class="${item.role}"${data}>`);
  if (item.title !== undefined) out.push(`<title>${escapeXml(item.title)}</title>`);
  for (const child of item.items) writeItem(child, out);
  out.push('</g>');
}

/** The path's `d`. Exported because a screen draws the same numbers. */
export function pathData(item: PathItem): string {
  const parts: string[] = [];
  for (const points of item.lines) {
    if (points.length < 2) continue;
    parts.push(`M${points.map(([x, y]) => `${number(x)} ${number(y)}`).join('L')}${item.closed ? 'Z' : ''}`);
  }
  return parts.join('');
}

const written = new Map<Role, string>();

function pathStyle(role: Role): string {
  let text = written.get(role);
  if (text === undefined) {
    text = Object.entries(pathAttributes(STYLES[role]))
      .map(([key, value]) => ` ${key}="${value}"`)
      .join('');
    written.set(role, text);
  }
  return text;
}

/** SVG presentation attributes of a path in this style, for the file and for the screen. */
export function pathAttributes(style: Style): Record<string, string> {
  const attributes: Record<string, string> = { fill: style.fill ?? 'none' };
  if (style.fill !== undefined) attributes['fill-rule'] = 'evenodd';
  if (style.stroke !== undefined) {
    attributes.stroke = style.stroke;
    attributes['stroke-width'] = number(style.strokeWidth ?? 0.2);
    if (style.dash) attributes['stroke-dasharray'] = style.dash.map(number).join(' ');
    if (style.cap && style.cap !== 'butt') attributes['stroke-linecap'] = style.cap;
    if (style.join && style.join !== 'miter') attributes['stroke-linejoin'] = style.join;
  }
  return attributes;
}
