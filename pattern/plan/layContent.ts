import { lengthsTaken } from '../cloths/measures.ts';
import type { Cloth, ClothLay, Placed, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { sizeWarnings } from '../proposals/sizeMark.ts';
import {
  formatDecimals,
  formatLength,
  formatNumber,
  formatPurchase,
  formatSize,
  type ShownUnits,
} from '../units/index.ts';
import type { ClothDirection } from './bandArea.ts';
import { caution } from './caution.ts';
import { type ClothFrame, clothFrame } from './clothFrame.ts';
import { type LayRow, layRowId, layRows } from './layRows.ts';
import type { LabelWords } from './pieceLabel.ts';
import type { HeaderContent } from './sheetHeader.ts';
import { cleanText, isolate } from './text.ts';
import { type PlanWords, planWords } from './words/index.ts';

/** What a drawing of a lay shows: the cloth, and the words around it. */
export interface LayContent {
  readonly frame: ClothFrame;
  readonly header: HeaderContent;
  readonly rows: readonly LayRow[];
  readonly notes: readonly string[];
  readonly caution: string;
  readonly flaws: boolean;
  readonly held: boolean;
  readonly direction: ClothDirection | null;
  readonly wordsFor: (placed: Placed) => { label: LabelWords; title: string };
}

/** @param segment only this segment, counted from 0; the whole lay if left out */
export function layContent(
  lay: ClothLay,
  project: Project,
  {
    segment,
    units,
    language = USUAL_LANGUAGE,
  }: { readonly segment?: number; readonly units: ShownUnits; readonly language?: Language },
): LayContent {
  const words = planWords(language);
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const material = project.materials.find((m) => m.id === lay.materialId);
  const frame = clothFrame(lay, cloth, segment);
  const rows = layRows(lay, project, language);
  const names = new Map(project.pieces.map((p) => [p.id, cleanText(p.name)]));
  const materialName = isolate(cleanText(material?.name ?? lay.materialId));
  const clothName = isolate(cleanText(cloth?.name ?? lay.clothId));
  const byRow = new Map(rows.map((row) => [row.id, row]));

  const held = new Set(
    project.cutList
      .filter((row) => row.heldBack && row.materialId === lay.materialId)
      .map(({ pieceId }) => pieceId),
  );

  const wordsFor = (placed: Placed) => {
    const isHeld = held.has(placed.pieceId);
    const row = byRow.get(layRowId(placed)) as LayRow;
    const hand = words.hand(placed.hand, cloth);
    const copy = words.copy(placed.copy, placed.of);
    const more = belonging(placed, project, words);
    const size = formatSize(row.widthMm, row.heightMm, units, language);
    return {
      label: {
        name: row.name,
        tag: `${row.key}${placed.copy}`,
        copy,
        handLong: [hand.long, ...(isHeld ? [words.held] : []), ...more].join(', '),
        handShort: [isHeld ? words.held : hand.short, ...more].join(', '),
        size: placed.hand === 'fold' ? words.openedSize(size) : size,
        held: isHeld,
        top: words.top,
      },
      title: [row.name, copy, hand.long, ...more, size].join(', '),
    };
  };

  const missing = lay.unplaced.map(
    (u) => `${isolate(names.get(u.pieceId) ?? u.pieceId)}: ${words.counts(u)}`,
  );
  const warnings: string[] = [];
  if (lay.verdict !== 'fits') {
    const verdict = words.verdicts[lay.verdict];
    warnings.push(lay.reason === undefined ? verdict : `${verdict} ${cleanText(lay.reason)}`);
  }
  const placed = lay.segments.flatMap((each) => each.placed.map(({ pieceId }) => pieceId));
  warnings.push(...sizeWarnings(project, new Set(placed), language).map(cleanText));
  if (missing.length > 0) warnings.push(words.missing(missing.join('; ')));

  return {
    frame,
    header: {
      title: clothName.startsWith(materialName) ? clothName : `${materialName} – ${clothName}`,
      subtitle: `${isolate(cleanText(project.name))} · ${words.spread(lay, cloth)}`,
      facts: facts(lay, cloth, frame, units, language),
      warnings,
    },
    rows: segment === undefined ? rows : rows.filter((row) => isShown(row, frame)),
    notes: notes(lay, cloth, frame, units, language),
    caution: caution(material, cloth, project, language),
    flaws: frame.stretches.some((s) => (s.segment.flaws?.length ?? 0) > 0),
    held: frame.stretches.some((s) => s.segment.placed.some((p) => held.has(p.pieceId))),
    direction: directionOf(lay, cloth, words),
    wordsFor,
  };
}

/** Which sets a placed piece is for, and the material it is cut instead of. */
function belonging({ sets, guestOf }: Placed, { materials }: Project, words: PlanWords): string[] {
  const guest = materials.find(({ id }) => id === guestOf);
  return [...(sets ? [words.sets(sets)] : []), ...(guest ? [words.guest(cleanText(guest.name))] : [])];
}

function isShown(row: LayRow, frame: ClothFrame): boolean {
  return frame.stretches.some((s) =>
    s.segment.placed.some((p) => p.pieceId === row.pieceId && p.hand === row.hand),
  );
}

function facts(
  lay: ClothLay,
  cloth: Cloth | undefined,
  frame: ClothFrame,
  units: ShownUnits,
  language: Language,
) {
  const words = planWords(language).facts;
  const long = (mm: number) => formatLength(mm, units, language);
  const list = [];
  if (frame.kind === 'roll' && lay.segments.length === 0) {
    list.push({ name: words.width, value: long(frame.widthMm) });
  } else if (frame.kind === 'roll') {
    list.push({ name: words.cutOff, value: long(lay.usedMm) });
    list.push({ name: words.buy, value: formatPurchase(lay.buyMm, units, language) });
    list.push({ name: words.leftOver, value: long(Math.max(0, lay.buyMm - lay.usedMm)) });
    list.push({ name: words.width, value: long(frame.widthMm) });
  } else {
    const sheet = frame.stretches[0];
    const size = formatSize(sheet ? sheet.toMm - sheet.fromMm : frame.toMm, frame.depthMm, units, language);
    const sheets = lay.segments.length;
    list.push(
      sheets > 1
        ? { name: words.sheets, value: `${sheets} × (${size})` }
        : { name: words.remnant, value: size },
    );
  }
  list.push({ name: words.use, value: `${formatDecimals(lay.usePercent, 1, language)} %` });
  list.push({ name: words.trace, value: String(lay.piecesToTrace) });
  if (cloth && cloth.gapMm > 0) list.push({ name: words.gap, value: long(cloth.gapMm) });
  return list;
}

/**
 * How a cloth is laid on the table before it is cut, a sentence each: which way it is spread, and what else must be known
 * without the drawing's own words.
 */
export function howClothLies(
  lay: ClothLay,
  project: Project,
  { units, language = USUAL_LANGUAGE }: { readonly units: ShownUnits; readonly language?: Language },
): string[] {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const words = planWords(language);
  const direction = directionOf(lay, cloth, words);
  return [
    words.spread(lay, cloth),
    ...spreading(lay, cloth, clothFrame(lay, cloth), units, language),
    ...(direction ? [words.arrow(direction.words)] : []),
  ];
}

function notes(
  lay: ClothLay,
  cloth: Cloth | undefined,
  frame: ClothFrame,
  units: ShownUnits,
  language: Language,
): string[] {
  const words = planWords(language);
  const squaring =
    frame.squaringMm > 0 ? `${words.squared(formatLength(frame.squaringMm, units, language))} ` : '';
  return [
    ...spreading(lay, cloth, frame, units, language),
    cloth?.kind === 'remnant' ? words.useOfRemnant : `${squaring}${words.useOfRoll}`,
  ];
}

function spreading(
  lay: ClothLay,
  cloth: Cloth | undefined,
  frame: ClothFrame,
  units: ShownUnits,
  language: Language,
): string[] {
  const words = planWords(language);
  const long = (mm: number) => formatLength(mm, units, language);
  const list: string[] = [];
  if (frame.kind === 'remnant' && lay.segments.length > 1) list.push(words.sheets(lay.segments.length));
  else if (lay.segments.length > 1) {
    for (const stretch of frame.stretches) {
      list.push(
        words.stretch(
          stretch.segment.spread,
          long(stretch.fromMm),
          long(stretch.toMm),
          stretch.index + 1,
          words.face(cloth),
        ),
      );
    }
  } else {
    const spread = frame.stretches[0]?.segment.spread ?? 'single';
    if (frame.kind === 'roll' && spread !== 'single' && spread !== 'sequence')
      list.push(words.howToSpread[spread]);
  }
  if (cloth?.cutFromBack && frame.stretches.some(({ segment }) => segment.spread === 'single')) {
    list.push(words.fromBack);
  }
  for (const { segment, index, originMm } of frame.stretches) {
    if (lengthsTaken(segment.spread) === 1) continue;
    const lead = index === 0 ? originMm[0] : 0;
    const part = lay.segments.length > 1 ? index + 1 : null;
    list.push(words.twice(long(2 * segment.lengthMm + lead), part));
  }
  const percent = (value: number) => formatNumber(value, language);
  if (cloth && (cloth.shrinkAlongPercent > 0 || cloth.shrinkAcrossPercent > 0)) {
    list.push(words.washed(percent(cloth.shrinkAlongPercent), percent(cloth.shrinkAcrossPercent)));
  }
  if (cloth?.repeat && frame.stretches.some(({ segment }) => segment.spread === 'single')) {
    list.push(words.repeatDrawn[cloth.repeat.look]);
  }
  if (cloth?.border && frame.stretches.some(({ segment }) => segment.spread === 'single')) {
    list.push(words.borderDrawn);
  }
  if (cloth?.kind === 'roll' && cloth.fadedLines.length > 0) list.push(words.leftOut);
  return list;
}

/** Print first: it says more than a nap. */
function directionOf(lay: ClothLay, cloth: Cloth | undefined, words: PlanWords): ClothDirection | null {
  if (!cloth) return null;
  const print = { none: null, away: 0, left: 90, back: 180, right: 270 }[cloth.printUp];
  if (print !== null) return { degrees: print, words: words.print };
  if (cloth.nap !== 'oneWay') return null;
  const tops = lay.segments.flatMap((s) => s.placed).map((p) => ((Math.round(p.topDeg) % 360) + 360) % 360);
  const first = tops[0];
  return first !== undefined && tops.every((t) => t === first) ? { degrees: first, words: words.nap } : null;
}
