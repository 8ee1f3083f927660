const UNIT_MM: Readonly<Record<string, number>> = { mm: 1, cm: 10, in: 25.4 };

const NUMBER = String.raw`(\d{1,2}[\s-]\d{1,2}\s*\/\s*\d{1,2}|\d{1,2}\s*\/\s*\d{1,2}|\d{1,4}(?:[.,]\d{1,3})?(?:\s*[½¼¾⅛])?|[½¼¾])`;
const UNIT = `(mm|millimet(?:er|re)s?|cm|centimet(?:er|re)s?|zentimeter|in(?:ch|ches)?|zoll|"|″|”|'')`;
/** "10 cm", "1 in", `2"`, "5 cm x 5 cm", "10x10 cm", "1/2 inch". */
const LENGTH = new RegExp(
  String.raw`(?<![\w.,/])${NUMBER}\s*${UNIT}?\s*(?:[x×*]\s*${NUMBER}\s*)?${UNIT}?(?![a-zäöü])`,
  'gi',
);

/** Words that say a square or a bar is there to check the size by, in English and German. */
const CHECKING =
  /test\s*-?\s*(?:square|box)|(?:scale|print|printing|size)\s*-?\s*(?:check|test|square|bar|reference)|check\s*(?:the\s*)?(?:scale|size|square)|\bthis\s+(?:square|box|line|bar)\b|\bdiese[srn]?\s+(?:quadrat|kästchen|linie|strecke)\b|\bscale\b|should\s+(?:be|measure)|gauge|(?:test|kontroll|prüf|pruef|probe|mess)\s*-?\s*(?:quadrat|kästchen|kaestchen|feld|strecke|linie)|ma(?:ß|ss)\s*stab|druckkontrolle|muss\s+.*messen|soll(?:te)?\s+.*messen/i;

/** Whether a text says that something is there to check the size by. */
export const saysChecking = (text: string): boolean => CHECKING.test(text);

export interface StatedLength {
  readonly mm: number;
  /** As written. */
  readonly text: string;
}

/** Lengths that a text states with their unit; a stated rectangle only if it is a square. */
export function statedLengths(text: string): StatedLength[] {
  const found: StatedLength[] = [];
  for (const match of text.slice(0, 500).matchAll(LENGTH)) {
    const [whole, first, unitA, second, unitB] = match;
    const unit = unitOf(unitB ?? unitA);
    const value = numberIn(first ?? '');
    if (unit === null || value === null) continue;
    if (second !== undefined && Math.abs((numberIn(second) ?? 0) - value) > 1e-9) continue;
    const mm = value * unit;
    if (mm > 0 && !found.some((each) => Math.abs(each.mm - mm) < 0.01))
      found.push({ mm, text: whole.replace(/\s+/g, ' ').trim() });
  }
  return found;
}

/** A unit by itself, as it stands beside a scale bar of such units: "cm", "Scale for inches", "Maßstab in mm". */
const UNIT_ALONE =
  /^(?:(?:scale|ma(?:ß|ss)stab)\s*(?:for|in)?\s*:?\s*)?(mm|cm|dm|in|inch(?:es)?|zoll|millimet(?:er|re)s?|(?:centimet(?:er|re)|zentimeter)s?)\.?$/i;
const MM_PER_DECIMETRE = 100;

/** One of the unit that a text names and nothing else; null for any other text. */
export function unitAlone(text: string): StatedLength | null {
  const unit = UNIT_ALONE.exec(text.trim())?.[1];
  if (unit === undefined) return null;
  const mm = unit.toLowerCase() === 'dm' ? MM_PER_DECIMETRE : unitOf(unit);
  return mm === null ? null : { mm, text: `1 ${unit}` };
}

/** Whether a text is nothing but a length: "10 cm", "1 in × 1 in". */
export const isLengthAlone = (text: string): boolean =>
  text.trim() !== '' && text.replace(LENGTH, '').replace(/[\s.,:;=()[\]-]/g, '') === '';

function unitOf(text: string | undefined): number | null {
  if (text === undefined) return null;
  const unit = text.toLowerCase();
  if (unit.startsWith('mm') || unit.startsWith('milli')) return UNIT_MM.mm as number;
  if (unit === 'cm' || unit.startsWith('centi') || unit.startsWith('zenti')) return UNIT_MM.cm as number;
  return UNIT_MM.in as number;
}

const PARTS: Readonly<Record<string, number>> = { '½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125 };

function numberIn(text: string): number | null {
  const fraction = /^(?:(\d+)[\s-])?\s*(\d+)\s*\/\s*(\d+)$/.exec(text.trim());
  if (fraction) {
    const [, whole = '0', over, under] = fraction;
    return Number(under) > 0 ? Number(whole) + Number(over) / Number(under) : null;
  }
  const [, number, part] = /^([\d.,]*)\s*([½¼¾⅛]?)$/.exec(text.trim()) ?? [];
  if (number === undefined) return null;
  const value = (number === '' ? 0 : Number(number.replace(',', '.'))) + (part ? (PARTS[part] ?? 0) : 0);
  return Number.isFinite(value) && value > 0 ? value : null;
}
