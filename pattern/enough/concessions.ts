import { joinableLength } from '../cutList/joins.ts';
import type { Cloth, CutRow, Joins, LayChoice, Piece, Project } from '../exchange/project.ts';
import { checkPiece, pieceSize } from '../pieces/index.ts';
import { takeSteps } from '../variants/index.ts';

/**
 * One thing the maker could give way in, so that the pieces fit on the cloth she has. Lengths in mm, angles in degrees.
 * Each is a change of the project that she could have made herself, and can be taken back like one.
 */
export type Concession =
  /** The chosen cloth laid in a single layer instead of doubled. */
  | { readonly kind: 'unfold'; readonly clothId: string }
  /** Another cloth of the same material taken as well. */
  | { readonly kind: 'alsoCloth'; readonly clothId: string }
  | { readonly kind: 'gap'; readonly clothId: string; readonly toMm: number }
  | { readonly kind: 'margin'; readonly clothId: string; readonly toMm: number }
  /** Pieces tilted off the grain, either way. */
  | { readonly kind: 'tilt'; readonly clothId: string; readonly toDeg: number }
  /** A piece made from two lengths, or widths; hidden layers butted, without allowance. */
  | {
      readonly kind: 'join';
      readonly pieceId: string;
      readonly allowanceMm: number;
      readonly divides: 'length' | 'width';
    }
  /** A piece laid across the grain as well. */
  | { readonly kind: 'crosswise'; readonly pieceId: string }
  /** A piece cut from another material. */
  | { readonly kind: 'otherMaterial'; readonly pieceId: string; readonly toMaterialId: string }
  /** Pieces may point either way although pile, sheen or print differ. */
  | { readonly kind: 'eitherWay'; readonly clothId: string }
  /** A piece made shorter along its grain. */
  | { readonly kind: 'shorter'; readonly pieceId: string; readonly byMm: number };

export type ConcessionKind = Concession['kind'];

/**
 * What a concession costs the maker, from nothing to a good deal: how things are spread and how close they lie costs
 * her nothing that can be seen, joins and other cloth can be, a print on its head or a smaller bag most of all. An
 * order of ours; makers weigh it differently, so all that work are shown.
 */
const COST: Readonly<Record<ConcessionKind, number>> = {
  unfold: 0,
  alsoCloth: 1,
  gap: 2,
  margin: 3,
  tilt: 4,
  join: 5,
  crosswise: 6,
  otherMaterial: 7,
  eitherWay: 8,
  shorter: 9,
};

/** Layers that are butted edge to edge, in any piece. */
const BUTTED_ROLES = new Set(['interfacing', 'foam']);
/** Hidden layers may lie crosswise or be joined before anything that is seen. */
const HIDDEN_ROLES = new Set(['interfacing', 'foam', 'lining']);

/** What a concession costs a maker, to order them by: less where a seam or the grain of this material does not show. */
export function costOf(project: Project, materialId: string, concession: Concession): number {
  const role = project.materials.find(({ id }) => id === materialId)?.role ?? 'main';
  const isHidden = HIDDEN_ROLES.has(role) && (concession.kind === 'crosswise' || concession.kind === 'join');
  return COST[concession.kind] - (isHidden ? 3.5 : 0);
}

/** Concessions with an amount begin with the most that is asked for, and are then asked for less. */
const MOST_TILT_DEG = 3;
const MOST_SHORTER_PART = 0.1;
const JOIN_ALLOWANCE_MM = 10;
/** A piece is worth joining if it is so many times as long as wide. */
const JOINABLE_RATIO = 2.5;
/** Pieces that are asked for a concession of their own, those without a place first. */
const MOST_PIECES = 6;

/**
 * All single concessions that could be tried for a material laid in this way, cheapest first.
 *
 * @param missing pieces that found no place, as the lay tells: they come first
 */
