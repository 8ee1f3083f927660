import { distance } from '../../nesting/geometry/rings.ts';
import type { Piece } from '../../pattern/exchange/project.ts';
import { type Instruction, readInstructions } from '../../pattern/proposals/instructions.ts';
import { jointProposals } from '../../pattern/proposals/jointLetters.ts';
import { type FoldProposal, type GrainProposal, linesInside } from '../../pattern/proposals/linesInside.ts';
import type { DrawingOutline, ReadDrawing } from '../../pattern/reading/drawing.ts';
import {
  grainFromLine,
  type PickedOutline,
  pieceFromOutline,
} from '../../pattern/reading/pieceFromOutline.ts';
import { findTestSquare } from '../../pattern/reading/trueSize.ts';
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
  /** What the drawing says is to be cut of it, and from what; empty where it says nothing. */
  readonly rows: readonly PickRow[];
  /** The grain and the fold edge that lines or words in it propose, and whether they are taken so. */
  readonly grain: (GrainProposal & { readonly isTaken: boolean }) | null;
  readonly fold: (FoldProposal & { readonly isTaken: boolean }) | null;
}

/** So many copies from one material. */
export interface PickRow {
  readonly plain: number;
  readonly mirrored: number;
  readonly onFold: number;
  /** The maker's material, by name. */
  readonly material: string;
  /** What the words leave open, until the maker has settled it. */
  readonly question: Instruction['question'];
  /** The words themselves; '' for a row that the maker added. */
  readonly said: string;
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

const lettered = new WeakMap<ReadDrawing, ReadonlySet<string>>();

/** Outlines with a letter at an edge that belongs to another. */
function letteredOutlines(reading: ReadDrawing): ReadonlySet<string> {
  const known = lettered.get(reading);
  if (known) return known;
  const { pairs, lone } = jointProposals(reading);
  const found = new Set(
    [...pairs.flatMap(({ first, second }) => [first, second]), ...lone].map(({ outlineId }) => outlineId),
  );
  lettered.set(reading, found);
  return found;
}

/** Others of the same size and area at the same depth: copies of one piece, as far as measures tell. */
export function drawnAlike(reading: ReadDrawing, outline: DrawingOutline): readonly DrawingOutline[] {
  const apart = letteredOutlines(reading);
  // Parts of one piece are often of one size; letters at their edges tell them apart.
  if (apart.has(outline.id)) return [];
  return reading.outlines.filter(
    (other) =>
      other.id !== outline.id &&
      !apart.has(other.id) &&
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

/** A first guess at what the outlines inside are; `drawn` are heads of arrows. The maker sees and changes it. */
export function guessInside(
  reading: ReadDrawing,
  outline: DrawingOutline,
  drawn: ReadonlySet<string> = new Set(),
): Readonly<Record<string, InsideRole>> {
  const inside = directlyInside(reading, outline.id);
  const inner = inside.filter(({ id }) => !drawn.has(id));
  const file = reading.proposals?.find(({ outlineId }) => outlineId === outline.id);
  const guess = (child: DrawingOutline): InsideRole => {
    if (drawn.has(child.id)) return 'ignore';
    if (file?.sewLineIds.includes(child.id)) return 'sewLine';
    if (file?.holeIds.includes(child.id)) return 'hole';
    if (file?.internalIds.includes(child.id)) return 'internal';
    const part = child.areaMm2 / outline.areaMm2;
    if (inner.length === 1 && part > SEW_LINE_PART) return 'sewLine';
    return part < HOLE_PART ? 'hole' : 'internal';
  };
  return Object.fromEntries(inside.map((child) => [child.id, guess(child)]));
}

/** The maker's name for the material that a pattern calls by a word of its own. */
export type NameMaterial = (role: Instruction['role'], word: string | null) => string;

const NO_NAMES: NameMaterial = (_role, word) => word ?? '';

/**
 * The outline as a piece, with the name, counts and materials that are written in it or beside it, or that the file
 * gives it.
 */
export function newPick(
  reading: ReadDrawing,
  outline: DrawingOutline,
  nameMaterial: NameMaterial = NO_NAMES,
): Pick {
  const file = reading.proposals?.find(({ outlineId }) => outlineId === outline.id);
  const texts = file ? file.notes : [...outline.textInside, ...outline.textBeside];
  const { instructions, rest } = readInstructions(texts);
  const rows = instructions.map(({ role, word, text, ...counts }) => ({
    plain: counts.plain,
    mirrored: counts.mirrored,
    onFold: counts.onFold,
    question: counts.question,
    material: nameMaterial(role, word),
    said: text,
  }));
  // The file's own word on grain and fold goes before what lines in it propose.
  const { grain, fold } = file ? { grain: null, fold: null } : linesInside(reading, outline);
  const isSaid = instructions.some(({ text }) => text.includes(outline.suggestedName.toLowerCase()));
  const named = file?.name || (isSaid ? rest.find((line) => /\p{L}{2}/u.test(line)) : undefined);
  const drawn = new Set([...(grain?.drawnBy ?? []), ...(fold?.drawnBy ?? [])]);
  const pick: Pick = {
    outlineId: outline.id,
    name: named ?? outline.suggestedName,
    count: file?.quantity ?? 1,
    alike: [],
    parts: [],
    inside: guessInside(reading, outline, drawn),
    rows,
    grain: grain && { ...grain, isTaken: grain.sure },
    fold: null,
  };
  return fold ? withFold({ ...pick, fold: { ...fold, isTaken: false } }, true) : pick;
}

/** The pick with its fold edge taken as the drawing proposes it, or not; whole pieces on the fold are counted so. */
export function withFold(pick: Pick, isTaken: boolean): Pick {
  if (!pick.fold) return pick;
  const rows = pick.rows.map((row): PickRow => {
    const total = row.plain + row.mirrored + row.onFold;
    return isTaken
      ? { ...row, plain: 0, mirrored: 0, onFold: total, question: null }
      : { ...row, plain: total, mirrored: 0, onFold: 0 };
  });
  return { ...pick, fold: { ...pick.fold, isTaken }, rows };
}

/** The pick with its first row in the hands that the maker names. */
export function settled(row: PickRow, as: 'alike' | 'pairs' | 'twice' | 'once'): PickRow {
  const total = row.plain + row.mirrored;
  switch (as) {
    case 'alike':
    case 'once':
      return { ...row, plain: total, mirrored: 0, question: null };
    case 'pairs':
      return { ...row, plain: Math.ceil(total / 2), mirrored: Math.floor(total / 2), question: null };
    case 'twice':
      return { ...row, plain: total, mirrored: total, question: null };
  }
}

/** The pick with all outlines drawn alike taken for copies of it. */
export function withAlike(reading: ReadDrawing, pick: Pick): Pick {
  const outline = reading.outlines.find((entry) => entry.id === pick.outlineId);
  if (!outline) return pick;
  const alike = drawnAlike(reading, outline).map((other) => other.id);
  return { ...pick, alike, count: alike.length + 1 };
}

/**
 * Every outline on the page that lies in no other, copies drawn alike counted instead of repeated. The square that the
 * size is checked by is no piece.
 */
export function pickAll(reading: ReadDrawing, nameMaterial: NameMaterial = NO_NAMES): readonly Pick[] {
  const square = findTestSquare(reading);
  const taken = new Set<string>(square?.sure ? [square.id] : []);
  const picks: Pick[] = [];
  for (const outline of reading.outlines) {
    const isSmall = Math.min(outline.widthMm, outline.heightMm) < SMALL_MM;
    if (outline.depth > 0 || outline.onPage === 'outside' || isSmall || taken.has(outline.id)) continue;
    const pick = withAlike(reading, newPick(reading, outline, nameMaterial));
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
  const [united] = pick.parts.length > 0 ? unite(reading, [outline.id, ...pick.parts]) : [];
  const lines = linesIn(reading, pick);
  const file = reading.proposals?.find(({ outlineId }) => outlineId === outline.id);
  const grain = lines.find((line) => file && line.id === file.grainLineId);
  const grainDeg = grain
    ? Math.round(grainFromLine(grain) * 100) / 100
    : pick.grain?.isTaken
      ? pick.grain.deg
      : undefined;
  const drawn = new Set([
    ...(pick.grain?.isTaken ? pick.grain.drawnBy : []),
    ...(pick.fold?.isTaken ? pick.fold.drawnBy : []),
  ]);
  const isOnFold = pick.rows.some(({ onFold }) => onFold > 0);
  const foldGuess = pick.fold?.isTaken ? pick.fold.edge : isOnFold ? longestEdge(outline.ring) : null;
  const foldEdge = file?.foldEdge ?? (united ? null : foldGuess);
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
    internalLines: [...inner('internal'), ...lines.filter((line) => line !== grain && !drawn.has(line.id))],
    ...(grainDeg === undefined ? {} : { grainDeg }),
    ...(foldEdge === null ? {} : { foldEdge }),
    ...(file ? { notches: file.notches } : {}),
  });
  const [first, ...more] = pick.rows.map(({ plain, mirrored, onFold, ...row }) => ({
    counts: { plain, mirrored, onFold },
    material: row.material.trim() === '' ? material : row.material,
  }));
  if (!first) {
    const isHalf = piece.foldEdge !== null;
    const counts = { plain: isHalf ? 0 : pick.count, mirrored: 0, onFold: isHalf ? pick.count : 0 };
    return { piece, counts, material };
  }
  return { piece, ...first, ...(more.length > 0 ? { more } : {}) };
}

/** Open lines on a picked outline: in itself, or in what is drawn on it and is no hole. */
function linesIn(reading: ReadDrawing, pick: Pick): ReadDrawing['openLines'] {
  const held = new Set([
    pick.outlineId,
    ...Object.entries(pick.inside).flatMap(([id, as]) => (as === 'sewLine' || as === 'internal' ? [id] : [])),
  ]);
  return reading.openLines.filter(({ parent }) => parent !== null && held.has(parent));
}

/** Index of the edge that is most likely the fold: the longest. */
function longestEdge(ring: DrawingOutline['ring']): number {
  const length = (i: number): number => distance(ring[i] ?? [0, 0], ring[(i + 1) % ring.length] ?? [0, 0]);
  return ring.reduce((best, _, i) => (length(i) > length(best) ? i : best), 0);
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
