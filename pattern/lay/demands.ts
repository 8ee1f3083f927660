import type { Anchor, Demand } from '../../nesting/cloth/index.ts';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { type JoinPart, joinedParts } from '../cutList/joins.ts';
import { type OneSize, pieceOfSize, setsTimes, sizesOf } from '../cutList/sets.ts';
import { pieceIn } from '../cutList/sizing.ts';
import { cutListWords } from '../cutList/words/index.ts';
import type { Notice } from '../exchange/lay.ts';
import type { CutRow, Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { checkPiece } from '../pieces/checkPiece.ts';
import { cutShape } from '../pieces/cutShape.ts';
import { mirrorTurns } from '../pieces/mirrorImage.ts';
import type { HalfShape } from '../pieces/shape.ts';
import { unfold } from '../pieces/unfold.ts';
import { anchorsOf } from './anchors.ts';
import { layWords } from './words/index.ts';

type Ring = Piece['outline'];

/** A demand with what is needed to draw and count what comes of it. */
export interface CutDemand {
  readonly demand: Demand;
  /** The piece of the project. What is cut of it, in this size and material, is the demand's outline. */
  readonly piece: Piece;
  /** Holes of `demand.outline`, and of `demand.half.outline` where there is one. */
  readonly holes: readonly Ring[];
  readonly halfHoles: readonly Ring[];
  /** Area of one whole copy without its holes, in mm². */
  readonly areaMm2: number;
  /** Numbers of the sets it is cut for (none where there is one set only), and how many copies belong to each. */
  readonly sets: readonly number[];
  readonly perSet: { readonly plain: number; readonly mirrored: number };
  /** One of the lengths the piece is joined from. */
  readonly part?: { readonly n: number; readonly of: number };
  /** Which of the sizes of the sets it is, as `sizesOf` lists them. */
  readonly sizeIndex: number;
  /** The material it would be cut from if there were no room for it here. */
  readonly guestOf?: string;
}

/** How far a mirror image may miss the piece to count as the same: less than anyone cuts. Millimetres. */
export const SAME_SHAPE_MM = 0.2;

/** A row with the number of joins that a lay gives it; none unless said. */
export interface LaidRow extends CutRow {
  readonly joinsMade?: number;
  /** Copies that found room on another material, in each size of the sets. */
  readonly taken?: readonly Taken[];
}

export interface Taken {
  /** Which of the sizes, as `sizesOf` lists them. */
  readonly size: number;
  readonly plain: number;
  readonly mirrored: number;
  readonly onFold: number;
}

/**
 * What one material must yield, for all sets. Pieces that cannot be cut as they are become notices; the others are
 * kept. Long pieces are in as many lengths as their rows say (see `LaidRow`).
 */
export function demandsFor(
  project: Project,
  materialId: string,
  language: Language = USUAL_LANGUAGE,
): { demands: CutDemand[]; notices: Notice[] } {
  const words = layWords(language);
  const demands: CutDemand[] = [];
  const notices: Notice[] = [];
  const byId = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const material = project.materials.find(({ id }) => id === materialId);
  const sizes = sizesOf(project);
  const { anchors } = anchorsOf(project);
  const isOneSet = setsTimes(project) === 1;
  for (const row of project.cutList) {
    if (row.materialId !== materialId || row.plain + row.mirrored + row.onFold === 0) continue;
    const piece = byId.get(row.pieceId);
    if (!piece) {
      const text = words.pieceMissing(row.pieceId);
      notices.push({ level: 'error', code: 'pieceMissing', text, materialId });
      continue;
    }
    const fault = (text: string): void => {
      notices.push({
        level: 'error',
        code: 'pieceFaulty',
        text: words.about(piece.name, text),
        pieceId: piece.id,
        materialId,
      });
    };
    const faults = checkPiece(piece, project.units, language).filter((problem) => problem.level === 'error');
    for (const { text } of faults) fault(text);
    if (faults.length > 0) continue;
    sizes.forEach((size, index) => {
      const scaled = pieceOfSize(piece, size);
      const sized = scaled && pieceIn(scaled, material);
      if (!sized) fault(words.noSizeOfSet);
      else if (!sized.ok) {
        const text = cutListWords(language).nothingLeft(piece.name, material?.name ?? materialId);
        notices.push({ level: 'error', code: 'pieceFaulty', text, pieceId: piece.id, materialId });
      } else {
        const suffix = index === 0 ? '' : `~size${index + 1}`;
        const anchor = anchors.get(piece.id);
        const shaped = { piece, sized: sized.piece, size, sizeIndex: index, suffix, isOneSet, anchor };
        demands.push(...rowDemands(row, shaped));
      }
    });
  }
  return { demands, notices };
}

/**
 * Every demand that a lay of this material may hold, by its id: pieces in as many lengths as they may be joined from,
 * and pieces of other materials that may come from this one. For taking a finished lay up again.
 */
export function possibleDemands(project: Project, materialId: string): Map<string, CutDemand> {
  const most = project.cutList.reduce(
    (sum, row) => (row.materialId === materialId ? Math.max(sum, row.joins?.most ?? 0) : sum),
    0,
  );
  const found = new Map<string, CutDemand>();
  for (let joinsMade = 0; joinsMade <= most; joinsMade++) {
    const cutList: LaidRow[] = project.cutList.map((row) =>
      row.joins ? { ...row, joinsMade: Math.min(joinsMade, row.joins.most) } : row,
    );
    for (const cut of demandsFor({ ...project, cutList }, materialId).demands) found.set(cut.demand.id, cut);
  }
  for (const cut of guestDemands(project, materialId)) found.set(cut.demand.id, cut);
  return found;
}

/**
 * Pieces of other materials that may come from this one, cut as this one is cut, in the order of the cut list. Their
 * ids tell them from the material's own.
 */
export function guestDemands(project: Project, materialId: string): CutDemand[] {
  return project.cutList
    .filter((row) => row.elsewhere?.includes(materialId) && row.materialId !== materialId)
    .flatMap((row) => {
      const alone = { ...project, cutList: [{ ...row, materialId }] };
      return demandsFor(alone, materialId).demands.map((cut) => ({
        ...cut,
        demand: { ...cut.demand, id: `${cut.demand.id}~from.${row.materialId}` },
        guestOf: row.materialId,
      }));
    });
}

interface Shaped {
  readonly piece: Piece;
  /** As it is cut from this material in this size. */
  readonly sized: Piece;
  readonly size: OneSize;
  readonly anchor: Anchor | undefined;
  /** Told apart from the same piece in other sizes by this end of the demand's id. */
  readonly suffix: string;
  readonly sizeIndex: number;
  readonly isOneSet: boolean;
}

function rowDemands(row: LaidRow, shaped: Shaped): CutDemand[] {
  const joins = row.joinsMade ?? 0;
  const { sized, size, sizeIndex } = shaped;
  const gone = row.taken?.find((entry) => entry.size === sizeIndex);
  const shape = cutShape(sized);
  const [plain, mirrored, onFold] = (['plain', 'mirrored', 'onFold'] as const).map(
    (hand) => size.numbers.length * row[hand] - (gone?.[hand] ?? 0),
  ) as [number, number, number];
  const found: CutDemand[] = [];
  if (plain + mirrored > 0) {
    const counts = { plain, mirrored, perSet: { plain: row.plain, mirrored: row.mirrored } };
    // Halves that are cut singly have no fold to be joined at.
    const joined = joins > 0 && row.joins && shape.fold === null && joinedParts(sized, row.joins, joins);
    if (joined) found.push(...joined.map((part) => partDemand(shaped, part, '', counts)));
    else found.push(cutDemand(shaped, shape, '', counts));
  }
  if (onFold > 0 && shape.fold) {
    const counts = { plain: onFold, mirrored: 0, perSet: { plain: row.onFold, mirrored: 0 } };
    const joined = joins > 0 && row.joins && joinedParts(sized, row.joins, 1);
    if (joined) found.push(...joined.map((part) => partDemand(shaped, part, '~half', counts)));
    else found.push(foldDemand(shaped, { ...shape, fold: shape.fold }, counts));
  }
  return found;
}

/** Copies of a demand: of all sets together, and of each. */
type Counts = Pick<CutDemand, 'perSet'> & CutDemand['perSet'];

/** A shape of a piece as it is cut, `mark` telling it apart from the piece's other shapes. */
function cutDemand(
  { piece, sized, size, sizeIndex, suffix, isOneSet, anchor }: Shaped,
  { outline, holes }: Pick<JoinPart, 'outline' | 'holes'>,
  mark: string,
  { plain, mirrored, perSet }: Counts,
): CutDemand {
  return {
    demand: {
      grainDeg: sized.grainDeg,
      topDeg: sized.topDeg,
      sets: size.numbers.length,
      ...(anchor === undefined ? {} : { anchor }),
      ...(sized.onBorder === undefined ? {} : { onBorder: sized.onBorder }),
      ...(sized.lie === undefined ? {} : { turn: sized.lie }),
      id: `${piece.id}${mark}${suffix}`,
      outline,
      plain,
      mirrored,
      mirrorTurns: mirrorTurns({ outline, holes }, SAME_SHAPE_MM),
    },
    piece,
    holes,
    halfHoles: [],
    areaMm2: areaOf(outline, holes),
    sets: isOneSet ? [] : size.numbers,
    perSet,
    sizeIndex,
  };
}

/** One of the parts a piece is joined from. */
function partDemand(shaped: Shaped, part: JoinPart, mark: string, counts: Counts): CutDemand {
  const { n, of } = part;
  if (of === 1) return cutDemand(shaped, part, mark, counts);
  return { ...cutDemand(shaped, part, `${mark}~part${n}of${of}`, counts), part: { n, of } };
}

/** A half piece, cut whole: on a fold, or opened out. */
function foldDemand(shaped: Shaped, half: HalfShape, counts: Counts): CutDemand {
  const whole = cutDemand(shaped, unfold(half), '~fold', counts);
  const { outline, fold, holes } = half;
  return { ...whole, demand: { ...whole.demand, half: { outline, fold } }, halfHoles: holes };
}

function areaOf(outline: Ring, holes: readonly Ring[]): number {
  return holes.reduce((area, hole) => area - Math.abs(signedArea(hole)), Math.abs(signedArea(outline)));
}
