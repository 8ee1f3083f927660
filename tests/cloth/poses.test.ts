import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { admissiblePoses, angleBetween, directionOnCloth, foldPoses } from '../../nesting/cloth/index.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import { rules } from './rules.ts';

const rotations = (poses: readonly { rotation: number }[]): number[] =>
  poses.map((p) => p.rotation).sort((a, b) => a - b);
const angle = fc.double({ min: -360, max: 360, noNaN: true });

describe('grain', () => {
  it('lays an upright grain line along the cloth, either end first', () => {
    expect(rotations(admissiblePoses({ grainDeg: 90, topDeg: 90 }, rules(), false))).toEqual([90, 270]);
  });

  it('allows quarter turns where the cloth does, starting from the grain', () => {
    const poses = admissiblePoses({ grainDeg: 90, topDeg: 90 }, rules({ turn: 'quarter' }), false);
    expect(rotations(poses)).toEqual([0, 90, 180, 270]);
  });

  it('property: on a strict cloth the grain line lies along it, mirrored or not, with nap or without', () => {
    fc.assert(
      fc.property(angle, angle, fc.boolean(), fc.boolean(), (grainDeg, topDeg, mirrored, oneWay) => {
        const poses = admissiblePoses(
          { grainDeg, topDeg },
          rules({ nap: oneWay ? 'oneWay' : 'none' }),
          mirrored,
        );
        expect(poses.length).toBe(oneWay ? 1 : 2);
        for (const pose of poses) {
          const on = directionOnCloth(grainDeg, pose);
          expect(Math.min(angleBetween(on, 0), angleBetween(on, 180))).toBeLessThan(1e-6);
          expect(pose.mirrored).toBe(mirrored);
        }
      }),
    );
  });
});

describe('nap', () => {
  // Two-way cloth turns pieces by 180°, one-way does not: Indian agricultural-university course on laying out,
  // http://ecoursesonline.iasri.res.in/mod/page/view.php?id=27339, and the marker modes of apparel textbooks
  // (nap either way {0°, 180°}, nap one way {0°}).
  it('leaves one turn, and the same for every piece whose top runs with the grain', () => {
    for (const mirrored of [false, true]) {
      const poses = admissiblePoses({ grainDeg: 90, topDeg: 90 }, rules({ nap: 'oneWay' }), mirrored);
      expect(poses).toHaveLength(1);
      expect(directionOnCloth(90, poses[0]!)).toBe(0);
    }
  });

  it('property: no two pieces point opposite ways, however each was drawn', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(angle, fc.boolean()), { minLength: 2, maxLength: 6 }), (pieces) => {
        for (const [topDeg, mirrored] of pieces) {
          const [pose] = admissiblePoses({ grainDeg: topDeg, topDeg }, rules({ nap: 'oneWay' }), mirrored);
          expect(angleBetween(directionOnCloth(topDeg, pose!), 0)).toBeLessThan(1e-6);
        }
      }),
    );
  });
});

describe('print with an up', () => {
  it('property: the top points to the print’s up, even against the grain', () => {
    fc.assert(
      fc.property(
        angle,
        angle,
        fc.constantFrom(0, 90, 180, 270),
        fc.boolean(),
        (grainDeg, topDeg, upDeg, mirrored) => {
          const poses = admissiblePoses({ grainDeg, topDeg }, rules({ upDeg }), mirrored);
          expect(poses).toHaveLength(1);
          expect(angleBetween(directionOnCloth(topDeg, poses[0]!), upDeg)).toBeLessThan(1e-6);
        },
      ),
    );
  });
});

describe('half pieces on the fold', () => {
  it('property: in every pose the fold edge lies on a level line with the whole half above it', () => {
    const half = [
      [0, 0],
      [0, -40],
      [90, -60],
      [110, 0],
    ] as const;
    fc.assert(
      fc.property(angle, (turn) => {
        // Any turned copy of a half whose fold edge is its last (from [110, 0] back to [0, 0]).
        const outline = placeRing(half, turn);
        const fold = [outline[3]!, outline[0]!] as const;
        const poses = foldPoses({ outline, fold }, { topDeg: 90 }, rules());
        expect(poses.map((p) => p.mirrored)).toEqual([false, true]);
        for (const pose of poses) {
          const ys = placeRing(outline, pose.rotation, pose.mirrored).map(([, y]) => y);
          const low = Math.min(...ys);
          const onFold = ys.filter((y) => y - low < 1e-7).length;
          expect(onFold).toBe(2);
          expect(Math.max(...ys) - low).toBeCloseTo(60, 7);
        }
      }),
    );
  });

  it('keeps the one way round that nap allows', () => {
    const outline = [
      [0, 0],
      [50, 0],
      [50, 80],
      [0, 80],
    ] as const;
    // Fold edge on the left, running down in counter-clockwise order; the top is up.
    const half = { outline, fold: [outline[3], outline[0]] as const };
    const poses = foldPoses(half, { topDeg: 90 }, rules({ nap: 'oneWay' }));
    expect(poses).toHaveLength(1);
    expect(directionOnCloth(90, poses[0]!)).toBe(0);
  });
});
