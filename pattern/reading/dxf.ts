import type { Point } from '../../nesting/packing/types.ts';
import type { Language } from '../language.ts';
import type {
  DrawingLayer,
  DrawingPoint,
  DrawingText,
  PieceProposal,
  ReadDrawing,
  Reading,
} from './drawing.ts';
import { type DxfDocument, parseDxf } from './dxf/document.ts';
import { DxfDrawer, type DxfScene, emptyScene, type Place } from './dxf/draw.ts';
import { encodingOf } from './dxf/lettering.ts';
import {
  boxAround,
  CUT_LAYER,
  hasPieceBlocks,
  isPieceBlock,
  keyedTexts,
  proposePiece,
} from './dxf/pieceBlocks.ts';
import { textOf } from './dxf/records.ts';
import { scaleOf } from './dxf/units.ts';
import { FLATTENING_MM, READING_LIMITS } from './limits.ts';
import { scaling } from './matrix.ts';
import { Refusal, unread, unreadFor } from './refusal.ts';
import { type Scene, setOutScenes } from './scenes.ts';
import type { DrawnShape } from './walk.ts';
import { Warnings } from './warnings.ts';
import type { ReadingWords } from './words/index.ts';

export interface DxfOptions {
  /** Multiplies all sizes (see `scaleReading`). */
  readonly factor?: number;
  /** Ids of the layers to read. By default all but those frozen or switched off. */
  readonly layers?: readonly string[];
  /** The language of what is said; English if left out. */
  readonly language?: Language;
}

// Of the permitted deviation, chords take the larger part; the rest goes to dropping needless vertices.
const CHORD_SHARE = 0.8;

/**
 * Reads a text DXF: every closed outline, open line, point and text of its model space, in mm, y up, its box's lower
 * left corner at the origin. Blocks are drawn where they are inserted; loose ends are joined within one insert and
 * layer. In a file whose blocks are pieces by ASTM D6673 each piece stands by itself, set beside the others, and is
 * described in `proposals`.
 *
 * Anything may be handed in: whatever is wrong with the file becomes a message (`ok: false`) or a warning; nothing is
 * thrown, time and memory are bounded by `READING_LIMITS`.
 */
export function readDxf(source: string | Uint8Array, fileName: string, options: DxfOptions = {}): Reading {
  const refuse = (say: (words: ReadingWords) => string): Reading => unread(fileName, options.language, say);
  try {
    const text = typeof source === 'string' ? source : decodeText(source);
    if (text.length > READING_LIMITS.characters) return refuse(tooLarge);
    if (text.startsWith('AutoCAD Binary DXF')) return refuse(({ binaryDxf }) => binaryDxf);
    if (text.startsWith('%PDF')) return refuse(({ pdfNotDxf }) => pdfNotDxf);
    if (/^AC10\d\d/.test(text)) return refuse(({ dwg }) => dwg);
    if (text.trim() === '') return refuse(({ empty }) => empty);
    return read(text.replace(/^\uFEFF/, ''), fileName, options);
  } catch (error) {
    return unreadFor(error, fileName, options.language);
  }
}

const tooLarge = (words: ReadingWords): string => words.tooLarge(READING_LIMITS.characters / 1_000_000);

