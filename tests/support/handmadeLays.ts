import {
  type Cloth,
  type ClothLay,
  type CutRow,
  type Piece,
  type Placed,
  type Project,
  pieceSchema,
  projectSchema,
  type Segment,
} from '../../pattern/exchange/project.ts';

/** Builders for lays that are made by hand, for tests of what is drawn and told of a lay. */

type Ring = readonly (readonly [number, number])[];
/** Where a copy is placed: mirrored first, then turned, then shifted; millimetres and degrees. */
export interface At {
  readonly x: number;
  readonly y: number;
  readonly rotation?: number;
  readonly hand?: Hand;
  readonly copy?: number;
  readonly of?: number;
  readonly mirrored?: boolean;
}

type Hand = Placed['hand'];

/** A project and a lay of its cloth. */
export interface Sample {
  readonly project: Project;
  readonly lay: ClothLay;
}

/** A rectangle with a corner in the origin. */
export function rect(width: number, height: number): Ring {
  return [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ];
}

/** A panel with two rounded lower corners. */
export function rounded(width: number, height: number, radius: number): Ring {
  const corner = (cx: number, cy: number, from: number) =>
    Array.from({ length: 7 }, (_, i): [number, number] => {
      const angle = ((from + i * 15) * Math.PI) / 180;
      return [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)];
    });
  return [
    ...corner(radius, radius, 180),
    ...corner(width - radius, radius, 270),
    [width, height],
    [0, height],
  ];
}

/** A gusset: tapers to one side, so that it has a hand. */
export const GUSSET: Ring = [
  [0, 0],
  [320, 0],
  [320, 90],
  [60, 160],
  [0, 160],
];

/** A piece with what is not said as the schema has it. */
export function piece(id: string, name: string, outline: Ring, more: Partial<Piece> = {}): Piece {
  return pieceSchema.parse({ id, name, outline, ...more });
}

/** Places a piece as the engine would: mirrored, turned about the origin, shifted. */
export function place(source: Piece, at: At): Placed {
  const rotation = at.rotation ?? 0;
  const hand = at.hand ?? 'plain';
  const mirrored = at.mirrored ?? hand === 'mirrored';
  const angle = (rotation * Math.PI) / 180;
  const quarter = rotation % 90 === 0;
  const cos = quarter ? Math.round(Math.cos(angle)) : Math.cos(angle);
  const sin = quarter ? Math.round(Math.sin(angle)) : Math.sin(angle);
  const move = (ring: Ring) =>
    ring.map(([px, py]): [number, number] => {
      const x = mirrored ? -px : px;
      return [x * cos - py * sin + at.x, x * sin + py * cos + at.y];
    });
  const direction = (degrees: number) => (mirrored ? 180 - degrees : degrees) + rotation;
  const outline = move(source.outline);
  return {
    pieceId: source.id,
    copy: at.copy ?? 1,
    of: at.of ?? 1,
    hand,
    rotation,
    mirrored,
    x: at.x,
    y: at.y,
    outline: mirrored ? [...outline].reverse() : outline,
    holes: source.holes.map(move),
    grainDeg: direction(source.grainDeg),
    topDeg: direction(source.topDeg),
  };
}

/** Places so that the lower left corner of the placed piece's box is at (x, y). */
export function placeAtCorner(source: Piece, at: At): Placed {
  const trial = place(source, { ...at, x: 0, y: 0 });
  const minX = Math.min(...trial.outline.map(([x]) => x));
  const minY = Math.min(...trial.outline.map(([, y]) => y));
  return place(source, { ...at, x: at.x - minX, y: at.y - minY });
}

/** Copies of a piece by their number, 1 to `count`, each where `at` says of the index, 0 to `count` − 1. */
export const copies = (source: Piece, count: number, at: (i: number) => At): Placed[] =>
  Array.from({ length: count }, (_, i) => placeAtCorner(source, { copy: i + 1, of: count, ...at(i) }));

/** What makes the `i`th of `count` placements one of pairs: plain and mirrored in turn. */
export const inPairs = (i: number, count: number) => ({
  hand: i % 2 ? ('mirrored' as const) : ('plain' as const),
  copy: Math.floor(i / 2) + 1,
  of: count / 2,
});

/** A project of these pieces in one material with one cloth. */
export function project(
  name: string,
  pieces: readonly Piece[],
  cutList: readonly Partial<CutRow>[],
  cloth: Record<string, unknown>,
  material: Record<string, unknown> = { id: 'main', name: 'Main', role: 'main' },
): Project {
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name,
    pieces,
    materials: [material],
    cutList: cutList.map((row) => ({ materialId: material.id, ...row })),
    cloths: [{ materialId: material.id, ...cloth }],
  });
}

/** Area in mm², whichever way the ring runs. */
export function area(ring: Ring): number {
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    twice += x * ny - nx * y;
  });
  return Math.abs(twice / 2);
}

/** A lay of the project's one cloth with the figures that follow from its segments. */
export function lay(of: Project, segments: readonly Segment[], more: Partial<ClothLay> = {}): ClothLay {
  const cloth = of.cloths[0] as Cloth;
  const placed = segments.flatMap((s) => s.placed);
  const pieceAreaMm2 = placed.reduce(
    (sum, p) => sum + area(p.outline) * (p.hand === 'pair' || p.hand === 'fold' ? 2 : 1),
    0,
  );
  const used =
    cloth.kind === 'roll'
      ? segments.reduce((sum, s) => sum + s.lengthMm, 0) + cloth.squaringMm + 2 * cloth.edgeMarginMm
      : 0;
  const clothAreaMm2 = cloth.kind === 'roll' ? used * cloth.widthMm : area(cloth.outline);
  return {
    materialId: cloth.materialId,
    clothId: cloth.id,
    spread: segments[0]?.spread ?? 'single',
    verdict: 'fits',
    segments,
    unplaced: [],
    usedMm: used,
    buyMm: cloth.kind === 'roll' ? Math.ceil(used / cloth.shopStepMm) * cloth.shopStepMm : 0,
    usePercent: clothAreaMm2 === 0 ? 0 : (100 * pieceAreaMm2) / clothAreaMm2,
    piecesToTrace: placed.length,
    pieceAreaMm2,
    clothAreaMm2,
    costCents: null,
    ...more,
  };
}
