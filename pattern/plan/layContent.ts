import { lengthsTaken } from '../cloths/measures.ts';
import type { Cloth, ClothLay, Placed, Project } from '../exchange/project.ts';
import { sizeWarnings } from '../proposals/sizeMark.ts';
import { formatLength, formatPurchase, formatSize, type ShownUnits } from '../units/index.ts';
import type { ClothDirection } from './bandArea.ts';
import { type ClothFrame, clothFrame } from './clothFrame.ts';
import { type LayRow, layRowId, layRows } from './layRows.ts';
import type { LabelWords } from './pieceLabel.ts';
import type { HeaderContent } from './sheetHeader.ts';
import { cleanText, isolate } from './text.ts';
import {
  caution,
  countWords,
  FROM_BACK,
  faceWords,
  HOW_TO_SPREAD,
  handWords,
  LEFT_OUT,
  REPEAT_DRAWN,
  sheetsSentence,
  spreadWords,
  stretchSentence,
  twiceSentence,
  WORDS,
  washedSentence,
} from './words.ts';

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
  { segment, units }: { readonly segment?: number; readonly units: ShownUnits },
): LayContent {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const material = project.materials.find((m) => m.id === lay.materialId);
  const frame = clothFrame(lay, cloth, segment);
  const rows = layRows(lay, project);
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
    const hand = handWords(placed.hand, cloth);
    const copy = `${placed.copy} of ${placed.of}`;
    const more = belonging(placed, project);
    const size = formatSize(row.widthMm, row.heightMm, units);
    return {
      label: {
        name: row.name,
        tag: `${row.key}${placed.copy}`,
        copy,
        handLong: [hand.long, ...(isHeld ? [WORDS.held] : []), ...more].join(', '),
        handShort: [isHeld ? WORDS.held : hand.short, ...more].join(', '),
        size: placed.hand === 'fold' ? `${size} opened` : size,
        held: isHeld,
      },
      title: [row.name, copy, hand.long, ...more, size].join(', '),
    };
  };

  const missing = lay.unplaced.map((u) => `${isolate(names.get(u.pieceId) ?? u.pieceId)}: ${countWords(u)}`);
  const warnings: string[] = [];
  if (lay.verdict !== 'fits') {
    const verdict = lay.verdict === 'cannot fit' ? 'Does not fit.' : 'Not everything has found a place yet.';
    warnings.push(lay.reason === undefined ? verdict : `${verdict} ${cleanText(lay.reason)}`);
  }
  const placed = lay.segments.flatMap((each) => each.placed.map(({ pieceId }) => pieceId));
  warnings.push(...sizeWarnings(project, new Set(placed)).map(cleanText));
  if (missing.length > 0) warnings.push(`Not on this cloth – ${missing.join('; ')}`);

  return {
    frame,
    header: {
      title: clothName.startsWith(materialName) ? clothName : `${materialName} – ${clothName}`,
      subtitle: `${isolate(cleanText(project.name))} · ${spreadWords(lay, cloth)}`,
      facts: facts(lay, cloth, frame, units),
      warnings,
    },
    rows: segment === undefined ? rows : rows.filter((row) => isShown(row, frame)),
    notes: notes(lay, cloth, frame, units),
    caution: caution(material, cloth, project),
    flaws: frame.stretches.some((s) => (s.segment.flaws?.length ?? 0) > 0),
    held: frame.stretches.some((s) => s.segment.placed.some((p) => held.has(p.pieceId))),
    direction: directionOf(lay, cloth),
    wordsFor,
  };
}

/** Which sets a placed piece is for, and the material it is cut instead of. */
function belonging({ sets, guestOf }: Placed, { materials }: Project): string[] {
  const guest = materials.find(({ id }) => id === guestOf);
  return [...(sets ? [WORDS.sets(sets)] : []), ...(guest ? [WORDS.guest(cleanText(guest.name))] : [])];
}

function isShown(row: LayRow, frame: ClothFrame): boolean {
  return frame.stretches.some((s) =>
    s.segment.placed.some((p) => p.pieceId === row.pieceId && p.hand === row.hand),
  );
}

