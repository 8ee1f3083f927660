import { useId } from 'preact/hooks';
import type { ClothLay, Project } from '../../../pattern/exchange/project.ts';
import { type PrintedPiece, type PrintTile, printedStretches } from '../../../pattern/output/index.ts';
import { pathThrough } from '../../render/frame.ts';
import { t } from '../../strings/index.ts';
import { RepeatPicture } from './RepeatPicture.tsx';

interface PrintPreviewProps {
  readonly project: Project;
  readonly lay: ClothLay;
}

/** The cut pieces as they will look with the cloth's print on them, upright and side by side. */
export function PrintPreview({ project, lay }: PrintPreviewProps) {
  const id = useId();
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  // Without a lattice in both directions there is nothing a picture could be laid on.
  if (!cloth?.repeat || cloth.repeat.alongMm <= 0 || cloth.repeat.acrossMm <= 0) return null;
  if (cloth.repeat.skewDeg !== 0) return <p class="field-help">{t.preview.notSkewed}</p>;
  const stretches = printedStretches(lay, project);
  return (
    <details class="help print-preview">
      <summary>{t.preview.title}</summary>
      <p class="field-help">{t.preview.lead}</p>
      <RepeatPicture cloth={cloth} />
      {cloth.printPicture !== undefined && stretches.length === 0 && <p class="faint">{t.preview.nothing}</p>}
      {stretches.some(({ isDoubled }) => isDoubled) && <p class="field-help">{t.preview.opened}</p>}
      {stretches.map((stretch) => {
        const pattern = `${id}-print-${stretch.segment}`;
        const wrong = stretch.pieces.filter(isWrong);
        return (
          <div key={stretch.segment}>
            <svg
              class="print-cloth"
              viewBox={`-2 -2 ${stretch.width + 4} ${stretch.height + 4}`}
              role="img"
              aria-label={t.preview.cloth}
            >
              <Print id={pattern} tile={stretch.tile} />
              {stretch.outline ? (
                <path d={pathThrough(stretch.outline)} fill={`url(#${pattern})`} />
              ) : (
                <rect width={stretch.width} height={stretch.height} fill={`url(#${pattern})`} />
              )}
              {stretch.pieces.map((piece) => (
                <path
                  key={keyOf(piece)}
                  class={isWrong(piece) ? 'print-edge wrong' : 'print-edge'}
                  d={piece.rings.map((ring) => pathThrough(ring)).join('')}
                >
                  <title>{namesOf(piece)}</title>
                </path>
              ))}
            </svg>
            <p role="status" class={wrong.length > 0 ? 'warn' : 'faint'}>
              {wrong.length > 0
                ? t.preview.wrong(wrong.map(namesOf))
                : stretch.pieces.some(({ print }) => print === 'up')
                  ? t.preview.allUp
                  : t.preview.unknown}
            </p>
            <ul class="print-pieces">
              {stretch.pieces.map((piece) => (
                <li key={keyOf(piece)}>
                  <PieceWithPrint piece={piece} tile={stretch.tile} id={`${pattern}-${keyOf(piece)}`} />
                  <span>
                    <strong>{piece.tag}</strong> {piece.name}
                    {handOf(piece)}
                  </span>
                  {isWrong(piece) && <span class="warn">{t.preview.stands[piece.print]}</span>}
                </li>
              ))}
            </ul>
          </div>
        );
      })}
    </details>
  );
}

type WrongPiece = PrintedPiece & { readonly print: 'upsideDown' | 'sideways' };

function isWrong(piece: PrintedPiece): piece is WrongPiece {
  return piece.print === 'upsideDown' || piece.print === 'sideways';
}

/** On doubled cloth a placement gives two pieces: told apart by the place of the first corner. */
function keyOf({ tag, rings }: PrintedPiece): string {
  const [x = 0, y = 0] = rings[0]?.[0] ?? [];
  return `${tag}-${Math.round(x)}-${Math.round(y)}`;
}

function handOf({ hand }: PrintedPiece): string {
  const words = t.preview.hands[hand];
  return words === '' ? '' : `, ${words}`;
}

const namesOf = (piece: PrintedPiece): string => `${piece.tag} ${piece.name}${handOf(piece)}`;

interface PieceWithPrintProps {
  readonly piece: PrintedPiece;
  readonly tile: PrintTile;
  readonly id: string;
}

/** Pixels that the longest side of a piece takes. */
const LONGEST_PX = 150;

function PieceWithPrint({ piece, tile, id }: PieceWithPrintProps) {
  const { minX, minY, maxX, maxY } = piece.box;
  const [width, height] = [maxX - minX, maxY - minY];
  const scale = LONGEST_PX / Math.max(width, height, 1);
  return (
    <svg
      viewBox={`${minX - 2} ${minY - 2} ${width + 4} ${height + 4}`}
      width={Math.max(24, width * scale)}
      height={Math.max(24, height * scale)}
      role="img"
      aria-label={t.preview.piece(piece.tag, piece.name)}
    >
      <Print id={id} tile={tile} />
      <g transform={`rotate(${piece.turn})`}>
        <path
          class={isWrong(piece) ? 'print-edge wrong' : 'print-edge'}
          d={piece.rings.map((ring) => pathThrough(ring)).join('')}
          fill={`url(#${id})`}
          fill-rule="evenodd"
        />
      </g>
    </svg>
  );
}

function Print({ id, tile }: { readonly id: string; readonly tile: PrintTile }) {
  return (
    <defs>
      <pattern
        id={id}
        patternUnits="userSpaceOnUse"
        x={tile.x}
        y={tile.y}
        width={tile.width}
        height={tile.height}
      >
        {tile.pictures.map(([x, y]) => (
          <image
            key={`${x} ${y}`}
            href={tile.picture}
            x={x}
            y={y}
            width={tile.pictureWidth}
            height={tile.pictureHeight}
            preserveAspectRatio="none"
          />
        ))}
      </pattern>
    </defs>
  );
}