export function concessionsFor(
  project: Project,
  choice: LayChoice,
  missing: readonly string[],
): Concession[] {
  const { materialId } = choice;
  const own = project.cloths.filter((cloth) => cloth.materialId === materialId);
  const chosen = choice.clothIds.length === 0 ? own : own.filter(({ id }) => choice.clothIds.includes(id));
  const found: Concession[] = [];
  for (const cloth of own) {
    if (chosen.includes(cloth)) found.push(...clothConcessions(cloth, choice));
    else if (cloth.kind === 'remnant') found.push({ kind: 'alsoCloth', clothId: cloth.id });
  }
  const rows = project.cutList.filter(
    (row) => row.materialId === materialId && row.plain + row.mirrored + row.onFold > 0,
  );
  const rank = ({ pieceId }: CutRow): number => (missing.includes(pieceId) ? 0 : 1);
  const asked = [...rows].sort((a, b) => rank(a) - rank(b)).slice(0, MOST_PIECES);
  for (const row of asked) {
    const piece = project.pieces.find(({ id }) => id === row.pieceId);
    if (piece && checkPiece(piece).every(({ level }) => level !== 'error'))
      found.push(...pieceConcessions(project, piece, row, chosen));
  }
  return found
    .map((concession, order) => ({ concession, order, cost: costOf(project, materialId, concession) }))
    .sort((a, b) => a.cost - b.cost || a.order - b.order)
    .map(({ concession }) => concession);
}

function clothConcessions(cloth: Cloth, choice: LayChoice): Concession[] {
  const clothId = cloth.id;
  const found: Concession[] = [];
  if (cloth.kind === 'roll' && choice.spread !== 'single' && choice.spread !== 'compare')
    found.push({ kind: 'unfold', clothId });
  if (cloth.gapMm > 0) found.push({ kind: 'gap', clothId, toMm: 0 });
  if (cloth.edgeMarginMm > 0) found.push({ kind: 'margin', clothId, toMm: 0 });
  const turnsFreely = cloth.turn === 'free';
  const hasUp = cloth.nap !== 'none' || cloth.printUp !== 'none';
  if (!turnsFreely && cloth.tiltDeg < MOST_TILT_DEG && cloth.repeat === null)
    found.push({ kind: 'tilt', clothId, toDeg: MOST_TILT_DEG });
  if (hasUp && cloth.nap !== 'twoWay') found.push({ kind: 'eitherWay', clothId });
  return found;
}

function pieceConcessions(
  project: Project,
  piece: Piece,
  row: CutRow,
  cloths: readonly Cloth[],
): Concession[] {
  const pieceId = piece.id;
  const found: Concession[] = [];
  const size = pieceSize(piece);
  const [long, short] = [Math.max(size.alongMm, size.acrossMm), Math.min(size.alongMm, size.acrossMm)];
  const role = project.materials.find(({ id }) => id === row.materialId)?.role ?? 'main';
  const isHidden = BUTTED_ROLES.has(role);
  const canBeJoined = row.joins === undefined && piece.holes.length === 0 && joinableLength(piece) > 0;
  const isLong = row.onFold === 0 && long / short >= JOINABLE_RATIO;
  if (canBeJoined && (isHidden || isLong)) {
    const allowanceMm = isHidden ? 0 : JOIN_ALLOWANCE_MM;
    found.push({ kind: 'join', pieceId, allowanceMm, divides: 'length' });
    if (isHidden && row.onFold === 0) found.push({ kind: 'join', pieceId, allowanceMm, divides: 'width' });
  }
  const isBound = cloths.some(({ turn }) => turn === 'grain' || turn === 'cross');
  if (isBound && piece.lie === undefined && row.onFold === 0) found.push({ kind: 'crosswise', pieceId });
  for (const { id } of project.materials)
    if (id !== row.materialId && project.cloths.some(({ materialId }) => materialId === id))
      found.push({ kind: 'otherMaterial', pieceId, toMaterialId: id });
  if (piece.variant === undefined)
    found.push({ kind: 'shorter', pieceId, byMm: Math.floor(size.alongMm * MOST_SHORTER_PART) });
  return found;
}

/** What became of a project that gave way. */
export interface Conceded {
  readonly project: Project;
  readonly choice: LayChoice;
}