function facts(lay: ClothLay, cloth: Cloth | undefined, frame: ClothFrame, units: ShownUnits) {
  const list = [];
  if (frame.kind === 'roll' && lay.segments.length === 0) {
    list.push({ name: 'Width', value: formatLength(frame.widthMm, units) });
  } else if (frame.kind === 'roll') {
    list.push({ name: 'Cut from the roll', value: formatLength(lay.usedMm, units) });
    list.push({ name: 'Buy', value: formatPurchase(lay.buyMm, units) });
    list.push({ name: 'Left over', value: formatLength(Math.max(0, lay.buyMm - lay.usedMm), units) });
    list.push({ name: 'Width', value: formatLength(frame.widthMm, units) });
  } else {
    const sheet = frame.stretches[0];
    const size = formatSize(sheet ? sheet.toMm - sheet.fromMm : frame.toMm, frame.depthMm, units);
    const sheets = lay.segments.length;
    list.push(
      sheets > 1 ? { name: 'Sheets', value: `${sheets} × (${size})` } : { name: 'Remnant', value: size },
    );
  }
  list.push({ name: 'Cloth used', value: `${lay.usePercent.toFixed(1)} %` });
  list.push({ name: 'Pieces to trace', value: String(lay.piecesToTrace) });
  if (cloth && cloth.gapMm > 0) list.push({ name: 'Gap', value: formatLength(cloth.gapMm, units) });
  return list;
}

function notes(lay: ClothLay, cloth: Cloth | undefined, frame: ClothFrame, units: ShownUnits): string[] {
  const list: string[] = [];
  if (frame.kind === 'remnant' && lay.segments.length > 1) list.push(sheetsSentence(lay.segments.length));
  else if (lay.segments.length > 1) {
    for (const stretch of frame.stretches) {
      list.push(
        stretchSentence(
          stretch.segment.spread,
          formatLength(stretch.fromMm, units),
          formatLength(stretch.toMm, units),
          stretch.index + 1,
          faceWords(cloth),
        ),
      );
    }
  } else {
    const spread = frame.stretches[0]?.segment.spread ?? 'single';
    if (frame.kind === 'roll' && spread !== 'single' && spread !== 'sequence')
      list.push(HOW_TO_SPREAD[spread]);
  }
  if (cloth?.cutFromBack && frame.stretches.some(({ segment }) => segment.spread === 'single')) {
    list.push(FROM_BACK);
  }
  for (const { segment, index, originMm } of frame.stretches) {
    if (lengthsTaken(segment.spread) === 1) continue;
    const lead = index === 0 ? originMm[0] : 0;
    const part = lay.segments.length > 1 ? `Part ${index + 1} ` : 'It ';
    list.push(twiceSentence(formatLength(2 * segment.lengthMm + lead, units), part));
  }
  if (cloth && (cloth.shrinkAlongPercent > 0 || cloth.shrinkAcrossPercent > 0)) {
    list.push(washedSentence(cloth.shrinkAlongPercent, cloth.shrinkAcrossPercent));
  }
  if (cloth?.repeat && frame.stretches.some(({ segment }) => segment.spread === 'single')) {
    list.push(REPEAT_DRAWN[cloth.repeat.look]);
  }
  if (cloth?.kind === 'roll' && cloth.fadedLines.length > 0) list.push(LEFT_OUT);
  const squaring =
    frame.squaringMm > 0
      ? `Hatched at the cut end: ${formatLength(frame.squaringMm, units)} to square it, part of the length cut. `
      : '';
  list.push(
    cloth?.kind === 'remnant'
      ? 'Cloth used: area of the cut pieces ÷ area of the remnant without its flaws.'
      : `${squaring}Cloth used: area of the cut pieces ÷ (whole width × length cut).`,
  );
  return list;
}

/** Print first: it says more than a nap. */
function directionOf(lay: ClothLay, cloth: Cloth | undefined): ClothDirection | null {
  if (!cloth) return null;
  const print = { none: null, away: 0, left: 90, back: 180, right: 270 }[cloth.printUp];
  if (print !== null) return { degrees: print, words: WORDS.print };
  if (cloth.nap !== 'oneWay') return null;
  const tops = lay.segments.flatMap((s) => s.placed).map((p) => ((Math.round(p.topDeg) % 360) + 360) % 360);
  const first = tops[0];
  return first !== undefined && tops.every((t) => t === first) ? { degrees: first, words: WORDS.nap } : null;
}
