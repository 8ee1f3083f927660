/** Lays taken up again and changed by hand: nothing is lost on the way, and every rule still counts. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import type { ClothLay } from '../../pattern/exchange/project.ts';
import { handedOver, swapped, tidied } from '../../pattern/lay/hand/changes.ts';
import {
  copiesOf,
  type HandLay,
  handFaults,
  isSamePlace,
  pieceOf,
  placementOf,
  posesOf,
  putDown,
  takeUp,
  turnedTo,
  withCopyAt,
  withLock,
} from '../../pattern/lay/hand/handLay.ts';
import { freePlaceFor, HandPlaces } from '../../pattern/lay/hand/handPlaces.ts';
import { copiesWithin, withLocks } from '../../pattern/lay/hand/region.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { box, layOf, smallProject, solveChecked } from '../support/layOf.ts';

const said = (faults: readonly { kind: string }[]) => faults.map(({ kind }) => kind).join();
/** To a millionth of a millimetre: a lane seen from its own fold is measured there and back. */
const withoutRounding = (lay: object): unknown =>
  JSON.parse(
    JSON.stringify(lay, (_, value) =>
      typeof value === 'number' ? Math.round(value * 1e6) / 1e6 + 0 : value,
    ),
  );
const taken = (lay: HandLay | string): HandLay => {
  if (typeof lay === 'string') throw new Error(lay);
  return lay;
};

describe('the lays of the demo', () => {
  const project = demoProject();
  let results: readonly ClothLay[] = [];
  beforeAll(async () => {
    const request = layRequestSchema.parse({ project, seconds: 20, maxSteps: 5 });
    results = (await runLay(request, solveChecked, () => {}, new AbortController().signal)).results;
    // Among them cloth that lies double beside single, and cloth folded from both sides.
    expect(results.some(({ segments }) => segments.some(({ lanes = [] }) => lanes.length > 1))).toBe(true);
  });

  it('come back as they were when nothing is changed', () => {
    expect(results.length).toBeGreaterThan(5);
    for (const lay of results) {
      const hand = taken(takeUp(project, lay));
      expect(handFaults(hand)).toEqual([]);
      const again = putDown(hand, said);
      expect(withoutRounding({ ...again, reason: lay.reason, verdict: lay.verdict })).toEqual(
        withoutRounding(lay),
      );
    }
  });

  it('know the piece and hand of every copy', () => {
    for (const lay of results) {
      const hand = taken(takeUp(project, lay));
      hand.stretches.forEach((_, stretch) => {
        for (const { id, placement } of copiesOf(hand, stretch)) {
          if (placement === null) continue;
          const placed = lay.segments[stretch]?.placed.find(
            (entry) => entry.item === id.item && isSamePlace(entry, placement),
          );
          expect(pieceOf(hand, id)).toMatchObject({
            hand: placed?.hand,
            cut: { piece: { id: placed?.pieceId } },
          });
        }
      });
    }
  });
});

const strip = {
  kind: 'roll',
  widthMm: 300,
  selvedgeMm: 0,
  squaringMm: 0,
  shopStepMm: 10,
};
const project = smallProject({
  pieces: [
    { name: 'Flap', outline: box(100, 60), plain: 2 },
    { name: 'Tab', outline: box(40, 20), plain: 1 },
  ],
  cloth: strip,
});

