import type { Repeat } from '../exchange/project.ts';
import { bounds } from '../plan/intervals.ts';
import type { SheetPrint } from './sheet.ts';

/** One tile of the print: pictures of the repeat in it, each by its upper left corner. All mm, y down. */
export interface PrintTile {
  readonly picture: string;
  readonly pictureWidth: number;
  readonly pictureHeight: number;
  readonly width: number;
  readonly height: number;
  /** Where a tile begins on the stretch. */
  readonly x: number;
  readonly y: number;
  readonly pictures: readonly (readonly [x: number, y: number])[];
}

/** The lattice as one tile, seen from `beginMm` along the cloth and from its upper edge: of half drops and bricks two columns or rows. */
export function tileOf(repeat: Repeat, picture: string, beginMm: number, height: number): PrintTile {
  const { alongMm: w, acrossMm: h, kind, fromEndMm, fromSelvedgeMm } = repeat;
  const [columns, rows] = kind === 'brick' ? [2, 1] : kind === 'halfDrop' ? [1, 2] : [1, 1];
  const pictures: (readonly [number, number])[] = [[0, 0]];
  // The second of two is set off by half a repeat, so that its picture is cut by the tile's edge and shows on both sides.
  if (kind === 'halfDrop') pictures.push([w / 2, h], [-w / 2, h]);
  if (kind === 'brick') pictures.push([w, h / 2], [w, -h / 2]);
  return {
    picture,
    pictureWidth: w,
    pictureHeight: h,
    width: w * columns,
    height: h * rows,
    x: fromEndMm - beginMm - w / 2,
    y: height - fromSelvedgeMm - h / 2,
    pictures,
  };
}

/** The upper left corners of all pictures that reach into what is filled, in the tile's millimetres. */
export function printCopies({ rings, tile, matrix }: SheetPrint): (readonly [x: number, y: number])[] {
  const [a, b, c, d, e, f] = matrix;
  const turns = a * d - b * c;
  const { minX, minY, maxX, maxY } = bounds(
    rings.flat().map(([x, y]) => {
      const [u, v] = [x - e, y - f];
      return [(d * u - c * v) / turns, (a * v - b * u) / turns];
    }),
  );
  const copies: (readonly [number, number])[] = [];
  for (const [dx, dy] of distinctPictures(tile)) {
    const [x, y] = [tile.x + dx, tile.y + dy];
    const columns = [
      Math.floor((minX - x - tile.pictureWidth) / tile.width) + 1,
      Math.ceil((maxX - x) / tile.width) - 1,
    ];
    const rows = [
      Math.floor((minY - y - tile.pictureHeight) / tile.height) + 1,
      Math.ceil((maxY - y) / tile.height) - 1,
    ];
    for (let i = columns[0] as number; i <= (columns[1] as number); i++) {
      for (let j = rows[0] as number; j <= (rows[1] as number); j++) {
        copies.push([x + i * tile.width, y + j * tile.height]);
      }
    }
  }
  return copies;
}

/** Pictures of a tile that are not copies of each other one tile on: those cut by its edge are in it twice. */
function distinctPictures({ width, height, pictures }: PrintTile): (readonly [number, number])[] {
  const within = (value: number, size: number) => ((value % size) + size) % size;
  const found = new Map(
    pictures.map(([x, y]) => [`${within(x, width)} ${within(y, height)}`, [x, y] as const]),
  );
  return [...found.values()];
}

/** How many copies of a picture fill this, without listing them. */
export function countCopies({ rings, tile, matrix: [a, b, c, d] }: SheetPrint): number {
  const { minX, minY, maxX, maxY } = bounds(rings.flat());
  const area = ((maxX - minX) * (maxY - minY)) / Math.abs(a * d - b * c);
  return (area / (tile.width * tile.height)) * distinctPictures(tile).length;
}

/**
 * Whether a picture can be set into a PDF as it is: a JPEG, or a PNG that is neither transparent nor interlaced. The page
 * makes nothing but JPEG; other programs may bring what they like.
 */
export function isPlainPicture(address: string): boolean {
  const [head = '', data = ''] = address.split(',', 2);
  if (head === 'data:image/jpeg;base64') return true;
  let bytes: string;
  try {
    bytes = atob(data);
  } catch {
    return false;
  }
  // ISO/IEC 15948: signature, then IHDR with colour type at byte 25 (4 and 6: alpha) and interlacing at byte 28.
  const colour = bytes.charCodeAt(25);
  return (
    (colour === 0 || colour === 2 || colour === 3) && bytes.charCodeAt(28) === 0 && !bytes.includes('tRNS')
  );
}
