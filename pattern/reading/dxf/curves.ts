import type { Point } from '../../../nesting/packing/types.ts';
import { IDENTITY, type Matrix } from '../matrix.ts';
import type { PathCommand } from '../pathCommands.ts';
import type { DxfEntity } from './document.ts';
import { type DxfRecord, numberOf, numbersOf } from './records.ts';
import { splineCommands, splineFault, throughPoints } from './spline.ts';

/** An entity as a path, in the coordinates of its block. */
export interface DxfCurve {
  readonly commands: readonly PathCommand[];
  /** Maps the commands into the block's coordinates. */
  readonly matrix: Matrix;
  /** Its area is filled. */
  readonly filled: boolean;
  /** Not exactly what is in the file. */
  readonly approximated: boolean;
}

/** What an entity could not be read for. */
export class DxfFault extends Error {
  override readonly name = 'DxfFault';
}

/**
 * The path of an entity; null if the kind is not drawn as a line. `tolerance` is for curves that must be cut into
 * chords here, in the entity's own units. Throws `DxfFault` for numbers that make no sense.
 */
export function curveOf(entity: DxfEntity, tolerance: number): DxfCurve | null {
  switch (entity.kind) {
    case 'LINE':
      return plain([
        ['M', ...pointOf(entity, 10)],
        ['L', ...pointOf(entity, 11)],
      ]);
    case 'ARC':
      return arc(entity, numberOf(entity, 50, 0), numberOf(entity, 51, 360));
    case 'CIRCLE':
      return arc(entity, 0, 360);
    case 'ELLIPSE':
      return ellipse(entity);
    case 'LWPOLYLINE':
      return lightPolyline(entity);
    case 'POLYLINE':
      return polyline(entity);
    case 'SPLINE':
      return spline(entity, tolerance);
    case 'SOLID':
    case 'TRACE':
      return solid(entity);
    default:
      return null;
  }
}

const plain = (commands: readonly PathCommand[], approximated = false): DxfCurve => ({
  commands: sane(commands),
  matrix: IDENTITY,
  filled: false,
  approximated,
});

const inOwnPlane = (entity: DxfEntity, commands: readonly PathCommand[], filled = false): DxfCurve => ({
  commands: sane(commands),
  matrix: planeOf(entity),
  filled,
  approximated: false,
});

const pointOf = (record: DxfRecord, code: number): Point => [
  numberOf(record, code, 0),
  numberOf(record, code + 10, 0),
];

function sane(commands: readonly PathCommand[]): readonly PathCommand[] {
  for (const command of commands)
    for (const value of command)
      if (typeof value === 'number' && !(Math.abs(value) < 1e15))
        throw new DxfFault('a number of it is unreadable');
  return commands;
}

/**
 * The plane an entity lies in, seen from above: the arbitrary axis algorithm of the DXF reference ("Object coordinate
 * systems"). An extrusion of (0, 0, −1), as mirrored parts have it, turns x over.
 */
export function planeOf(record: DxfRecord): Matrix {
  const normal = [numberOf(record, 210, 0), numberOf(record, 220, 0), numberOf(record, 230, 1)] as const;
  const length = Math.hypot(...normal);
  if (!(length > 0) || !Number.isFinite(length)) return IDENTITY;
  const [nx, ny, nz] = normal.map((value) => value / length) as [number, number, number];
  if (nx === 0 && ny === 0) return nz > 0 ? IDENTITY : [-1, 0, 0, 1, 0, 0];
  const [ax, ay, az] =
    Math.abs(nx) < 1 / 64 && Math.abs(ny) < 1 / 64
      ? unit([nz, 0, -nx]) // Y × N
      : unit([-ny, nx, 0]); // Z × N
  const by = nz * ax - nx * az;
  const bx = ny * az - nz * ay;
  return [ax, ay, bx, by, 0, 0];
}

function unit([x, y, z]: readonly [number, number, number]): [number, number, number] {
  const length = Math.hypot(x, y, z);
  return [x / length, y / length, z / length];
}

function arc(entity: DxfEntity, from: number, to: number): DxfCurve {
  const [cx, cy] = pointOf(entity, 10);
  const radius = numberOf(entity, 40, Number.NaN);
  if (!(radius > 0)) throw new DxfFault('its radius is not greater than zero');
  if (!Number.isFinite(from) || !Number.isFinite(to)) throw new DxfFault('a number of it is unreadable');
  const turn = to - from === 360 ? 360 : (((to - from) % 360) + 360) % 360 || 360;
  return inOwnPlane(entity, turns([cx, cy], radius, (from * Math.PI) / 180, (turn * Math.PI) / 180));
}

/** An arc of a circle, counter-clockwise from one angle over another, in radians. */
function turns([cx, cy]: Point, radius: number, from: number, turn: number): PathCommand[] {
  const at = (angle: number): Point => [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)];
  const full = turn >= 2 * Math.PI - 1e-9;
  // In two halves: an arc given by its ends can't be a whole circle.
  const commands: PathCommand[] = [
    ['M', ...at(from)],
    ['A', radius, radius, 0, false, true, ...at(from + turn / 2)],
    ['A', radius, radius, 0, false, true, ...at(from + turn)],
  ];
  if (full) commands.push(['Z']);
  return commands;
}