describe('a lay changed by hand', () => {
  let lay: ClothLay;
  let hand: HandLay;
  const flap = { stretch: 0, item: 'Flap:either', copy: 0 };
  const other = { ...flap, copy: 1 };
  beforeAll(async () => {
    lay = (await layOf(project)).results[0] as ClothLay;
    hand = taken(takeUp(project, lay));
  });
  const at = (x: number, y: number) => {
    const { rotation, mirrored } = placementOf(hand, flap)!;
    const moved = withCopyAt(hand, flap, { rotation, mirrored, x, y });
    return moved;
  };

  it('says what it breaks: off the cloth, on top of another, a turn that the grain forbids', () => {
    const { rotation, mirrored, x, y } = placementOf(hand, other)!;
    const onTop = withCopyAt(hand, flap, { rotation, mirrored, x: x + 5, y });
    expect(handFaults(onTop).map(({ kind }) => kind)).toContain('overlap');
    expect(handFaults(at(x, 1000)).map(({ kind }) => kind)).toContain('outside');
    const turned = withCopyAt(hand, flap, { rotation: 45, mirrored, x: 500, y: 150 });
    expect(handFaults(turned).map(({ kind }) => kind)).toEqual(['pose']);
    const down = putDown(onTop, said);
    expect(down).toMatchObject({ verdict: 'not found', reason: 'overlap' });
  });

  it('is measured anew: a piece moved along makes it longer, a piece parked is no longer cut', () => {
    const { rotation, mirrored } = placementOf(hand, flap)!;
    const longer = putDown(withCopyAt(hand, flap, { rotation, mirrored, x: 900, y: 120 }), said);
    expect(longer.verdict).toBe('fits');
    expect(longer.usedMm).toBeGreaterThan(900);
    const parked = putDown(withCopyAt(hand, flap, null), said);
    expect(parked.verdict).toBe('not found');
    expect(parked.unplaced).toEqual([{ pieceId: 'Flap', plain: 1, mirrored: 0, onFold: 0 }]);
    expect(parked.pieceAreaMm2).toBe(100 * 60 + 40 * 20);
    const back = taken(takeUp(project, parked));
    expect(back.layouts[0]?.unplaced).toHaveLength(1);
  });

  it('keeps its locks through saving, and lets them go', () => {
    const down = putDown(withLock(hand, flap, true), said);
    expect(down.segments[0]?.placed.filter(({ locked }) => locked)).toHaveLength(1);
    const again = taken(takeUp(project, down));
    expect(again.locked).toHaveLength(1);
    expect(placementOf(again, again.locked[0]!)).toMatchObject({ x: placementOf(hand, flap)!.x });
    expect(withLock(again, again.locked[0]!, false).locked).toEqual([]);
  });

  it('swaps two copies about their middles and turns one about its own', () => {
    const tab = { stretch: 0, item: 'Tab:either', copy: 0 };
    const middle = (state: HandLay, id: typeof tab) => {
      const down = putDown(state, said).segments[0]!.placed.find(
        ({ item, x, y }) =>
          item === id.item && x === placementOf(state, id)!.x && y === placementOf(state, id)!.y,
      )!;
      const xs = down.outline.map(([x]) => x);
      const ys = down.outline.map(([, y]) => y);
      return [Math.min(...xs) + Math.max(...xs), Math.min(...ys) + Math.max(...ys)].map(
        (v) => Math.round(v * 500) / 1000,
      );
    };
    const after = swapped(hand, flap, tab);
    expect(middle(after, tab)).toEqual(middle(hand, flap));
    expect(middle(after, flap)).toEqual(middle(hand, tab));
    const { poses, anyAngle } = posesOf(hand, flap);
    expect([poses.length, anyAngle]).toEqual([2, false]);
    for (const pose of poses) {
      const turned = withCopyAt(hand, flap, turnedTo(hand, flap, pose));
      expect(middle(turned, flap)).toEqual(middle(hand, flap));
      expect(handFaults(turned).filter(({ kind }) => kind === 'pose')).toEqual([]);
    }
  });

  it('finds what lies wholly in a region, and locks all of it at once', () => {
    const apart = withCopyAt(hand, flap, { ...placementOf(hand, flap)!, x: 900, y: 120 });
    const [whole, at] = [{ minX: 0, maxX: 2000, minY: 0, maxY: 300 }, placementOf(apart, flap)!];
    expect(copiesWithin(apart, () => whole)).toHaveLength(3);
    const near = { minX: at.x - 200, maxX: at.x + 200, minY: 0, maxY: 300 };
    expect(copiesWithin(apart, () => near)).toEqual([flap]);
    // Reaching over the region's edge it is not in it; and another stretch has other pieces.
    expect(copiesWithin(apart, () => ({ ...near, maxX: at.x + 10 }))).toEqual([]);
    expect(copiesWithin(apart, (segment) => (segment === 1 ? whole : null))).toEqual([]);
    const locked = withLocks(
      withLock(apart, other, true),
      copiesWithin(apart, () => whole),
      true,
    );
    expect(locked.locked).toHaveLength(3);
    expect(withLocks(locked, [flap], false).locked).toHaveLength(2);
  });

  it('closes its gaps on demand, but for what is locked', () => {
    const { rotation, mirrored } = placementOf(hand, flap)!;
    const apart = withCopyAt(hand, flap, { rotation, mirrored, x: 900, y: 120 });
    const closed = tidied(apart)!;
    expect(handFaults(closed)).toEqual([]);
    expect(putDown(closed, said).usedMm).toBeLessThan(300);
    const held = tidied(withLock(apart, flap, true));
    expect(placementOf(held ?? apart, flap)).toMatchObject({ x: 900, y: 120 });
    expect(tidied(closed)).toBeNull();
  });

  it('is not taken up when it is of an older release or its pieces have changed', () => {
    const { wanted: _, ...old } = lay;
    expect(takeUp(project, old)).toBe('tooOld');
    const larger = {
      ...project,
      pieces: project.pieces.map((piece) => ({ ...piece, outline: box(120, 60) })),
    };
    expect(takeUp(larger, lay)).toBe('changed');
    expect(takeUp({ ...project, cloths: [] }, lay)).toBe('changed');
    expect(takeUp({ ...project, cutList: [] }, lay)).toBe('changed');
  });
});

