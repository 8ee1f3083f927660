import type { ClothLay, Placed, Project, Segment } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { clothFrame, type Stretch } from '../plan/clothFrame.ts';
import { layRowId, layRows } from '../plan/layRows.ts';
import { cleanText } from '../plan/text.ts';
import { formatDecimals, formatLength, type ShownUnits } from '../units/index.ts';

/**
 * A point of a placed piece, measured on the cloth in mm: `along` from the cut end as it is before it is squared
 * (where the plan's rulers begin), `across` from the edge that the stretch names. Of a remnant both are measured
 * from the box around it.
 */
export interface ClothPoint {
  readonly along: number;
  readonly across: number;
}

/**
 * Where one piece lies: the four points at which it touches the box around it. Any two of them place the piece, a
 * third is a check. Where a whole edge touches, the point is the corner that makes the four go round.
 */
export interface PiecePosition {
  /** Key of the plan's table and copy: `B3`. */
  readonly tag: string;
  readonly name: string;
  readonly pieceId: string;
  readonly hand: Placed['hand'];
  readonly copy: number;
  readonly of: number;
  /** Degrees the piece is turned by, counter-clockwise, as drawn by hand `mirrored` first mirrored. */
  readonly rotation: number;
  readonly mirrored: boolean;
  /** Nearest the cut end, farthest from it, nearest the edge measured from, farthest from that. */
  readonly near: ClothPoint;
  readonly far: ClothPoint;
  readonly low: ClothPoint;
  readonly high: ClothPoint;
}

/** The pieces of one stretch of cloth, nearest the cut end first. */
export interface StretchPositions {
  readonly segment: number;
  readonly spread: Segment['spread'];
  /** From where `across` is measured. */
  readonly from: 'selvedge' | 'fold' | 'box';
  readonly squaringMm: number;
  readonly pieces: readonly PiecePosition[];
}

/** Whether the stretch's lower edge is a fold, from which `across` is measured. */
const isFoldBelow = ({ spread }: Segment): boolean =>
  spread === 'folded' || spread === 'middle' || spread === 'partial';

/** Corners closer than this to a side of the box lie on it, mm: far below what chalk marks. */
const ON_BOX_MM = 0.05;

/** Where every piece of a lay lies, to chalk it from. A stretch for each segment, empty ones too. */
export function layPositions(lay: ClothLay, project: Project): StretchPositions[] {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const frame = clothFrame(lay, cloth);
  const keys = new Map(layRows(lay, project).map((row) => [row.id, row.key]));
  const names = new Map(project.pieces.map((piece) => [piece.id, cleanText(piece.name)]));
  return frame.stretches.map((stretch): StretchPositions => {
    const { segment } = stretch;
    const pieces = segment.placed.map((placed): PiecePosition => {
      const { pieceId, hand, copy, of, rotation, mirrored } = placed;
      return {
        tag: `${keys.get(layRowId(placed)) ?? ''}${copy}`,
        name: names.get(pieceId) ?? pieceId,
        pieceId,
        hand,
        copy,
        of,
        rotation,
        mirrored,
        ...extremes(placed, stretch),
      };
    });
    return {
      segment: stretch.index,
      spread: segment.spread,
      from: frame.kind === 'remnant' ? 'box' : isFoldBelow(segment) ? 'fold' : 'selvedge',
      squaringMm: frame.squaringMm,
      pieces: pieces.sort((a, b) => a.near.along - b.near.along || a.low.across - b.low.across),
    };
  });
}

function extremes(placed: Placed, stretch: Stretch): Pick<PiecePosition, 'near' | 'far' | 'low' | 'high'> {
  const [x0, y0] = stretch.originMm;
  // Sheets drawn beside each other are measured each from its own edge.
  const from = stretch.segment.outline ? stretch.fromMm : 0;
  const points = placed.outline.map(
    ([x, y]): ClothPoint => ({ along: x + x0 - from, across: y + y0 - stretch.lowMm }),
  );
  // Of the points on one side of the box, the last one in the direction that leads on to the next side.
  const pick = (side: (p: ClothPoint) => number, along: (p: ClothPoint) => number): ClothPoint => {
    const least = Math.min(...points.map(side));
    return points
      .filter((p) => side(p) <= least + ON_BOX_MM)
      .reduce((best, p) => (along(p) < along(best) ? p : best));
  };
  return {
    near: pick(
      (p) => p.along,
      (p) => p.across,
    ),
    far: pick(
      (p) => -p.along,
      (p) => -p.across,
    ),
    low: pick(
      (p) => p.across,
      (p) => -p.along,
    ),
    high: pick(
      (p) => -p.across,
      (p) => p.along,
    ),
  };
}

/** A length as it is chalked: to 1 mm, or to 1/16 in. No unit: a heading has it. */
export function chalkLength(mm: number, units: ShownUnits, language: Language = USUAL_LANGUAGE): string {
  if (units === 'in') return formatLength(mm, 'in').replace(/^≈ /, '').replace(/ in$/, '');
  const whole = Math.round(mm) || 0;
  return units === 'mm' ? String(whole) : formatDecimals(whole / 10, 1, language);
}
