import { distance } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { PieceMark } from '../exchange/project.ts';
import { uniteOutlines } from '../reading/uniteOutlines.ts';
import { distanceToLine } from './stretch.ts';

/** A mark this near to the joint lies on it; ends this near to each other are meant for each other. Millimetres. */
const AT_JOINT_MM = 1;

/**
 * The marks of two parts on the piece they make. At a joint edge against edge (`joint`), lines that meet there run on
 * as one, sew lines drawn round both parts become one, and notches that only told how the parts fit are left out.
 */
export function joinedMarks(
  first: readonly PieceMark[],
  second: readonly PieceMark[],
  joint: readonly Point[] | null,
): PieceMark[] {
  if (!joint) return [...first, ...second];
  const isOn = (point: Point): boolean => distanceToLine(point, joint) <= AT_JOINT_MM;
  const ends = [joint[0], joint.at(-1)] as Point[];
  const isMeeting = ({ kind, points }: PieceMark): boolean => {
    const [at] = points;
    if (kind !== 'notch' || !at || !isOn(at)) return false;
    return ends.every((end) => distance(end, at) > AT_JOINT_MM);
  };
  const left = second.filter((mark) => !isMeeting(mark));
  const marks = first
    .filter((mark) => !isMeeting(mark))
    .map((mark) => {
      let joined = mark;
      for (const other of [...left]) {
        if (other.kind !== mark.kind || other.closed !== mark.closed || mark.kind === 'notch') continue;
        const met = mark.closed ? united(joined, other, isOn) : runOn(joined, other, isOn);
        if (!met) continue;
        joined = met;
        left.splice(left.indexOf(other), 1);
      }
      return joined;
    });
  return [...marks, ...left];
}

/** Two open lines of which ends meet at the joint, as one. */
function runOn(a: PieceMark, b: PieceMark, isOn: (point: Point) => boolean): PieceMark | null {
  const forms = (mark: PieceMark): Point[][] => [[...mark.points], [...mark.points].reverse()];
  for (const from of forms(a))
    for (const to of forms(b)) {
      const [end, start] = [from.at(-1), to[0]];
      if (!end || !start || !isOn(end) || !isOn(start) || distance(end, start) > AT_JOINT_MM) continue;
      const points = [...from, ...to.slice(1)];
      // Both of its ends may meet: then the line closes.
      const isClosed =
        points.length > 3 && distance(points[0] as Point, points.at(-1) as Point) <= AT_JOINT_MM;
      return { ...a, points: isClosed ? points.slice(0, -1) : points, closed: isClosed };
    }
  return null;
}

/** Two closed lines that both run along the joint, as one round both. */
function united(a: PieceMark, b: PieceMark, isOn: (point: Point) => boolean): PieceMark | null {
  const runsAlong = ({ points }: PieceMark): boolean =>
    points.some((point, i) => isOn(point) && isOn(points[(i + 1) % points.length] as Point));
  if (!runsAlong(a) || !runsAlong(b)) return null;
  try {
    const [whole, ...more] = uniteOutlines([a.points as Outline, b.points as Outline]);
    return whole && more.length === 0 ? { ...a, points: whole.ring } : null;
  } catch {
    // Figures the clipper can't do: both lines stay.
    return null;
  }
}