describe('a piece handed over to another cloth', () => {
  const two = {
    ...project,
    cloths: [
      ...project.cloths,
      {
        ...smallProject({
          pieces: [],
          cloth: { kind: 'remnant', outline: box(150, 90), id: 'rest', name: 'rest' },
        }).cloths[0]!,
      },
    ],
  };
  it('is parked there and no longer asked of the first; a cloth too small for it is not offered it', async () => {
    const { results } = await layOf(two);
    expect(results.map(({ clothId }) => clothId)).toEqual(['rest', 'c']);
    const [rest, roll] = results as [ClothLay, ClothLay];
    const from = taken(takeUp(two, rest));
    const id = copiesOf(from, 0).find(({ placement }) => placement !== null)!.id;
    const handed = handedOver(two, from, id, roll, said)!;
    const copies = (lay: ClothLay) =>
      lay.wanted!.reduce((sum, { plain, mirrored }) => sum + plain + mirrored, 0);
    expect(copies(handed.from)).toBe(copies(rest) - 1);
    expect(copies(handed.to)).toBe(copies(roll) + 1);
    expect(handed.to.unplaced).toHaveLength(1);
    expect(handed.from.segments.flatMap(({ placed }) => placed)).toHaveLength(
      rest.segments.flatMap(({ placed }) => placed).length - 1,
    );
    const narrow = {
      ...two,
      cloths: two.cloths.map((cloth) => (cloth.kind === 'roll' ? { ...cloth, widthMm: 30 } : cloth)),
    };
    expect(handedOver(narrow, from, id, { ...roll, segments: [], wanted: [] }, said)).toBeNull();
  });
});

