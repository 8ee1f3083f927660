import fc from 'fast-check';
import { expect, it } from 'vitest';
import { LeftOrder } from '../../nesting/packing/leftOrder.ts';

const box = fc.record({
  left: fc.double({ min: -100, max: 100, noNaN: true }),
  length: fc.double({ min: 0, max: 30, noNaN: true }),
});

function setBox(order: LeftOrder, copy: number, { left, length }: { left: number; length: number }): void {
  order.bounds.set([left, 0, left + length, 1], 4 * copy);
}

/** Copies whose boxes share more than an edge with the stretch, as the order finds them. */
function met(order: LeftOrder, from: number, to: number): number[] {
  const found: number[] = [];
  for (let k = order.firstFrom(from); k < order.order.length; k++) {
    if ((order.lefts[k] as number) >= to) break;
    const copy = order.order[k] as number;
    if ((order.bounds[4 * copy + 2] as number) > from) found.push(copy);
  }
  return found.sort((a, b) => a - b);
}

it('property: finds every box that meets a stretch, after sorting and after single moves', () => {
  fc.assert(
    fc.property(
      fc.array(box, { minLength: 1, maxLength: 40 }),
      fc.array(fc.tuple(fc.nat(), box), { maxLength: 20 }),
      box,
      (boxes, moves, stretch) => {
        const order = new LeftOrder(boxes.length, 30);
        const now = [...boxes];
        for (const [i, each] of now.entries()) setBox(order, i, each);
        order.sort();
        const expectAllFound = () => {
          const [from, to] = [stretch.left, stretch.left + stretch.length];
          const all = now.flatMap(({ left, length }, i) => (left < to && left + length > from ? [i] : []));
          expect(met(order, from, to)).toEqual(all);
        };
        expectAllFound();
        for (const [which, to] of moves) {
          const copy = which % boxes.length;
          now[copy] = to;
          setBox(order, copy, to);
          order.move(copy);
          expectAllFound();
        }
        expect([...order.lefts]).toEqual([...order.lefts].sort((a, b) => a - b));
      },
    ),
  );
});
