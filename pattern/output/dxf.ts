import { boundingBox } from '../../nesting/geometry/rings.ts';
import { placeRing, turnBy } from '../../nesting/geometry/transforms.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Cloth, ClothLay, Piece, Placed, Project } from '../exchange/project.ts';
import { USUAL_LANGUAGE } from '../language.ts';
import { cutShape } from '../pieces/index.ts';
import { clothFrame } from '../plan/clothFrame.ts';
import { layRowId, layRows } from '../plan/layRows.ts';
import { cleanText } from '../plan/text.ts';
import { planWords } from '../plan/words/index.ts';

/**
 * DXF as text (AC1009, ASCII, millimetres, y up). Layers by number as in ASTM D6673: what is cut lies on 1 and 11,
 * everything else is drawn only. The cloth itself has no number there and lies on a layer of its own.
 */
export const DXF_LAYERS = {
  boundary: '1',
  notch: '4',
  mirror: '6',
  grain: '7',
  internal: '8',
  cutOut: '11',
  sewLine: '14',
  text: '15',
  cloth: 'CLOTH',
} as const;
type Layer = keyof typeof DXF_LAYERS;

/** Texts are keys and values for other programs, always the same. */
const WORDS = planWords(USUAL_LANGUAGE);
const TEXT_MM = 6;
/** Between pieces that lie beside each other only to be seen, mm. */
const BETWEEN_MM = 30;

/** Writes group codes and values, one a line. */
class DxfText {
  readonly #lines: string[] = [];

  pair(code: number, value: string | number): this {
    this.#lines.push(String(code), typeof value === 'number' ? decimal(value) : value);
    return this;
  }

  point([x, y]: Point, from = 10): this {
    return this.pair(from, x)
      .pair(from + 10, y)
      .pair(from + 20, 0);
  }

  polyline(layer: Layer, points: Outline, closed: boolean): void {
    if (points.length < 2) return;
    const name = DXF_LAYERS[layer];
    this.pair(0, 'POLYLINE')
      .pair(8, name)
      .pair(66, '1')
      .point([0, 0])
      .pair(70, closed ? '1' : '0');
    for (const point of points) this.pair(0, 'VERTEX').pair(8, name).point(point);
    this.pair(0, 'SEQEND').pair(8, name);
  }

  line(layer: Layer, from: Point, to: Point): void {
    this.pair(0, 'LINE').pair(8, DXF_LAYERS[layer]).point(from).point(to, 11);
  }

  /** A point, or a notch that has no direction. */
  dot(layer: Layer, at: Point): void {
    this.pair(0, 'POINT').pair(8, DXF_LAYERS[layer]).point(at);
  }

  text(at: Point, words: string, height = TEXT_MM): void {
    this.pair(0, 'TEXT').pair(8, DXF_LAYERS.text).point(at).pair(40, height).pair(1, dxfText(words));
  }

  toString(): string {
    return `${this.#lines.join('\r\n')}\r\n`;
  }
}