describe('cloth of several parts', () => {
  const FOLD_EDGE = 3;
  const half = { name: 'Half', outline: box(120, 300), onFold: 2, piece: { foldEdge: FOLD_EDGE } };
  const across = {
    name: 'Wide',
    outline: box(500, 90),
    onFold: 1,
    // Its fold edge lies across the grain.
    piece: { foldEdge: 0 },
  };
  const roll = { kind: 'roll', widthMm: 600, selvedgeMm: 10, squaringMm: 0, gapMm: 0 };
  const pair = {
    name: 'Side',
    outline: [
      [0, 0],
      [110, 0],
      [80, 160],
      [0, 160],
    ] as const,
    plain: 2,
    mirrored: 2,
  };
  const cases = [
    ['partial', smallProject({ pieces: [half, pair], cloth: roll })],
    ['middle', smallProject({ pieces: [half, pair], cloth: roll })],
    ['crosswise', smallProject({ pieces: [across, pair], cloth: roll })],
    [
      'single',
      smallProject({
        pieces: [{ name: 'Panel', outline: box(180, 120), plain: 7 }],
        cloth: { kind: 'remnant', outline: box(400, 260), quantity: 4 },
      }),
    ],
  ] as const;

  it.each(cases)('laid %s is taken up, and comes back as it was', async (spread, project) => {
    const lay = (await layOf(project, { spread })).results[0] as ClothLay;
    expect(lay.verdict).toBe('fits');
    const hand = taken(takeUp(project, lay));
    expect(handFaults(hand)).toEqual([]);
    const again = putDown(hand, said);
    expect(withoutRounding({ ...again, reason: lay.reason })).toEqual(withoutRounding(lay));
  });

  it.each(cases)(
    'laid %s takes a piece wherever it is free, however it is dragged',
    async (spread, project) => {
      const lay = (await layOf(project, { spread, maxSteps: 5 })).results[0] as ClothLay;
      const start = taken(takeUp(project, lay));
      const copies = start.stretches.flatMap((_, index) => copiesOf(start, index).map(({ id }) => id));
      const count = (hand: HandLay) =>
        hand.layouts.reduce((sum, { placements }) => sum + placements.length, 0);
      const by = fc.integer({ min: -400, max: 400 });
      fc.assert(
        fc.property(fc.array(fc.tuple(fc.nat(copies.length - 1), by, by), { maxLength: 5 }), (drags) => {
          let hand = start;
          for (const [n, dx, dy] of drags) {
            const id = copies[n]!;
            const at = placementOf(hand, id)!;
            const caught = new HandPlaces(hand, id, at).place(at.x + dx, at.y + dy, 8, 60);
            const next = withCopyAt(hand, id, { ...at, x: caught.x, y: caught.y });
            // What is called free breaks no rule, and what breaks one is not called free.
            expect(handFaults(next).length === 0).toBe(caught.isFree);
            if (caught.isFree) hand = next;
          }
          expect(count(hand)).toBe(copies.length);
          const tidy = tidied(hand) ?? hand;
          expect(handFaults(tidy)).toEqual([]);
          expect(withoutRounding(putDown(taken(takeUp(project, putDown(tidy, said))), said))).toEqual(
            withoutRounding(putDown(tidy, said)),
          );
        }),
        { numRuns: 25 },
      );
    },
  );

  it('a parked piece finds a free place on any of its parts, and a sheet that is asked for', async () => {
    for (const [spread, project] of cases) {
      const lay = (await layOf(project, { spread })).results[0] as ClothLay;
      const hand = taken(takeUp(project, lay));
      for (const [index] of hand.stretches.entries()) {
        const { id } = copiesOf(hand, index)[0]!;
        const parked = withCopyAt(hand, id, null);
        const place = freePlaceFor(parked, id, true);
        expect(handFaults(withCopyAt(parked, id, place))).toEqual([]);
        expect(place).not.toBeNull();
      }
    }
    const [, sheets] = cases[3];
    const hand = taken(takeUp(sheets, (await layOf(sheets)).results[0] as ClothLay));
    const { id } = copiesOf(hand, 0)[0]!;
    const place = freePlaceFor(withCopyAt(hand, id, null), id, true, 3);
    const moved = withCopyAt(hand, id, place);
    expect(placementOf(moved, id)?.sheet).toBe(3);
    expect(putDown(moved, said).segments.length).toBe(putDown(hand, said).segments.length + 1);
  });

  it('two copies on different folds or sheets change places', async () => {
    for (const [spread, project] of [cases[1], cases[3]]) {
      const lay = (await layOf(project, { spread })).results[0] as ClothLay;
      const hand = taken(takeUp(project, lay));
      const all = copiesOf(hand, 0);
      const [first] = all;
      const last = all.findLast(({ id }) => id.item === first!.id.item)!;
      const after = swapped(hand, first!.id, last.id);
      expect(handFaults(after)).toEqual([]);
    }
  });
});
