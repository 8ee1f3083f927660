import { distance } from '../../nesting/geometry/rings.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import type { Piece } from '../../pattern/exchange/project.ts';
import { drawnAlike } from '../../pattern/proposals/alike.ts';
import { drawnAllowance } from '../../pattern/proposals/drawnAllowance.ts';
import { guessInside, type InsideRole } from '../../pattern/proposals/inside.ts';
import { type Instruction, materialSaid, readInstructions } from '../../pattern/proposals/instructions.ts';
import { type FoldProposal, type GrainProposal, linesInside } from '../../pattern/proposals/linesInside.ts';
import { strayWords } from '../../pattern/proposals/strayWords.ts';
import { cutOut, opensOnto } from '../../pattern/reading/cutOut.ts';
import type { DrawingOutline, PieceProposal, ReadDrawing } from '../../pattern/reading/drawing.ts';
import { distanceToSegment } from '../../pattern/reading/flatten.ts';
import { CLOSING_MM } from '../../pattern/reading/limits.ts';
import {
  grainFromLine,
  type PickedOutline,
  pieceFromOutline,
} from '../../pattern/reading/pieceFromOutline.ts';
import { type UnitedOutline, uniteOutlines } from '../../pattern/reading/uniteOutlines.ts';
import { freshId } from '../state/ids.ts';
import type { DrawnDraft } from '../state/pieceCommands.ts';
import { t } from '../strings/index.ts';

