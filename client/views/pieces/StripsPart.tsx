import { useState } from 'preact/hooks';
import { setsTimes } from '../../../pattern/cutList/index.ts';
import type { Joins, Piece, Project } from '../../../pattern/exchange/project.ts';
import { pieceSize } from '../../../pattern/pieces/index.ts';
import { squareForBias, straightStrips, stripsOnBias } from '../../../pattern/shapes/index.ts';
import { LengthField } from '../../fields/NumberFields.tsx';
import { t } from '../../strings/index.ts';
import { formatLength, formatPurchase, formatSize } from '../../strings/lengths.ts';
import { useProject } from '../shared/hooks.ts';

/** Cloth to begin with where none is there yet: quilting cotton without its selvedges, 107 cm or 42 in. */
const USUAL_WIDTH_MM = { cm: 1070, mm: 1070, in: 1066.8 } as const;
const USUAL_JOIN: Joins = { most: 20, allowanceMm: 10, slant: 'diagonal', wholeMiddleMm: 0 };

/** Whether a piece is a strip that is joined from lengths: a binding, or one whose row allows joins. */
export function isStrip(project: Project, piece: Piece): boolean {
  if (piece.foldEdge !== null || piece.holes.length > 0) return false;
  if (piece.source?.kind === 'shape' && piece.source.shape === 'binding') return true;
  const isJoined = project.cutList.some(({ pieceId, joins }) => pieceId === piece.id && joins !== undefined);
  const { alongMm, acrossMm } = pieceSize(piece);
  return isJoined && Math.max(alongMm, acrossMm) >= STRIP_RATIO * Math.min(alongMm, acrossMm);
}

/** A strip is so many times as long as wide. */
const STRIP_RATIO = 5;

interface StripsPartProps {
  readonly piece: Piece;
  /** Copies and joins, where the piece is not in the cut list yet. */
  readonly copies?: number;
}

/** How many strips a binding or strap takes straight or on the bias, and the square for an endless one. */
export function StripsPart({ piece, copies }: StripsPartProps) {
  const project = useProject();
  const { units } = project;
  const rows = project.cutList.filter(({ pieceId }) => pieceId === piece.id);
  const joins = rows.find((row) => row.joins)?.joins ?? USUAL_JOIN;
  const roll = project.cloths.find(
    (cloth) => cloth.kind === 'roll' && rows.some(({ materialId }) => materialId === cloth.materialId),
  );
  const between =
    roll?.kind === 'roll'
      ? (roll.usableWidthMm ?? roll.widthMm - 2 * roll.selvedgeMm)
      : USUAL_WIDTH_MM[units];
  const [typed, setTyped] = useState<number | null>(null);
  const clothWidthMm = typed ?? between;
  const count =
    copies ?? setsTimes(project) * rows.reduce((sum, { plain, mirrored }) => sum + plain + mirrored, 0);
  const { alongMm, acrossMm } = pieceSize(piece);
  const [long, wide] = [Math.max(alongMm, acrossMm), Math.min(alongMm, acrossMm)];
  if (count === 0 || !(clothWidthMm > 0) || !(wide > 0)) return null;
  const wanted = {
    lengthMm: count * long,
    widthMm: wide,
    clothWidthMm,
    joinMm: joins.allowanceMm,
    slant: joins.slant,
  };
  const [straight, bias] = [straightStrips(wanted), stripsOnBias(wanted)];
  const side = squareForBias(wanted);
  const length = (mm: number): string => formatLength(mm, units);
  const cloth = (mm: number): string => formatPurchase(mm, units);
  return (
    <fieldset class="part">
      <legend>{t.strips.title}</legend>
      <p class="field-help">
        {t.strips.lead(cloth(wanted.lengthMm), length(wide), length(joins.allowanceMm))}
      </p>
      <LengthField label={t.strips.width} mm={clothWidthMm} onChange={setTyped} />
      <dl class="figures strips">
        <div>
          <dt>{t.strips.straight}</dt>
          <dd>
            {straight
              ? t.strips.line(straight.strips, straight.joins, cloth(straight.clothMm))
              : t.strips.tooManyJoins}
          </dd>
        </div>
        <div>
          <dt>{t.strips.bias}</dt>
          <dd>
            {bias ? (
              <>
                {t.strips.line(bias.strips, bias.joins, cloth(bias.clothMm))}{' '}
                <span class="faint">
                  {t.strips.corner(length(bias.eachMm), cloth(bias.clothWithCornerMm))}
                </span>
              </>
            ) : (
              t.strips.tooManyJoins
            )}
          </dd>
        </div>
        <div>
          <dt>{t.strips.endless}</dt>
          <dd>
            {t.strips.square(formatSize(side, side, units))}{' '}
            {side > clothWidthMm && <span class="faint">{t.strips.squareTooWide}</span>}
          </dd>
        </div>
      </dl>
      <p class="field-help">{t.strips.help}</p>
    </fieldset>
  );
}
