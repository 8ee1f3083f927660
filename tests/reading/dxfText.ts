/** Writes DXF text from records: [kind, code, value, code, value …]. */
export type Rec = readonly [kind: string, ...groups: (string | number)[]];

export function groups(records: readonly Rec[]): string {
  return records
    .map(([kind, ...rest]) => {
      let text = `0\n${kind}\n`;
      for (let i = 0; i < rest.length; i += 2) text += `${rest[i]}\n${rest[i + 1]}\n`;
      return text;
    })
    .join('');
}

export interface DxfParts {
  readonly header?: Readonly<Record<string, readonly [code: number, value: string | number]>>;
  readonly layers?: readonly Rec[];
  readonly blocks?: Readonly<Record<string, readonly Rec[]>>;
  readonly entities?: readonly Rec[];
}

/** A whole DXF in millimetres, or as its header says. */
export function dxf({
  header = { $INSUNITS: [70, 4] },
  layers = [],
  blocks = {},
  entities = [],
}: DxfParts): string {
  const variables = Object.entries(header)
    .map(([name, [code, value]]) => `9\n${name}\n${code}\n${value}\n`)
    .join('');
  return [
    `0\nSECTION\n2\nHEADER\n${variables}0\nENDSEC\n`,
    `0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n${groups(layers)}0\nENDTAB\n0\nENDSEC\n`,
    '0\nSECTION\n2\nBLOCKS\n',
    ...Object.entries(blocks).map(
      ([name, content]) =>
        `0\nBLOCK\n8\n0\n2\n${name}\n70\n0\n10\n0\n20\n0\n${groups(content)}0\nENDBLK\n8\n0\n`,
    ),
    '0\nENDSEC\n',
    `0\nSECTION\n2\nENTITIES\n${groups(entities)}0\nENDSEC\n0\nEOF\n`,
  ].join('');
}

export const line = (layer: string, x1: number, y1: number, x2: number, y2: number): Rec => [
  'LINE',
  8,
  layer,
  10,
  x1,
  20,
  y1,
  11,
  x2,
  21,
  y2,
];

export const box = (layer: string, width: number, height: number): Rec[] => [
  line(layer, 0, 0, width, 0),
  line(layer, width, 0, width, height),
  line(layer, width, height, 0, height),
  line(layer, 0, height, 0, 0),
];

/** A light polyline on layer 0; a third number at a vertex is the bulge of the arc that begins there. */
export const bulged = (
  closed: boolean,
  ...vertices: readonly (readonly [x: number, y: number, bulge?: number])[]
): Rec => [
  'LWPOLYLINE',
  8,
  '0',
  90,
  vertices.length,
  70,
  closed ? 1 : 0,
  ...vertices.flatMap(([x, y, bulge]) => [10, x, 20, y, ...(bulge === undefined ? [] : [42, bulge])]),
];

/** A spline on layer 0 by control points (with a weight each, where it is rational) and knots, or by fit points. */
export function spline(of: {
  readonly degree: number;
  readonly knots?: readonly number[];
  readonly controls?: readonly (readonly [x: number, y: number, weight?: number])[];
  readonly fits?: readonly (readonly [x: number, y: number])[];
}): Rec {
  const { degree, knots = [], controls = [], fits = [] } = of;
  const isRational = controls.some(([, , weight]) => weight !== undefined);
  const PLANAR = 8;
  return [
    'SPLINE',
    8,
    '0',
    70,
    isRational ? PLANAR + 4 : PLANAR,
    71,
    degree,
    ...(knots.length > 0 ? [72, knots.length] : []),
    ...(controls.length > 0 ? [73, controls.length] : []),
    ...(fits.length > 0 ? [74, fits.length] : []),
    ...knots.flatMap((knot) => [40, knot]),
    ...controls.flatMap(([x, y, weight]) => [10, x, 20, y, ...(weight === undefined ? [] : [41, weight])]),
    ...fits.flatMap(([x, y]) => [11, x, 21, y]),
  ];
}
