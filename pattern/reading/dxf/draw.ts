import type { Point } from '../../../nesting/packing/types.ts';
import type { DrawingPoint, DrawingText } from '../drawing.ts';
import { flatten, type PointBudget, type Polyline, TooManyPoints } from '../flatten.ts';
import { READING_LIMITS } from '../limits.ts';
import {
  compose,
  extremeScales,
  isFiniteMatrix,
  type Matrix,
  rotation,
  scaling,
  translation,
} from '../matrix.ts';
import { Refusal } from '../refusal.ts';
import type { DrawnShape } from '../walk.ts';
import type { Warnings } from '../warnings.ts';
import { curveOf, DxfFault, planeOf } from './curves.ts';
import type { DxfBlock, DxfDocument, DxfEntity } from './document.ts';
import { letteringOf } from './lettering.ts';
import { numberOf, textOf } from './records.ts';

/** What was drawn, in mm from the drawing's own origin. */
export interface DxfScene {
  readonly shapes: DrawnShape[];
  readonly texts: DrawingText[];
  readonly points: DrawingPoint[];
}

/** A scene to draw into. */
export const emptyScene = (): DxfScene => ({ shapes: [], texts: [], points: [] });

/** Where entities are drawn. */
export interface Place {
  readonly matrix: Matrix;
  /** Layer of the insert they are drawn through: what is on layer 0 of a block takes it. */
  readonly layer: string;
  /** Names of the blocks they are drawn through, each followed by a slash. */
  readonly prefix: string;
  readonly label: string;
  readonly blocks: readonly DxfBlock[];
}

/** Kinds that are no part of the drawing to cut, and need no word. */
const NOT_DRAWN = new Set([
  'ATTDEF',
  'VIEWPORT',
  'DIMENSION',
  'ARC_DIMENSION',
  'LEADER',
  'MULTILEADER',
  'MLEADER',
  'TOLERANCE',
  'XLINE',
  'RAY',
  'SUN',
  'LIGHT',
  'OLE2FRAME',
  'OLEFRAME',
  'ACAD_TABLE',
  'WIPEOUT',
  'POLYLINE',
  'HATCH',
]);
/** What most drawing programs show for the first numbers of the AutoCAD colour index. */
const COLOURS = [
  null,
  '#ff0000',
  '#ffff00',
  '#00ff00',
  '#00ffff',
  '#0000ff',
  '#ff00ff',
  '#000000',
  '#808080',
  '#c0c0c0',
];
const MOST_IN_ARRAY = 10_000;

/** Draws entities and the blocks they insert. Throws `Refusal` where a limit is passed. */
export class DxfDrawer {
  private readonly budget: PointBudget = { left: READING_LIMITS.points };
  private shapes = 0;
  private texts = 0;
  private visits = 0;
  private instances = 0;
  /** How much stands on layers that were left out, and what is written there. */
  readonly hidden = new Map<string, { count: number; texts: string[] }>();
  readonly layersUsed = new Set<string>();
  private readonly document: DxfDocument;
  private readonly isShown: (layer: string) => boolean;
  private readonly tolerance: number;
  private readonly warnings: Warnings;

  constructor(
    document: DxfDocument,
    isShown: (layer: string) => boolean,
    tolerance: number,
    warnings: Warnings,
  ) {
    this.document = document;
    this.isShown = isShown;
    this.tolerance = tolerance;
    this.warnings = warnings;
  }

  draw(entities: readonly DxfEntity[], place: Place, into: DxfScene): void {
    const key = `${place.prefix}${this.instances}`;
    this.instances += 1;
    for (const entity of entities) {
      this.visits += 1;
      if (this.visits > READING_LIMITS.visits) throw new Refusal(({ tooManyLines }) => tooManyLines);
      const layer = entity.layer === '0' ? place.layer : entity.layer;
      if (numberOf(entity, 60, 0) === 1) continue;
      this.layersUsed.add(layer);
      if (entity.kind === 'INSERT') {
        this.insert(entity, layer, place, into);
        continue;
      }
      if (!this.isShown(layer)) {
        this.hide(layer, entity);
        continue;
      }
      this.one(entity, layer, key, place, into);
    }
  }

  private one(entity: DxfEntity, layer: string, key: string, place: Place, into: DxfScene): void {
    const { kind } = entity;
    const id = `${place.prefix}${kind.toLowerCase()}-${textOf(entity, 5) ?? this.visits}`.slice(0, 120);
    if (kind === 'TEXT' || kind === 'MTEXT') {
      this.write(letteringOf(entity, place.matrix), layer, into);
      return;
    }
    if (kind === 'POINT') {
      const [a, b, c, d, e, f] = place.matrix;
      const [x, y] = [numberOf(entity, 10, 0), numberOf(entity, 20, 0)];
      const at: Point = [a * x + c * y + e, b * x + d * y + f];
      if (!at.every(Number.isFinite)) this.faulty(kind, 'a number of it is unreadable');
      else if (into.points.length < READING_LIMITS.shapes) into.points.push({ id, at, layer });
      return;
    }
    if (entity.codes.reduce((count, code) => (code === 10 ? count + 1 : count), 0) > READING_LIMITS.segments)
      throw new Refusal(({ tooManyLines }) => tooManyLines);
    try {
      const curve = curveOf(entity, this.tolerance / Math.max(1e-12, extremeScales(place.matrix)[0]));
      if (!curve) {
        if (!NOT_DRAWN.has(kind))
          this.warnings.counted(
            'not-understood',
            (count) => `Parts of the kind ${kind.slice(0, 30)} were left out: ${count}.`,
          );
        return;
      }
      if (curve.approximated)
        this.warnings.once(
          'approximated',
          'A curve is stored by the points it goes through alone; between them it may differ a little from what was drawn.',
        );
      this.shapes += 1;
      if (this.shapes > READING_LIMITS.shapes) throw new Refusal(({ tooManyLines }) => tooManyLines);
      const polylines = flatten(
        curve.commands,
        compose(place.matrix, curve.matrix),
        this.tolerance,
        this.budget,
      );
      if (!polylines.every(isFinitePolyline)) throw new DxfFault('a number of it is unreadable');
      const style = this.document.layers.get(layer);
      const lineType = (textOf(entity, 6) ?? 'BYLAYER').toUpperCase();
      into.shapes.push({
        id,
        elementId: '',
        label: '',
        groupLabel: place.label,
        // Loose ends are joined within one insert of a block and one layer of it.
        groupKey: `${key} ${layer}`,
        shape:
          kind === 'CIRCLE'
            ? 'circle'
            : kind === 'ELLIPSE'
              ? 'ellipse'
              : kind.endsWith('POLYLINE')
                ? 'polyline'
                : 'path',
        polylines,
        strokeMm: 0,
        strokeColour: COLOURS[style?.colour ?? 7] ?? null,
        fillColour: null,
        dashed: isDashed(
          lineType === 'BYLAYER' || lineType === 'BYBLOCK' ? (style?.lineType ?? '') : lineType,
        ),
        filled: curve.filled,
        clone: false,
        layer,
      });
    } catch (error) {
      if (error instanceof TooManyPoints) throw new Refusal(({ tooManyLines }) => tooManyLines);
      if (!(error instanceof DxfFault)) throw error;
      this.faulty(kind, error.message);
    }
  }

