import type { Cloth } from '../../../pattern/exchange/project.ts';
import { t } from '../../strings/index.ts';

/** Small drawings beside the rules of a cloth: what a reader would otherwise have to picture. Our own. */

interface HelpDrawingProps {
  readonly label: string;
  readonly children: preact.ComponentChildren;
}

function HelpDrawing({ label, children }: HelpDrawingProps) {
  return (
    <svg class="help-drawing" viewBox="0 0 120 72" role="img" aria-label={label}>
      {children}
    </svg>
  );
}

const CLOTH = 'M6 8H114V64H6Z';

/** A pattern piece with its top: a house seen from the front. Turned about its own middle. */
function Piece({ x, y, turn = 0 }: { readonly x: number; readonly y: number; readonly turn?: number }) {
  return (
    <g transform={`translate(${x} ${y}) rotate(${turn})`}>
      <path class="hd-piece" d="M-9 9V-4L0 -11L9 -4V9Z" />
      <path class="hd-line" d="M0 6V-5M-2.6 -2.2L0 -5.4L2.6 -2.2" />
    </g>
  );
}

/** How the grain lines of pieces may lie; the cloth's grain runs from left to right. */
export function TurnDrawing({ turn }: { readonly turn: Cloth['turn'] }) {
  const turns: Readonly<Record<Cloth['turn'], readonly number[]>> = {
    grain: [90, -90],
    cross: [0, 180],
    bias: [45, -45],
    biasLeft: [45, -135],
    biasRight: [135, -45],
    quarter: [90, 0, -90],
    free: [90, 20, -55],
  };
  const shown = turns[turn];
  return (
    <HelpDrawing label={t.cloth.drawings.turn(t.cloth.turns[turn])}>
      <path class="hd-cloth" d={CLOTH} />
      <path class="hd-soft" d="M14 58H106M101 55.5L106 58L101 60.5" />
      {shown.map((deg, i) => (
        <Piece key={deg} x={12 + ((i + 0.5) * 96) / shown.length} y={31} turn={deg} />
      ))}
    </HelpDrawing>
  );
}

/** Which way the tops of pieces point. */
export function NapDrawing({ nap }: { readonly nap: Cloth['nap'] }) {
  const turns: Readonly<Record<Cloth['nap'], readonly number[]>> = {
    none: [90, -90, 90],
    oneWay: [90, 90, 90],
    twoWay: [90, -90, 90],
    upAndDown: [90, 90, -90, -90],
  };
  const shown = turns[nap];
  return (
    <HelpDrawing label={t.cloth.drawings.nap(t.cloth.naps[nap])}>
      <path class="hd-cloth" d={CLOTH} />
      {nap !== 'none' && (
        <path
          class="hd-soft"
          d={
            nap === 'twoWay'
              ? 'M14 58H106M101 55.5L106 58L101 60.5M19 55.5L14 58L19 60.5'
              : 'M14 58H106M101 55.5L106 58L101 60.5'
          }
        />
      )}
      {nap === 'upAndDown' && <path class="hd-soft" d="M60 12V52" stroke-dasharray="2 2" />}
      {shown.map((deg, i) => (
        <Piece key={`${i} ${deg}`} x={12 + ((i + 0.5) * 96) / shown.length} y={31} turn={deg} />
      ))}
    </HelpDrawing>
  );
}

/** A half piece at a fold, and what it opens out to. */
export function FoldDrawing() {
  const half = 'M60 16H96L88 56H60Z';
  return (
    <svg class="help-drawing" viewBox="0 0 120 72" aria-hidden="true" focusable="false">
      <path class="hd-cloth" d="M6 6H114V66H6Z" />
      <path class="hd-soft" d={half} transform="translate(120 0) scale(-1 1)" stroke-dasharray="3 2.500" />
      <path class="hd-piece" d={half} />
      <path class="hd-fold" d="M60 10V62" />
      <path class="hd-line" d="M52 36a14 14 0 0 1 -14 10M42 43L38 46L42 49" />
    </svg>
  );
}

/** How a roll lies, seen from its cut end (left) and from above. */
export function SpreadDrawing({ spread }: { readonly spread: string }) {
  const above: Readonly<Record<string, preact.JSX.Element>> = {
    single: <path class="hd-cloth" d={CLOTH} />,
    folded: (
      <>
        <path class="hd-cloth" d="M6 20H114V52H6Z" />
        <path class="hd-fold" d="M6 52H114" />
        <path class="hd-line" d="M6 20H114M6 23.5H114" />
      </>
    ),
    sequence: (
      <>
        <path class="hd-cloth" d="M6 8H66V36H6ZM66 8H114V64H66Z" />
        <path class="hd-fold" d="M6 36H66" />
        <path class="hd-line" d="M66 8V64" stroke-dasharray="4 2" />
      </>
    ),
    partial: (
      <>
        <path class="hd-cloth" d="M6 10H114V58H6Z" />
        <path class="hd-upper" d="M6 40H114V58H6Z" />
        <path class="hd-fold" d="M6 58H114" />
        <path class="hd-line" d="M6 40H114" />
      </>
    ),
    middle: (
      <>
        <path class="hd-cloth" d="M6 16H114V56H6Z" />
        <path class="hd-upper" d="M6 16H114V35H6ZM6 37H114V56H6Z" />
        <path class="hd-fold" d="M6 16H114M6 56H114" />
        <path class="hd-line" d="M6 36H114" />
      </>
    ),
    crosswise: (
      <>
        <path class="hd-cloth" d="M22 8H98V64H22Z" />
        <path class="hd-fold" d="M98 8V64" />
        <path class="hd-line" d="M22 8V64M25.5 8V64" />
      </>
    ),
    turned: (
      <>
        <path class="hd-cloth" d="M18 12H94V64H18Z" />
        <path class="hd-upper" d="M24 8H100V60H24Z" />
        <path class="hd-line" d="M40 34A14 14 0 1 1 62 46M62 46L63.5 39.5M62 46L56 43" />
      </>
    ),
  };
  return (
    <svg class="help-drawing" viewBox="0 0 120 72" aria-hidden="true" focusable="false">
      {above[spread]}
    </svg>
  );
}

/** Where motifs recur on the cloth, and what is measured. */
export function RepeatDrawing({ kind, stripes }: { readonly kind: string; readonly stripes: boolean }) {
  const spots: [number, number][] = [];
  for (let column = 0; column < 5; column++) {
    for (let row = 0; row < 4; row++) {
      // The cloth lies with its length from left to right: a half drop shifts every second row across it along.
      const along = 16 + column * 24 + (kind === 'halfDrop' && row % 2 === 1 ? 12 : 0);
      const across = 57 - row * 14 - (kind === 'brick' && column % 2 === 1 ? 7 : 0);
      if (along < 112 && across > 10) spots.push([along, across]);
    }
  }
  return (
    <HelpDrawing label={t.cloth.drawings.repeat(t.cloth.repeatKinds[kind as 'straight'])}>
      <path class="hd-cloth" d={CLOTH} />
      {stripes ? (
        <path class="hd-bars" d="M16 8V64M40 8V64M64 8V64M88 8V64M6 57H114M6 43H114M6 29H114M6 15H114" />
      ) : (
        spots.map(([x, y]) => <circle key={`${x} ${y}`} class="hd-motif" cx={x} cy={y} r="2.6" />)
      )}
      <path class="hd-line" d="M16 61H40M16 59V63M40 59V63M11 57V43M9 57H13M9 43H13" />
    </HelpDrawing>
  );
}
