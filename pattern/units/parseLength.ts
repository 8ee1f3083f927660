import { LIMITS } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { formatLength } from './formatLength.ts';
import { type LengthUnit, toMm } from './length.ts';
import { quantityFault, scanQuantity } from './scanQuantity.ts';
import { unitWords } from './words/index.ts';

export type ParsedLength =
  | {
      readonly ok: true;
      readonly mm: number;
      /** False where the number had no unit and the default was taken. */
      readonly unitSaid: boolean;
    }
  | { readonly ok: false; readonly message: string };

/** A sign of minus, in any of the ways it is typed. */
const MINUS = /^\s*[-−–‐‑]\s*/u;

/**
 * Reads one length as people write it, in millimetres: `11 1/4"`, `11¼ in`, `11-1/4`, `7 3/8`, `3,5 cm`, `310mm`,
 * `1.2 m`, `1/2 yd`, `26″`, `2'6"`. A number without a unit is in `defaultUnit`. Zero (unless `allowZero`),
 * negative, too long and unreadable input is refused with a sentence that says what is wrong.
 */
export function parseLength(
  text: string,
  defaultUnit: LengthUnit,
  options: { readonly allowZero?: boolean; readonly language?: Language } = {},
): ParsedLength {
  const { language = USUAL_LANGUAGE } = options;
  const words = unitWords(language);
  const refuse = (message: string): ParsedLength => ({ ok: false, message });
  const trimmed = text.trim();
  if (trimmed === '') return refuse(words.missing);
  const minus = MINUS.exec(trimmed);
  const body = minus ? trimmed.slice(minus[0].length) : trimmed;
  const quantity = scanQuantity(body, 0);
  if (quantity === null) {
    return refuse(words.noLength(shorten(trimmed)));
  }
  const unit = quantity.unit ?? defaultUnit;
  const fault = quantityFault(quantity, unit, language);
  if (fault !== null) return refuse(fault);
  const rest = body.slice(quantity.end).trim();
  if (rest !== '') {
    return refuse(words.rest(shorten(trimmed), shorten(rest)));
  }
  const mm = toMm(quantity.value, unit);
  if (minus && mm > 0) return refuse(words.negative);
  if (mm === 0 && !options.allowZero) return refuse(words.zero);
  if (mm > LIMITS.lengthMm) {
    return refuse(words.tooLong(formatLength(mm, 'cm', language), LIMITS.lengthMm / 1000));
  }
  return { ok: true, mm, unitSaid: quantity.unit !== null };
}

function shorten(text: string): string {
  return text.length > 40 ? `${text.slice(0, 39)}…` : text;
}
