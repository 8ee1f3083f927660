import { distance } from '../../nesting/geometry/rings.ts';
import type { Piece } from '../../pattern/exchange/project.ts';
import type { DrawingOutline, ReadDrawing } from '../../pattern/reading/drawing.ts';
import {
  grainFromLine,
  type PickedOutline,
  pieceFromOutline,
} from '../../pattern/reading/pieceFromOutline.ts';
import { type UnitedOutline, uniteOutlines } from '../../pattern/reading/uniteOutlines.ts';
import { freshId } from '../state/ids.ts';
import type { DrawnDraft } from '../state/pieceCommands.ts';

/** What an outline inside a picked one is. */
export type InsideRole = 'hole' | 'sewLine' | 'internal' | 'ignore';

/** One outline that becomes a piece. */
export interface Pick {
  readonly outlineId: string;
  readonly name: string;
  readonly count: number;
  /** Outlines drawn alike that this pick stands for, besides its own. */
  readonly alike: readonly string[];
  /** Outlines that touch this one and make one piece with it. */
  readonly parts: readonly string[];
  /** By the id of the inner outline. */
  readonly inside: Readonly<Record<string, InsideRole>>;
}

/** Outlines smaller than this, across, are hardly pieces: stitch holes, marks, lettering. Millimetres. */
export const SMALL_MM = 12;
/** Two outlines are drawn alike if their measures differ by less. Millimetres, about what files round to. */
const ALIKE_MM = 0.05;
const ALIKE_AREA_PART = 1e-3;
/** A single inner outline with more than this part of the area is the sew line of the outer one. */
const SEW_LINE_PART = 0.5;
/** One with less than this part is a hole punched or cut. */
const HOLE_PART = 0.05;

export function outlineById(reading: ReadDrawing): ReadonlyMap<string, DrawingOutline> {
  return new Map(reading.outlines.map((outline) => [outline.id, outline]));
}

/** Others of the same size and area at the same depth: copies of one piece, as far as measures tell. */
export function drawnAlike(reading: ReadDrawing, outline: DrawingOutline): readonly DrawingOutline[] {
  return reading.outlines.filter(
    (other) =>
      other.id !== outline.id &&
      other.depth === outline.depth &&
      other.onPage !== 'outside' &&
      Math.abs(other.widthMm - outline.widthMm) < ALIKE_MM &&
      Math.abs(other.heightMm - outline.heightMm) < ALIKE_MM &&
      Math.abs(other.areaMm2 - outline.areaMm2) < ALIKE_AREA_PART * outline.areaMm2,
  );
}

/** Outlines that lie directly in this one. */
export function directlyInside(reading: ReadDrawing, outlineId: string): readonly DrawingOutline[] {
  return reading.outlines.filter((outline) => outline.parent === outlineId);
}

/** A first guess at what the outlines inside are; the maker sees and changes it. */
export function guessInside(
  reading: ReadDrawing,
  outline: DrawingOutline,
): Readonly<Record<string, InsideRole>> {
  const inner = directlyInside(reading, outline.id);
  const guess = (child: DrawingOutline): InsideRole => {
    const part = child.areaMm2 / outline.areaMm2;
    if (inner.length === 1 && part > SEW_LINE_PART) return 'sewLine';
    return part < HOLE_PART ? 'hole' : 'internal';
  };
  return Object.fromEntries(inner.map((child) => [child.id, guess(child)]));
}

export function newPick(reading: ReadDrawing, outline: DrawingOutline): Pick {
  return {
    outlineId: outline.id,
    name: outline.suggestedName,
    count: 1,
    alike: [],
    parts: [],
    inside: guessInside(reading, outline),
  };
}

/** The pick with all outlines drawn alike taken for copies of it. */
export function withAlike(reading: ReadDrawing, pick: Pick): Pick {
  const outline = reading.outlines.find((entry) => entry.id === pick.outlineId);
  if (!outline) return pick;
  const alike = drawnAlike(reading, outline).map((other) => other.id);
  return { ...pick, alike, count: alike.length + 1 };
}