function decimal(value: number): string {
  const text = value.toFixed(4).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/**
 * Text as one value: control characters dropped, what is not ASCII written as \U+XXXX, and the caret and the
 * percent sign pair, which would begin a code, made harmless.
 */
export function dxfText(text: string): string {
  const plain = cleanText(text).replaceAll('%%', '% %').replaceAll('^', '^ ').replaceAll('\\', '/');
  let out = '';
  for (let i = 0; i < plain.length; i++) {
    const code = plain.charCodeAt(i);
    out += code < 127 ? plain[i] : `\\U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
  }
  return out;
}

/** Names of blocks may hold letters, digits and a few signs; the number keeps them apart. */
function blockName(name: string, number: number): string {
  const letters = cleanText(name)
    .normalize('NFD')
    .replace(/[^\w-]+/g, '_')
    .replace(/^_+|_+$/g, '')
    .slice(0, 24)
    .toUpperCase();
  return `${letters === '' ? 'PIECE' : letters}-${number}`;
}

interface Block {
  readonly name: string;
  readonly at: Point;
  readonly write: (out: DxfText) => void;
}

function dxfFile(
  blocks: readonly Block[],
  extent: { readonly width: number; readonly height: number },
  more: (out: DxfText) => void,
): string {
  const out = new DxfText();
  out.pair(0, 'SECTION').pair(2, 'HEADER');
  out.pair(9, '$ACADVER').pair(1, 'AC1009');
  // 1: metric; 4: millimetres, for readers that look at it.
  out.pair(9, '$MEASUREMENT').pair(70, '1').pair(9, '$INSUNITS').pair(70, '4');
  out.pair(9, '$EXTMIN').point([0, 0]).pair(9, '$EXTMAX').point([extent.width, extent.height]);
  out.pair(0, 'ENDSEC');
  out.pair(0, 'SECTION').pair(2, 'TABLES').pair(0, 'TABLE').pair(2, 'LAYER');
  const names = ['0', ...Object.values(DXF_LAYERS)];
  out.pair(70, String(names.length));
  for (const name of names) {
    out.pair(0, 'LAYER').pair(2, name).pair(70, '0').pair(62, '7').pair(6, 'CONTINUOUS');
  }
  out.pair(0, 'ENDTAB').pair(0, 'ENDSEC');
  out.pair(0, 'SECTION').pair(2, 'BLOCKS');
  for (const { name, write } of blocks) {
    out.pair(0, 'BLOCK').pair(8, '0').pair(2, name).pair(70, '0').point([0, 0]).pair(3, name);
    write(out);
    out.pair(0, 'ENDBLK').pair(8, '0');
  }
  out.pair(0, 'ENDSEC');
  out.pair(0, 'SECTION').pair(2, 'ENTITIES');
  more(out);
  for (const { name, at } of blocks) out.pair(0, 'INSERT').pair(8, '0').pair(2, name).point(at);
  out.pair(0, 'ENDSEC').pair(0, 'EOF');
  return out.toString();
}

/**
 * The pieces as drawn, a block for each with its lower left corner at the origin, inserted side by side. A half
 * piece stays a half with its fold as mirror line. Pieces must be free of errors (`checkPiece`); the names of those
 * left out for that are told in a text beneath.
 */
export function piecesToDxf(
  pieces: readonly Piece[],
  project: Project,
  leftOut: readonly string[] = [],
): string {
  let x = 0;
  let height = 0;
  const blocks = pieces.map((piece, i): Block => {
    const shape = cutShape(piece);
    const box = boundingBox(shape.outline);
    const at: Point = [x, 0];
    x += box.maxX - box.minX + BETWEEN_MM;
    height = Math.max(height, box.maxY - box.minY);
    const shift = (ring: Outline): Outline => ring.map(([px, py]) => [px - box.minX, py - box.minY]);
    return {
      name: blockName(piece.name, i + 1),
      at,
      write: (out) => {
        out.polyline('boundary', shift(shape.outline), true);
        for (const hole of shape.holes) out.polyline('cutOut', shift(hole), true);
        if (shape.fold) out.line('mirror', ...(shift(shape.fold) as [Point, Point]));
        if (piece.line === 'sew' && piece.allowanceMm > 0) {
          for (const ring of [piece.outline, ...piece.holes]) out.polyline('sewLine', shift(ring), true);
        }
        writeMarks(out, piece, shift);
        writeGrain(out, shift(shape.outline), piece.grainDeg);
        const middle = centre(shift(shape.outline));
        const words = pieceTexts(piece, project);
        words.forEach((line, n) => {
          out.text([middle[0], middle[1] - n * TEXT_MM * 1.6], line);
        });
      },
    };
  });
  return dxfFile(blocks, { width: Math.max(0, x - BETWEEN_MM), height }, (out) => {
    leftOut.forEach((name, i) => {
      out.text([0, -BETWEEN_MM - i * TEXT_MM * 1.6], `Not in this file because of its faults: ${name}`);
    });
  });
}

/** Texts as key and value, the number over all materials, then in words how often each material is cut. */
function pieceTexts(piece: Piece, project: Project): string[] {
  const rows = project.cutList.filter(
    (row) => row.pieceId === piece.id && row.plain + row.mirrored + row.onFold > 0,
  );
  const texts = [`Piece Name: ${piece.name}`];
  if (rows.length === 0) return texts;
  const names = rows.map(
    (row) => project.materials.find((m) => m.id === row.materialId)?.name ?? row.materialId,
  );
  const total = rows.reduce((sum, row) => sum + row.plain + row.mirrored + row.onFold, 0);
  return [
    ...texts,
    `Material: ${[...new Set(names)].join(', ')}`,
    `Quantity: ${total}`,
    ...rows.map((row, i) => `Cut ${WORDS.counts(row)} of ${names[i]}`),
  ];
}

const MARK_LAYERS = { sewLine: 'sewLine', internal: 'internal', notch: 'notch' } as const;

function writeMarks(out: DxfText, piece: Piece, place: (ring: Outline) => Outline): void {
  for (const mark of piece.marks) {
    const points = place(mark.points);
    if (points.length === 1) out.dot(MARK_LAYERS[mark.kind], points[0] as Point);
    else out.polyline(MARK_LAYERS[mark.kind], points, mark.closed);
  }
}

function centre(ring: Outline): Point {
  const box = boundingBox(ring);
  return [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
}

/** Half as long as the piece's box is wide in that direction, through the middle of the box. */
function writeGrain(out: DxfText, ring: Outline, degrees: number): void {
  const box = boundingBox(placeRing(ring, -degrees));
  const half = (box.maxX - box.minX) / 4;
  const { cos, sin } = turnBy(degrees);
  const [x, y] = centre(ring);
  out.line('grain', [x - half * cos, y - half * sin], [x + half * cos, y + half * sin]);
}

/**
 * The lay of one cloth as it lies: a block for each placed piece in its place, in the axes of the plan's rulers (x
 * from the cut end, y from the lower edge of the plan). Cut lines on layer 1, cut-outs on 11, marks turned with their
 * piece, a fold edge on 6, and the cloth with its flaws beneath.
 */
export function layToDxf(lay: ClothLay, project: Project): string {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const frame = clothFrame(lay, cloth);
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const keys = new Map(layRows(lay, project).map((row) => [row.id, row.key]));
  const blocks: Block[] = [];
  for (const stretch of frame.stretches) {
    for (const placed of stretch.segment.placed) {
      const piece = pieces.get(placed.pieceId);
      const tag = `${keys.get(layRowId(placed)) ?? ''}${placed.copy}`;
      blocks.push({
        name: blockName(piece?.name ?? placed.pieceId, blocks.length + 1),
        at: stretch.originMm,
        write: (out) => writePlaced(out, placed, piece, cloth, tag),
      });
    }
  }
  return dxfFile(blocks, { width: frame.toMm, height: frame.depthMm }, (out) => {
    for (const stretch of frame.stretches) {
      const [x0, y0] = stretch.originMm;
      const shift = (ring: Outline): Outline => ring.map(([x, y]) => [x + x0, y + y0]);
      const { segment, fromMm, toMm, lowMm, highMm } = stretch;
      if (segment.outline) out.polyline('cloth', shift(segment.outline), true);
      else {
        out.polyline(
          'cloth',
          [
            [fromMm, lowMm],
            [toMm, lowMm],
            [toMm, highMm],
            [fromMm, highMm],
          ],
          true,
        );
      }
      for (const flaw of segment.flaws ?? []) out.polyline('cloth', shift(flaw), true);
    }
    out.text([0, frame.depthMm + 2 * TEXT_MM], clothLine(lay, cloth, project), 2 * TEXT_MM);
  });
}

function clothLine(lay: ClothLay, cloth: Cloth | undefined, project: Project): string {
  const spread = cloth?.kind === 'remnant' ? '' : `, ${WORDS.spreadTitles[lay.spread]}`;
  return `${project.name}: ${cloth?.name ?? lay.clothId}${spread}`;
}

function writePlaced(
  out: DxfText,
  placed: Placed,
  piece: Piece | undefined,
  cloth: Cloth | undefined,
  tag: string,
): void {
  out.polyline('boundary', placed.outline, true);
  for (const hole of placed.holes) out.polyline('cutOut', hole, true);
  if (piece) {
    writeMarks(out, piece, (ring) => placeRing(ring, placed.rotation, placed.mirrored, placed.x, placed.y));
  }
  if (placed.hand === 'fold') {
    // A piece on the fold lies with that edge at y = 0.
    const onFold = placed.outline.filter(([, y]) => Math.abs(y) < 0.05).map(([x]) => x);
    if (onFold.length > 1) out.line('mirror', [Math.min(...onFold), 0], [Math.max(...onFold), 0]);
  }
  writeGrain(out, placed.outline, placed.grainDeg);
  const [x, y] = centre(placed.outline);
  out.text([x, y], `${tag} ${piece?.name ?? placed.pieceId}`);
  out.text([x, y - TEXT_MM * 1.6], `${placed.copy} of ${placed.of}, ${WORDS.hand(placed.hand, cloth).short}`);
}