function decodeText(bytes: Uint8Array): string {
  if (bytes.length > READING_LIMITS.characters) throw new Refusal(tooLarge);
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 4_000));
  if (head.startsWith('AutoCAD Binary DXF')) throw new Refusal(({ binaryDxf }) => binaryDxf);
  try {
    return new TextDecoder(encodingOf(head)).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

function read(text: string, fileName: string, options: DxfOptions): ReadDrawing {
  const warnings = new Warnings(options.language);
  const document = parseDxf(text);
  const scale = scaleOf(document, options.factor ?? 1, warnings.words);
  const chosen = options.layers ? new Set(options.layers) : null;
  const shownByFile = (layer: string): boolean => {
    const known = document.layers.get(layer);
    return !known || !(known.frozen || known.off);
  };
  const isShown = (layer: string): boolean => (chosen ? chosen.has(layer) : shownByFile(layer));
  const drawer = new DxfDrawer(document, isShown, FLATTENING_MM * CHORD_SHARE, warnings);
  const root: Place = {
    matrix: scaling(scale.mmPerUnitX, scale.mmPerUnitY),
    layer: '0',
    prefix: '',
    label: '',
    blocks: [],
  };
  const asPieces = hasPieceBlocks(document);
  const scenes = asPieces ? drawPieces(document, drawer, root) : [drawAll(document, drawer, root)];

  const set = setOutScenes(scenes, FLATTENING_MM * (1 - CHORD_SHARE), warnings, asPieces);
  const proposals = asPieces
    ? set.pages.flatMap(({ number }, i): PieceProposal[] => {
        const ofPiece = <Each extends { readonly pageNumber?: number }>(list: readonly Each[]): Each[] =>
          list.filter(({ pageNumber }) => pageNumber === number);
        const prefix = scenes[i]?.idPrefix ?? '';
        const proposal = proposePiece({
          outlines: ofPiece(set.outlines),
          openLines: ofPiece(set.openLines),
          texts: ofPiece(set.texts),
          points: set.points.filter(({ id }) => id.startsWith(prefix)),
        });
        return proposal ? [proposal] : [];
      })
    : [];
  say(document, drawer, set.outlines.length, set.openLines.length, warnings);
  if (asPieces && scenes.length > 1)
    warnings.once(
      'pages',
      `The file holds ${scenes.length} pieces by themselves; they were set side by side.`,
    );
  const layers = [...new Set([...document.layers.keys(), ...drawer.layersUsed])]
    .filter((name) => drawer.layersUsed.has(name))
    .slice(0, READING_LIMITS.layers)
    .map((name): DrawingLayer => ({ id: name, name, shownByFile: shownByFile(name), read: isShown(name) }));
  return {
    ok: true,
    fileName,
    page: { widthMm: set.page.widthMm, heightMm: set.page.heightMm },
    scale,
    outlines: set.outlines,
    openLines: set.openLines,
    texts: set.texts,
    refused: set.refused,
    warnings: warnings.list(),
    source: text,
    format: 'dxf',
    layers,
    points: set.points,
    ...(asPieces ? { pages: set.pages, proposals } : {}),
  };
}

/** A scene and what the ids of its parts begin with. */
type NamedScene = Scene & { readonly idPrefix: string };

function drawAll(document: DxfDocument, drawer: DxfDrawer, root: Place): NamedScene {
  const scene = emptyScene();
  drawer.draw(document.entities, root, scene);
  return atOrigin(scene, 1, '', '');
}

/** Each insert of a piece is a scene of its own, and whatever else there is another one. */
function drawPieces(document: DxfDocument, drawer: DxfDrawer, root: Place): NamedScene[] {
  const scenes: NamedScene[] = [];
  const rest = emptyScene();
  const drawPiece = (draw: (place: Place, into: DxfScene) => void): void => {
    if (scenes.length >= READING_LIMITS.pages)
      throw new Refusal(({ tooManyPieces }) => tooManyPieces(READING_LIMITS.pages));
    const scene = emptyScene();
    const prefix = `${scenes.length + 1}/`;
    draw({ ...root, prefix }, scene);
    scenes.push(atOrigin(scene, scenes.length + 1, keyedTexts(scene.texts).get('piece name') ?? '', prefix));
  };
  const inserted = new Set<string>();
  for (const entity of document.entities) {
    const name = entity.kind === 'INSERT' ? (textOf(entity, 2) ?? '').toUpperCase() : '';
    const block = document.blocks.get(name);
    if (block && isPieceBlock(block)) {
      inserted.add(name);
      drawPiece((place, into) => drawer.draw([entity], place, into));
    } else drawer.draw([entity], root, rest);
  }
  // Some programs write the blocks and forget to insert them.
  for (const [name, block] of document.blocks)
    if (inserted.size === 0 && isPieceBlock(block))
      drawPiece((place, into) =>
        drawer.draw(block.entities, { ...place, label: block.name, blocks: [block] }, into),
      );
    else inserted.add(name);
  if (rest.shapes.length > 0) scenes.push(atOrigin(rest, scenes.length + 1, '', ''));
  return scenes;
}

/** Moves a scene so that what is drawn begins at the origin. A piece's cut line is called `name`. */
function atOrigin(scene: DxfScene, number: number, name: string, idPrefix: string): NamedScene {
  const box = boxAround(scene.shapes, scene.points);
  const dx = -(box?.minX ?? 0);
  const dy = -(box?.minY ?? 0);
  const move = ([x, y]: Point): Point => [x + dx, y + dy];
  return {
    number,
    idPrefix,
    widthMm: box ? box.maxX - box.minX : 0,
    heightMm: box ? box.maxY - box.minY : 0,
    shapes: scene.shapes.map(
      (shape): DrawnShape => ({
        ...shape,
        ...(name === '' ? {} : { groupLabel: name, label: shape.layer === CUT_LAYER ? name : '' }),
        polylines: shape.polylines.map(({ points, closed }) => ({ points: points.map(move), closed })),
      }),
    ),
    texts: scene.texts.map(
      (text): DrawingText => ({
        ...text,
        at: move(text.at),
        box: {
          minX: text.box.minX + dx,
          minY: text.box.minY + dy,
          maxX: text.box.maxX + dx,
          maxY: text.box.maxY + dy,
        },
      }),
    ),
    points: scene.points.map((point): DrawingPoint => ({ ...point, at: move(point.at) })),
  };
}

function say(
  document: DxfDocument,
  drawer: DxfDrawer,
  outlines: number,
  openLines: number,
  warnings: Warnings,
): void {
  for (const [layer, { count, texts }] of drawer.hidden)
    warnings.each(
      'layer',
      `The layer "${layer.slice(0, 60)}" is switched off in the file and was left out: ${count} ${count === 1 ? 'part' : 'parts'}${
        texts.length > 0 ? `, among them the text ${texts.map((text) => `"${text}"`).join(', ')}` : ''
      }.`,
    );
  if (document.onPaper > 0)
    warnings.once('hidden', `Parts drawn on a print layout were left out: ${document.onPaper}.`);
  if (outlines === 0)
    warnings.once(
      'no-outlines',
      'No closed outline was found in the drawing, so there is nothing to cut yet.',
    );
  if (openLines > 0)
    warnings.once(
      'open',
      openLines === 1
        ? '1 line is open (its ends do not meet); it is listed as a line, not as an outline.'
        : `${openLines} lines are open (their ends do not meet); they are listed as lines, not as outlines.`,
    );
}
