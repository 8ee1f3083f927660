/** Turning by hand: whatever angle is wanted, the one taken is one that the cloth allows. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ClothLay } from '../../pattern/exchange/project.ts';
import {
  type HandLay,
  handFaults,
  placementOf,
  takeUp,
  turnedTo,
  withCopyAt,
} from '../../pattern/lay/hand/handLay.ts';
import { finelyTurned, turnNear, turnsOf } from '../../pattern/lay/hand/turns.ts';
import { box, layOf, smallProject } from '../support/layOf.ts';

/** One piece alone on a wide cloth, so that every turn of it is free of others. */
async function alone(rules: object): Promise<HandLay> {
  const project = smallProject({
    pieces: [{ name: 'Flap', outline: box(100, 60), plain: 1 }],
    cloth: { kind: 'roll', widthMm: 600, selvedgeMm: 0, squaringMm: 0, shopStepMm: 10, ...rules },
  });
  const hand = takeUp(project, (await layOf(project)).results[0] as ClothLay);
  if (typeof hand === 'string') throw new Error(hand);
  const id = idOf(hand);
  // Away from the edges.
  return withCopyAt(hand, id, { ...placementOf(hand, id)!, x: 300, y: 300 });
}

const idOf = (hand: HandLay) => ({ stretch: 0, item: hand.stretches[0]!.problem.items[0]!.id, copy: 0 });
const kinds = (hand: HandLay) => handFaults(hand).map(({ kind }) => kind);

describe('a piece turned by hand', () => {
  it.each([
    ['along the grain', { turn: 'grain' }, true, false],
    ['along it with a nap', { turn: 'grain', nap: 'oneWay' }, false, false],
    ['along or across', { turn: 'quarter' }, true, false],
    ['along with a tilt', { turn: 'grain', tiltDeg: 3 }, true, true],
    ['at any angle', { turn: 'free' }, true, true],
  ])('%s lies as it may, whatever is wanted', async (_name, rules, canTurn, canTurnFinely) => {
    const hand = await alone(rules);
    const id = idOf(hand);
    expect(turnsOf(hand, id)).toEqual({ canTurn, canTurnFinely });
    fc.assert(
      fc.property(fc.double({ min: -720, max: 720, noNaN: true }), fc.boolean(), (angle, finely) => {
        const pose = turnNear(hand, id, angle, finely);
        expect(kinds(withCopyAt(hand, id, turnedTo(hand, id, pose)))).not.toContain('pose');
        // What is taken stays what it is when it is wanted.
        const again = turnNear(hand, id, pose.rotation, finely);
        expect(again.rotation).toBeCloseTo(pose.rotation, 9);
      }),
      { numRuns: 100 },
    );
  });

  it('snaps unless it is turned finely', async () => {
    const free = await alone({ turn: 'free' });
    const turn = (hand: HandLay, angle: number, finely: boolean) =>
      turnNear(hand, idOf(hand), angle, finely).rotation;
    expect([turn(free, 37, false), turn(free, 37.2, true), turn(free, 89, true)]).toEqual([30, 37, 90]);
    const tilted = await alone({ turn: 'grain', tiltDeg: 3 });
    // The piece's grain is drawn upright, so on the cloth it lies turned by a quarter.
    expect([turn(tilted, 92, false), turn(tilted, 92, true), turn(tilted, 140, true)]).toEqual([90, 92, 93]);
    expect(turn(tilted, -92.5, true)).toBe(267.5);
    const strict = await alone({ turn: 'grain' });
    expect([turn(strict, 170, true), turn(strict, 190, true)]).toEqual([90, 270]);
  });

  it('goes by degrees with the keys, past what it would catch on, and stops where the tilt ends', async () => {
    const free = await alone({ turn: 'free' });
    const angles = [0];
    for (let n = 0; n < 5; n++) angles.push(finelyTurned(free, idOf(free), angles.at(-1)!, 1).rotation);
    expect(angles).toEqual([0, 1, 2, 3, 4, 5]);
    expect(finelyTurned(free, idOf(free), 0, -1).rotation).toBe(359);
    const tilted = await alone({ turn: 'grain', tiltDeg: 1.5 });
    expect(finelyTurned(tilted, idOf(tilted), 91, 1).rotation).toBe(91.5);
  });
});