/** Makes the concession in a project; null if it makes no sense there (any longer). */
export function concede(project: Project, choice: LayChoice, concession: Concession): Conceded | null {
  const { materialId } = choice;
  const changeCloth = (id: string, change: (cloth: Cloth) => Cloth): Conceded | null =>
    project.cloths.some((cloth) => cloth.id === id)
      ? {
          choice,
          project: {
            ...project,
            cloths: project.cloths.map((cloth) => (cloth.id === id ? change(cloth) : cloth)),
          },
        }
      : null;
  const changePiece = (id: string, change: (piece: Piece) => Piece | null): Conceded | null => {
    const pieces = project.pieces.map((piece) => (piece.id === id ? change(piece) : piece));
    if (pieces.includes(null) || !project.pieces.some((piece) => piece.id === id)) return null;
    return { choice, project: { ...project, pieces: pieces as Piece[] } };
  };
  switch (concession.kind) {
    case 'unfold':
      return withChoice(project, { ...choice, spread: 'single' });
    case 'alsoCloth': {
      const clothIds = choice.clothIds.length === 0 ? [] : [...choice.clothIds, concession.clothId];
      return withChoice(project, { ...choice, clothIds });
    }
    case 'gap':
      return changeCloth(concession.clothId, (cloth) => ({ ...cloth, gapMm: concession.toMm }));
    case 'margin':
      return changeCloth(concession.clothId, (cloth) => ({ ...cloth, edgeMarginMm: concession.toMm }));
    case 'tilt':
      return changeCloth(concession.clothId, (cloth) => ({ ...cloth, tiltDeg: concession.toDeg }));
    case 'eitherWay':
      return changeCloth(concession.clothId, (cloth) => ({ ...cloth, nap: 'twoWay', printUp: 'none' }));
    case 'crosswise':
      return changePiece(concession.pieceId, (piece) => ({ ...piece, lie: 'quarter' }));
    case 'shorter':
      return changePiece(concession.pieceId, (piece) => shortened(piece, concession.byMm));
    case 'join': {
      const joins: Joins = {
        most: 1,
        allowanceMm: concession.allowanceMm,
        slant: 'straight',
        wholeMiddleMm: 0,
        ...(concession.divides === 'width' ? { divides: 'width' } : {}),
      };
      const cutList = project.cutList.map((row) =>
        row.pieceId === concession.pieceId && row.materialId === materialId ? { ...row, joins } : row,
      );
      return { choice, project: { ...project, cutList } };
    }
    case 'otherMaterial': {
      const cutList = movedRow(project.cutList, concession.pieceId, materialId, concession.toMaterialId);
      return { choice, project: { ...project, cutList } };
    }
  }
}

function withChoice(project: Project, choice: LayChoice): Conceded {
  const others = project.layChoices.filter(({ materialId }) => materialId !== choice.materialId);
  return { choice, project: { ...project, layChoices: [...others, choice] } };
}

/** The piece so much shorter along its grain, its allowance as wide as before; null if nothing would be left. */
export function shortened(piece: Piece, byMm: number): Piece | null {
  const { alongMm } = pieceSize(piece);
  if (byMm >= alongMm) return null;
  const alongPercent = 100 * (1 - byMm / alongMm);
  const scaled = takeSteps(piece, [{ kind: 'scale', alongPercent, acrossPercent: 100 }]);
  if (!scaled.ok) return null;
  const { source } = piece;
  if (source?.kind !== 'measured') return scaled.piece;
  return { ...scaled.piece, source: { ...source, alongMm: source.alongMm - byMm } };
}

/** The row of a piece moved to another material, added to what is cut of it there. */
function movedRow(rows: readonly CutRow[], pieceId: string, fromId: string, toId: string): readonly CutRow[] {
  const from = rows.find((row) => row.pieceId === pieceId && row.materialId === fromId);
  if (!from) return rows;
  const rest = rows.filter((row) => row !== from);
  const there = rest.find((row) => row.pieceId === pieceId && row.materialId === toId);
  if (!there) return rows.map((row) => (row === from ? { ...from, materialId: toId } : row));
  return rest.map((row) =>
    row === there
      ? {
          ...there,
          plain: there.plain + from.plain,
          mirrored: there.mirrored + from.mirrored,
          onFold: there.onFold + from.onFold,
        }
      : row,
  );
}
