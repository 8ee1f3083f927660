/**
 * A path as a list of absolute commands. Arcs keep SVG's endpoint form: radii, tilt of the ellipse in degrees,
 * the long way round or not, turning from x towards y (`sweep`) or not, end point.
 */
export type PathCommand =
  | readonly ['M', x: number, y: number]
  | readonly ['L', x: number, y: number]
  | readonly ['Q', x1: number, y1: number, x: number, y: number]
  | readonly ['C', x1: number, y1: number, x2: number, y2: number, x: number, y: number]
  | readonly ['A', rx: number, ry: number, tilt: number, large: boolean, sweep: boolean, x: number, y: number]
  | readonly ['Z'];