function ellipse(entity: DxfEntity): DxfCurve {
  const [cx, cy] = pointOf(entity, 10);
  const [mx, my] = pointOf(entity, 11);
  const ratio = numberOf(entity, 40, 1);
  const from = numberOf(entity, 41, 0);
  const to = numberOf(entity, 42, 2 * Math.PI);
  if (![cx, cy, mx, my, ratio, from, to].every(Number.isFinite) || Math.hypot(mx, my) === 0 || ratio <= 0)
    throw new DxfFault('its axes make no sense');
  const round = 2 * Math.PI;
  const span = to - from;
  const turn = Math.abs(span - round) < 1e-6 ? round : ((span % round) + round) % round || round;
  // The minor axis is normal × major axis; a normal that points down turns it over.
  const side = numberOf(entity, 230, 1) < 0 ? -ratio : ratio;
  return {
    commands: sane(turns([0, 0], 1, from, turn)),
    matrix: [mx, my, -my * side, mx * side, cx, cy],
    filled: false,
    approximated: false,
  };
}

interface Vertex {
  readonly at: Point;
  readonly bulge: number;
}

function lightPolyline(entity: DxfEntity): DxfCurve {
  const vertices: { at: [number, number]; bulge: number }[] = [];
  entity.codes.forEach((code, i) => {
    const value = (): number => Number(entity.values[i]);
    const last = vertices[vertices.length - 1];
    if (code === 10) vertices.push({ at: [value(), 0], bulge: 0 });
    else if (code === 20 && last) last.at[1] = value();
    else if (code === 42 && last) last.bulge = value();
  });
  return inOwnPlane(entity, polylineCommands(vertices, (numberOf(entity, 70, 0) & 1) === 1));
}

function polyline(entity: DxfEntity): DxfCurve | null {
  const flags = numberOf(entity, 70, 0);
  // Meshes of surfaces are no lines to cut along.
  if (flags & (16 | 64)) return null;
  const vertices = entity.parts
    .filter((part) => part.kind === 'VERTEX')
    // The frame of control points that a fitted curve keeps beside it is not drawn.
    .filter((part) => (numberOf(part, 70, 0) & 16) === 0)
    .map((part): Vertex => ({ at: pointOf(part, 10), bulge: numberOf(part, 42, 0) }));
  const commands = polylineCommands(vertices, (flags & 1) === 1);
  return flags & 8 ? plain(commands) : inOwnPlane(entity, commands);
}

/** Straight and bulged parts. A bulge is the tangent of a quarter of the arc's angle, positive counter-clockwise. */
function polylineCommands(vertices: readonly Vertex[], closed: boolean): PathCommand[] {
  const first = vertices[0];
  if (!first) return [];
  const commands: PathCommand[] = [['M', ...first.at]];
  const count = closed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < count; i++) {
    const from = vertices[i] as Vertex;
    const to = vertices[(i + 1) % vertices.length] as Vertex;
    const { bulge } = from;
    if (!Number.isFinite(bulge)) throw new DxfFault('a number of it is unreadable');
    const chord = Math.hypot(to.at[0] - from.at[0], to.at[1] - from.at[1]);
    if (Math.abs(bulge) < 1e-9 || chord === 0) {
      commands.push(['L', ...to.at]);
      continue;
    }
    const radius = (chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge));
    commands.push(['A', radius, radius, 0, Math.abs(bulge) > 1, bulge > 0, ...to.at]);
  }
  if (closed) commands.push(['Z']);
  return commands;
}

function spline(entity: DxfEntity, tolerance: number): DxfCurve {
  const controls = pairs(entity, 10);
  const fits = pairs(entity, 11);
  if (controls.length === 0) {
    if (fits.length < 2) throw new DxfFault('it has no points');
    return plain(throughPoints(fits), true);
  }
  const weights = numbersOf(entity, 41);
  const shape = {
    degree: numberOf(entity, 71, 3),
    knots: numbersOf(entity, 40),
    controls,
    weights: weights.length === 0 ? controls.map(() => 1) : weights,
  };
  const fault = splineFault(shape);
  if (fault) throw new DxfFault(fault);
  return plain(splineCommands(shape, tolerance));
}

function pairs(entity: DxfEntity, code: number): Point[] {
  const xs = numbersOf(entity, code);
  const ys = numbersOf(entity, code + 10);
  return xs.map((x, i) => [x, ys[i] ?? 0]);
}

function solid(entity: DxfEntity): DxfCurve {
  // The third and fourth corner are stored crosswise.
  const corners = [pointOf(entity, 10), pointOf(entity, 11), pointOf(entity, 13), pointOf(entity, 12)];
  if (!entity.codes.includes(13)) corners.splice(2, 1);
  return inOwnPlane(
    entity,
    [...corners.map(([x, y], i): PathCommand => [i === 0 ? 'M' : 'L', x, y]), ['Z']],
    true,
  );
}