/** One outline that becomes a piece. */
export interface Pick {
  readonly outlineId: string;
  readonly name: string;
  /** Copies as drawn, and mirror images of it. */
  readonly count: number;
  readonly mirrored: number;
  /** What the drawing says it is cut from, by the maker's name; '' where it says nothing. */
  readonly material: string;
  /** Outlines drawn alike that this pick stands for, mirror images too, besides its own. */
  readonly alike: readonly string[];
  /** Outlines that touch this one and make one piece with it. */
  readonly parts: readonly string[];
  /** Those of the outlines it is made of that show its finished size, without the strips of allowance round them. */
  readonly core: readonly string[];
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

const byIds = new WeakMap<ReadDrawing, ReadonlyMap<string, DrawingOutline>>();

export function outlineById(reading: ReadDrawing): ReadonlyMap<string, DrawingOutline> {
  const known = byIds.get(reading);
  if (known) return known;
  const found = new Map(reading.outlines.map((outline) => [outline.id, outline]));
  byIds.set(reading, found);
  return found;
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
  const texts = file
    ? file.notes
    : [...outline.textInside, ...outline.textBeside, ...strayWords(reading, outline.id)];
  const { instructions, rest } = readInstructions(texts);
  const written = instructions.map(({ role, word, text, ...counts }) => ({
    plain: counts.plain,
    mirrored: counts.mirrored,
    onFold: counts.onFold,
    question: counts.question,
    material: nameMaterial(role, word),
    said: text,
  }));
  const rows = file ? fileRows(file, written, nameMaterial) : written;
  // The file's own word on grain and fold goes before what lines in it propose.
  const { grain, fold } = file ? { grain: null, fold: null } : linesInside(reading, outline);
  const said = file || rows.length > 0 ? null : materialSaid(outline.textInside);
  const isSaid = instructions.some(({ text }) => text.includes(outline.suggestedName.toLowerCase()));
  const named = file?.name || (isSaid ? rest.find((line) => /\p{L}{2}/u.test(line)) : undefined);
  const drawn = new Set([...(grain?.drawnBy ?? []), ...(fold?.drawnBy ?? [])]);
  const pick: Pick = {
    outlineId: outline.id,
    name: named ?? outline.suggestedName,
    count: file?.quantity ?? 1,
    mirrored: 0,
    material: said ? nameMaterial(said.role, said.word) : '',
    alike: [],
    parts: [],
    core: [],
    inside: guessInside(reading, outline, drawn),
    rows,
    grain: grain && { ...grain, isTaken: grain.sure },
    fold: null,
  };
  return fold ? withFold({ ...pick, fold: { ...fold, isTaken: false } }, true) : pick;
}

/**
 * What the file's own entries say is to be cut. Words on the piece that name a material say more; those that only tell
 * that it lies on a fold go with the entries.
 */
function fileRows(
  { quantity, mirroredQuantity, material, foldEdge }: PieceProposal,
  written: readonly PickRow[],
  nameMaterial: NameMaterial,
): readonly PickRow[] {
  if ((quantity === null && material === null) || written.some((row) => row.material !== '')) return written;
  const [named] = material === null ? [] : readInstructions([`cut 1 ${material}`]).instructions;
  const plain = quantity ?? 1;
  const total = plain + mirroredQuantity;
  const isOnFold = foldEdge !== null || written.some(({ onFold }) => onFold > 0);
  return [
    {
      plain: isOnFold ? 0 : plain,
      mirrored: isOnFold ? 0 : mirroredQuantity,
      onFold: isOnFold ? total : 0,
      material: named?.word ? nameMaterial(named.role, named.word) : (material ?? '').trim(),
      question: !isOnFold && plain > 1 && mirroredQuantity === 0 ? 'hands' : null,
      said: [String(quantity ?? ''), material ?? '', ...written.map(({ said }) => said)]
        .filter((part) => part !== '')
        .join(', '),
    },
  ];
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

/**
 * The pick with all outlines drawn alike taken for copies of it, or for mirror images.
 * @param isElse whether an outline drawn alike is something else all the same
 */
export function withAlike(
  reading: ReadDrawing,
  pick: Pick,
  isElse: (outline: DrawingOutline) => boolean = () => false,
): Pick {
  const outline = outlineById(reading).get(pick.outlineId);
  if (!outline) return pick;
  const { same, mirrored } = drawnAlike(reading, outline);
  // What the file describes as a piece is one, however like another it is.
  const described = new Set(reading.proposals?.map(({ outlineId }) => outlineId));
  const ids = (others: readonly DrawingOutline[]): string[] =>
    others.flatMap((other) =>
      isElse(other) || pick.parts.includes(other.id) || described.has(other.id) ? [] : [other.id],
    );
  const copies = ids(same);
  const images = ids(mirrored);
  return { ...pick, alike: [...copies, ...images], count: copies.length + 1, mirrored: images.length };
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
    mirrored: 0,
    alike: [],
    parts: [...first.parts, ...others.flatMap((pick) => [pick.outlineId, ...pick.parts])],
    inside: Object.assign({}, ...picks.map((pick) => pick.inside)) as Readonly<Record<string, InsideRole>>,
  };
}

/** Size of a picked outline with the parts it is joined from. */
export function joinedSize(
  reading: ReadDrawing,
  { outlineId, parts }: Pick,
): { readonly widthMm: number; readonly heightMm: number } {
  const outlines = outlineById(reading);
  const boxes = [outlineId, ...parts].flatMap((id) => outlines.get(id)?.box ?? []);
  return {
    widthMm: Math.max(...boxes.map(({ maxX }) => maxX)) - Math.min(...boxes.map(({ minX }) => minX)),
    heightMm: Math.max(...boxes.map(({ maxY }) => maxY)) - Math.min(...boxes.map(({ minY }) => minY)),
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
  const wholeEdge = file?.foldEdge ?? (united ? null : foldGuess);
  const whole = united?.ring ?? outline.ring;
  const holes = inner('hole');
  // What opens onto the edge is no hole: the piece ends there.
  const open = holes.filter(({ ring }) => opensOnto(ring, whole));
  const left = open.length > 0 ? without(whole, open, pick.name) : whole;
  const foldEdge = wholeEdge === null || left === whole ? wholeEdge : edgeAlong(left, whole, wholeEdge);
  const mouths = (united?.holes ?? []).map((ring, index) => ({
    id: `${outline.id} hole ${index + 1}`,
    ring,
  }));
  const finished = pick.core.length > 0 ? unite(reading, pick.core) : [];
  const drawing: Piece = pieceFromOutline(
    { id: outline.id, ring: left },
    {
      id: freshId('piece'),
      name: pick.name,
      fileName: reading.fileName,
      holes: [...mouths, ...holes.filter((hole) => !open.includes(hole))],
      sewLines: [
        ...inner('sewLine'),
        ...finished.map(({ ring }) => ({ id: `${outline.id} sew line`, ring })),
      ],
      internalLines: [...inner('internal'), ...lines.filter((line) => line !== grain && !drawn.has(line.id))],
      ...(grainDeg === undefined ? {} : { grainDeg }),
      ...(foldEdge === null ? {} : { foldEdge }),
      // Drill holes are single points to be marked, as notches inside a piece are.
      ...(file ? { notches: [...file.notches, ...file.drillHoles] } : {}),
    },
  );
  const piece: Piece = { ...drawing, ...drawnAllowance(drawing) };
  const [first, ...more] = pick.rows.map(({ plain, mirrored, onFold, ...row }) => ({
    counts: { plain, mirrored, onFold },
    material: row.material.trim() === '' ? material : row.material,
  }));
  if (!first) {
    const { count, mirrored } = pick;
    const counts =
      piece.foldEdge === null
        ? { plain: count, mirrored, onFold: 0 }
        : { plain: 0, mirrored: 0, onFold: count + mirrored };
    return { piece, counts, material: pick.material.trim() === '' ? material : pick.material };
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

function without(ring: Outline, mouths: readonly PickedOutline[], name: string): Outline {
  try {
    const left = cutOut(
      ring,
      mouths.map((mouth) => mouth.ring),
    );
    if (left) return left;
  } catch {
    // Said below.
  }
  throw new RangeError(t.drawing.nothingLeft(name));
}

/** The longest edge of a ring that runs along an edge of another; null if none does. */
function edgeAlong(ring: Outline, before: Outline, edge: number): number | null {
  const from = before[edge] ?? [0, 0];
  const to = before[(edge + 1) % before.length] ?? [0, 0];
  const isOn = (i: number): boolean =>
    distanceToSegment(ring[i % ring.length] ?? [0, 0], from, to) <= CLOSING_MM;
  const length = (i: number): number => distance(ring[i] ?? [0, 0], ring[(i + 1) % ring.length] ?? [0, 0]);
  return ring.reduce<number | null>(
    (best, _, i) => (isOn(i) && isOn(i + 1) && (best === null || length(i) > length(best)) ? i : best),
    null,
  );
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