  private insert(entity: DxfEntity, layer: string, place: Place, into: DxfScene): void {
    const name = textOf(entity, 2) ?? '';
    const block = this.document.blocks.get(name.toUpperCase());
    const layerIsFrozen = !this.isShown(layer) && (this.document.layers.get(layer)?.frozen ?? false);
    if (layerIsFrozen) {
      // Of a frozen insert nothing is shown; of one on a layer switched off, what stands on other layers is.
      this.hide(layer, entity);
      return;
    }
    for (const attribute of entity.parts)
      if ((numberOf(attribute, 70, 0) & 1) === 0 && this.isShown(layer))
        this.write(letteringOf(attribute, place.matrix), layer, into);
    if (!block) {
      this.warnings.each(
        'clone-missing',
        `The block "${name.slice(0, 60)}" is inserted but missing in the file.`,
      );
      return;
    }
    if (place.blocks.includes(block)) {
      this.warnings.each(
        'clone-cycle',
        `The block "${name.slice(0, 60)}" contains itself; that part was left out.`,
      );
      return;
    }
    if (place.blocks.length >= READING_LIMITS.cloneDepth)
      throw new Refusal(({ blocksTooDeep }) => blocksTooDeep);
    for (const matrix of insertMatrices(entity, block)) {
      const whole = compose(place.matrix, matrix);
      if (!isFiniteMatrix(whole)) {
        this.faulty('INSERT', 'a number of it is unreadable');
        return;
      }
      const plainName = name.startsWith('*') ? '' : name;
      this.draw(
        block.entities,
        {
          matrix: whole,
          layer,
          prefix: `${place.prefix}${plainName || 'block'}/`,
          label: plainName || place.label,
          blocks: [...place.blocks, block],
        },
        into,
      );
    }
  }

  private write(text: Omit<DrawingText, 'layer'> | null, layer: string, into: DxfScene): void {
    if (!text) return;
    this.texts += 1;
    if (this.texts <= READING_LIMITS.texts) into.texts.push({ ...text, layer });
  }

  private hide(layer: string, entity: DxfEntity): void {
    const sofar = this.hidden.get(layer) ?? { count: 0, texts: [] };
    this.hidden.set(layer, sofar);
    sofar.count += 1;
    if ((entity.kind === 'TEXT' || entity.kind === 'MTEXT') && sofar.texts.length < 3) {
      const text = letteringOf(entity, scaling(1, 1))?.text.split('\n')[0];
      if (text) sofar.texts.push(text.slice(0, 60));
    }
  }

  private faulty(kind: string, why: string): void {
    this.warnings.each('bad-number', `A part of the kind ${kind.slice(0, 30)} was left out: ${why}.`);
  }
}

/** One matrix for each copy of an insert's rows and columns. */
function* insertMatrices(entity: DxfEntity, block: DxfBlock): Generator<Matrix> {
  const columns = wholeNumber(numberOf(entity, 70, 1));
  const rowsDown = wholeNumber(numberOf(entity, 71, 1));
  if (columns * rowsDown > MOST_IN_ARRAY) throw new Refusal(({ tooManyLines }) => tooManyLines);
  const scaleX = numberOf(entity, 41, 1) || 1;
  const scaleY = numberOf(entity, 42, 1) || 1;
  const turned = compose(
    planeOf(entity),
    compose(translation(numberOf(entity, 10, 0), numberOf(entity, 20, 0)), rotation(numberOf(entity, 50, 0))),
  );
  const own = compose(scaling(scaleX, scaleY), translation(-block.base[0], -block.base[1]));
  for (let row = 0; row < rowsDown; row++)
    for (let column = 0; column < columns; column++)
      yield compose(
        turned,
        compose(translation(column * numberOf(entity, 44, 0), row * numberOf(entity, 45, 0)), own),
      );
}

const wholeNumber = (value: number): number => (value >= 1 ? Math.floor(value) : 1);

const isDashed = (lineType: string): boolean => lineType !== '' && lineType !== 'CONTINUOUS';

const isFinitePolyline = ({ points }: Polyline): boolean =>
  points.every(([x, y]) => Math.abs(x) < 1e12 && Math.abs(y) < 1e12);