/** Every outline on the page that lies in no other, copies drawn alike counted instead of repeated. */
export function pickAll(reading: ReadDrawing): readonly Pick[] {
  const taken = new Set<string>();
  const picks: Pick[] = [];
  for (const outline of reading.outlines) {
    const isSmall = Math.min(outline.widthMm, outline.heightMm) < SMALL_MM;
    if (outline.depth > 0 || outline.onPage === 'outside' || isSmall || taken.has(outline.id)) continue;
    const pick = withAlike(reading, newPick(reading, outline));
    for (const id of [outline.id, ...pick.alike]) taken.add(id);
    picks.push(pick);
  }
  return picks;
}

/**
 * Several picks as one piece, drawn in parts that touch. Null where the parts do not make one shape.
 * @param picks at least two; the first gives the name
 */
export function joinPicks(reading: ReadDrawing, picks: readonly Pick[]): Pick | null {
  const [first, ...others] = picks;
  if (!first) return null;
  const ids = picks.flatMap((pick) => [pick.outlineId, ...pick.parts]);
  if (unite(reading, ids).length !== 1) return null;
  return {
    ...first,
    count: 1,
    alike: [],
    parts: [...first.parts, ...others.flatMap((pick) => [pick.outlineId, ...pick.parts])],
    inside: Object.assign({}, ...picks.map((pick) => pick.inside)) as Readonly<Record<string, InsideRole>>,
  };
}

function unite(reading: ReadDrawing, ids: readonly string[]): readonly UnitedOutline[] {
  const outlines = outlineById(reading);
  try {
    return uniteOutlines(ids.flatMap((id) => (outlines.has(id) ? [outlines.get(id)?.ring ?? []] : [])));
  } catch {
    // Figures the clipper can't do: the parts stay apart.
    return [];
  }
}

/** The pick as a piece of the project. @throws RangeError with a sentence for the maker where it can't be one */
export function draftOf(reading: ReadDrawing, pick: Pick, material: string): DrawnDraft {
  const outlines = outlineById(reading);
  const outline = outlines.get(pick.outlineId);
  if (!outline) throw new RangeError(`draftOf: no outline ${pick.outlineId}`);
  const inner = (role: InsideRole): PickedOutline[] =>
    Object.entries(pick.inside).flatMap(([id, as]) => {
      const found = outlines.get(id);
      return as === role && found ? [found] : [];
    });
  const linesInside = reading.openLines.filter((line) => line.parent === outline.id);
  const grain = linesInside.find((line) => /grain/i.test(`${line.label} ${line.elementId}`));
  const [united] = pick.parts.length > 0 ? unite(reading, [outline.id, ...pick.parts]) : [];
  const shape: PickedOutline = united ? { id: outline.id, ring: united.ring } : outline;
  const mouths = (united?.holes ?? []).map((ring, index) => ({
    id: `${outline.id} hole ${index + 1}`,
    ring,
  }));
  const piece: Piece = pieceFromOutline(shape, {
    id: freshId('piece'),
    name: pick.name,
    fileName: reading.fileName,
    holes: [...mouths, ...inner('hole')],
    sewLines: inner('sewLine'),
    internalLines: [...inner('internal'), ...linesInside.filter((line) => line !== grain)],
    ...(grain ? { grainDeg: Math.round(grainFromLine(grain) * 100) / 100 } : {}),
  });
  return { piece, counts: { plain: pick.count, mirrored: 0, onFold: 0 }, material };
}

/** Something drawn whose true length the maker may know. */
export type Measure = 'width' | 'height' | 'outerWidth' | 'outerHeight' | 'edge';

export function measureOf(outline: DrawingOutline, measure: Measure): number {
  switch (measure) {
    case 'width':
      return outline.widthMm;
    case 'height':
      return outline.heightMm;
    case 'outerWidth':
      return outline.outerWidthMm;
    case 'outerHeight':
      return outline.outerHeightMm;
    case 'edge':
      return outline.ring.reduce(
        (longest, point, index) =>
          Math.max(longest, distance(point, outline.ring[(index + 1) % outline.ring.length] ?? point)),
        0,
      );
  }
}
