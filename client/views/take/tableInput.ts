import type { TableSize } from '../../../pattern/exchange/designerTable.ts';
import { parseLength, type ShownUnits } from '../../../pattern/units/index.ts';
import { showNumber, t } from '../../strings/index.ts';
import { formatForField } from '../../strings/lengths.ts';

/** What was typed for a table, read; or the sentence about what can't be. */
export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly fault: string };

/** Commas stand between the parts, or within numbers where semicolons stand between. */
const parts = (text: string): string[] =>
  text
    .split(/[;\n]/.test(text) ? /[;\n]/ : /,/)
    .map((part) => part.trim())
    .filter((part) => part !== '');

export function readWidths(text: string, units: ShownUnits): Read<readonly number[]> {
  const widths: number[] = [];
  for (const part of parts(text)) {
    const read = parseLength(part, units);
    if (!read.ok) return { ok: false, fault: t.table.widthsBad(part) };
    widths.push(read.mm);
  }
  return widths.length > 0 ? { ok: true, value: widths } : { ok: false, fault: t.table.widthsHelp };
}

const percent = (text: string | undefined): number => Number(text?.replace(',', '.'));

/** `M=100`, or across and along: `Long=100x120`. Nothing typed: as drawn. */
export function readSizes(text: string): Read<readonly TableSize[]> {
  const sizes: TableSize[] = [];
  for (const part of parts(text)) {
    const found = /^(.+?)\s*=\s*(\d+(?:[.,]\d+)?)(?:\s*[x×]\s*(\d+(?:[.,]\d+)?))?\s*%?$/.exec(part);
    const across = percent(found?.[2]);
    const along = percent(found?.[3] ?? found?.[2]);
    const isInRange = across >= 1 && across <= 1000 && along >= 1 && along <= 1000;
    if (!found?.[1] || !isInRange) return { ok: false, fault: t.table.sizesBad(part) };
    sizes.push({ name: found[1].slice(0, 200), acrossPercent: across, alongPercent: along });
  }
  if (sizes.length === 0) sizes.push({ name: t.table.asDrawn, acrossPercent: 100, alongPercent: 100 });
  return { ok: true, value: sizes };
}

/** Widths as one would type them: read again they are the same. */
export function typedWidths(widthsMm: readonly number[], units: ShownUnits): string {
  return widthsMm.map((mm) => formatForField(mm, units)).join('; ');
}

/** Sizes as one would type them; nothing where the pieces are taken as drawn. */
export function typedSizes(sizes: readonly TableSize[]): string {
  const [first] = sizes;
  const isAsDrawn = sizes.length === 1 && first?.acrossPercent === 100 && first.alongPercent === 100;
  if (isAsDrawn && first.name === t.table.asDrawn) return '';
  return sizes
    .map(({ name, acrossPercent: across, alongPercent: along }) =>
      across === along
        ? `${name}=${showNumber(across)}`
        : `${name}=${showNumber(across)}x${showNumber(along)}`,
    )
    .join('; ');
}
