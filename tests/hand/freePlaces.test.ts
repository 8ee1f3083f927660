/** A hand that drags a piece: where it may lie, what it catches on; every caught place goes through the checker. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Contacts } from '../../nesting/hand/contacts.ts';
import { FreePlaces } from '../../nesting/hand/freePlaces.ts';
import type { Container, Item, Outline, Placement, Problem } from '../../nesting/index.ts';
import { verify } from '../../nesting/verify/index.ts';
import { simpleOutline } from '../support/generators.ts';

const square = (side: number): Outline => [
  [0, 0],
  [side, 0],
  [side, side],
  [0, side],
];
const item = (id: string, outline: Outline, more: Partial<Item> = {}): Item => ({
  id,
  outline,
  quantity: 1,
  poses: [{ rotation: 0, mirrored: false }],
  ...more,
});
const strip: Container = { kind: 'strip', id: 'roll', width: 100 };
const at = (id: string, x: number, y: number): Placement => ({
  item: id,
  copy: 0,
  container: 'roll',
  containerCopy: 0,
  rotation: 0,
  mirrored: false,
  x,
  y,
});
const plain = { rotation: 0, mirrored: false };

describe('a piece dragged on a strip', () => {
  const problem: Problem = {
    name: 'two squares',
    containers: [strip],
    items: [item('stays', square(20)), item('moves', square(10))],
    gap: 0,
  };
  const places = new FreePlaces(new Contacts(problem), strip, [at('stays', 40, 40)], 'moves', plain);

  it('stays where it is wanted when nothing is near', () => {
    expect(places.place(80, 20, 3, 20)).toEqual({ x: 80, y: 20, isFree: true });
  });

  it('catches the edge of the cloth, and its corner', () => {
    expect(places.place(80, 1, 3, 20)).toEqual({ x: 80, y: 0, isFree: true });
    expect(places.place(1.5, 88.5, 3, 20)).toEqual({ x: 0, y: 90, isFree: true });
  });

  it('catches another piece, side on side and level with its corner', () => {
    const side = places.place(61, 45, 3, 20);
    expect(side.x).toBeCloseTo(60, 9);
    expect(side.y).toBe(45);
    const corner = places.place(61, 31, 3, 20);
    expect([corner.x, corner.y].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([60, 30]);
  });

  it('gives way to the nearest free place, and says so where there is none in reach', () => {
    const pushed = places.place(55, 45, 3, 20);
    expect(pushed.isFree).toBe(true);
    expect(pushed.x).toBeCloseTo(60, 9);
    expect(places.place(45, 45, 3, 4)).toEqual({ x: 45, y: 45, isFree: false });
    expect(places.place(-30, 45, 3, 10).isFree).toBe(false);
  });

  it('names what is in the way', () => {
    expect(places.inTheWay(45, 45)).toEqual({ container: false, others: [0] });
    expect(places.inTheWay(45, -5)).toEqual({ container: true, others: [] });
    expect(places.inTheWay(60, 30)).toEqual({ container: false, others: [] });
  });

  it('finds the first free place from the cut end on', () => {
    expect(places.first(200)).toEqual([0, 0]);
    const wall = new FreePlaces(
      new Contacts({ ...problem, items: [item('stays', square(100)), item('moves', square(10))] }),
      strip,
      [at('stays', 0, 0)],
      'moves',
      plain,
    );
    const found = wall.first(110);
    expect(found?.[0]).toBeCloseTo(100, 6);
    expect(wall.first(80)).toBeNull();
  });

  it('keeps the gap', () => {
    const spaced = new FreePlaces(
      new Contacts({ ...problem, gap: 2 }),
      strip,
      [at('stays', 40, 40)],
      'moves',
      plain,
    );
    expect(spaced.isFree(61, 45)).toBe(false);
    expect(spaced.place(61, 45, 3, 20).x).toBeCloseTo(62, 4);
    // The edge of the cloth is no piece.
    expect(spaced.isFree(61, 0)).toBe(true);
  });
});

it('a half piece only slides along the fold', () => {
  const problem: Problem = {
    name: 'fold',
    containers: [strip],
    items: [item('stays', square(20), { onFold: true }), item('half', square(10), { onFold: true })],
    gap: 0,
  };
  const places = new FreePlaces(new Contacts(problem), strip, [at('stays', 40, 0)], 'half', plain);
  expect(places.place(10, 55, 3, 20)).toEqual({ x: 10, y: 0, isFree: true });
  expect(places.isFree(10, 5)).toBe(false);
  const pushed = places.place(57, 70, 3, 20);
  expect(pushed.isFree).toBe(true);
  expect(pushed.x).toBeCloseTo(60, 9);
  expect(pushed.y).toBe(0);
});

it('keeps out of flaws and within a remnant with a bay', () => {
  const remnant: Container = {
    kind: 'sheet',
    id: 'roll',
    quantity: 1,
    outline: [
      [0, 0],
      [100, 0],
      [100, 60],
      [60, 60],
      [60, 100],
      [0, 100],
    ],
    blocked: [
      [
        [20, 20],
        [30, 20],
        [30, 30],
        [20, 30],
      ],
    ],
  };
  const problem: Problem = { name: 'remnant', containers: [remnant], items: [item('p', square(10))], gap: 0 };
  const places = new FreePlaces(new Contacts(problem), remnant, [], 'p', plain);
  expect(places.isFree(25, 25)).toBe(false);
  expect(places.isFree(30, 20)).toBe(true);
  expect(places.isFree(70, 55)).toBe(false);
  const inner = places.place(51.5, 61, 3, 20);
  expect(inner.isFree).toBe(true);
  expect(inner.x).toBeCloseTo(50, 3);
});

it('whatever is caught as free passes the checker, and what is refused does not', () => {
  const outline = simpleOutline(40);
  fc.assert(
    fc.property(
      outline,
      outline,
      fc.array(
        fc.record({
          x: fc.double({ min: -20, max: 90, noNaN: true }),
          y: fc.double({ min: -20, max: 90, noNaN: true }),
        }),
        {
          minLength: 1,
          maxLength: 6,
        },
      ),
      fc.constantFrom(0, 1.5),
      (a, b, wanted, gap) => {
        const problem: Problem = {
          name: 'random',
          containers: [{ ...strip, width: 160 }],
          items: [item('a', a), item('b', b)],
          gap,
        };
        const stays = at('a', 60, 60);
        const container = problem.containers[0] as Container;
        const places = new FreePlaces(new Contacts(problem), container, [stays], 'b', plain);
        for (const { x, y } of wanted) {
          const caught = places.place(x, y, 5, 60);
          const placements = [stays, at('b', caught.x, caught.y)];
          const faults = verify(problem, { placements, unplaced: [], length: 0 }).filter(
            ({ kind, amountMm }) => kind !== 'length' && amountMm > 1e-3,
          );
          if (caught.isFree) expect(faults).toEqual([]);
          else expect(verify(problem, { placements, unplaced: [], length: 0 }).length).toBeGreaterThan(1);
        }
      },
    ),
  );
});
