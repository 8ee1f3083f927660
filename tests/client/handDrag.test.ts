import { describe, expect, it } from 'vitest';
import { HandDrag, type Pointer } from '../../client/render/handDrag.ts';

const finger = (pointerId: number, clientX: number, clientY: number): Pointer => ({
  pointerId,
  pointerType: 'touch',
  clientX,
  clientY,
  altKey: false,
});
const mouse = (clientX: number, clientY: number, altKey = false): Pointer => ({
  ...finger(9, clientX, clientY),
  pointerType: 'mouse',
  altKey,
});

describe('a piece in hand', () => {
  it('is moved once the press has gone far enough, up on the cloth being up on the screen', () => {
    const drag = new HandDrag(mouse(100, 100), null);
    expect(drag.follow(mouse(102, 102))).toBe(false);
    expect(drag.follow(mouse(120, 90))).toBe(true);
    expect(drag.wish(2)).toMatchObject({ dx: 40, dy: 20, turn: 0, isFreely: false, isFinely: false });
    drag.follow(mouse(120, 90, true));
    expect(drag.wish(2)).toMatchObject({ isFreely: true, isFinely: true });
    // Other pointers are none of its business.
    expect(drag.follow(finger(1, 0, 0))).toBe(false);
  });

  it('is turned by a second finger while the first holds or moves it, and keeps that when it is lifted', () => {
    const drag = new HandDrag(finger(1, 100, 100), null);
    expect(drag.takeSecond(mouse(300, 100))).toBe(false);
    expect(drag.takeSecond(finger(2, 200, 100))).toBe(true);
    expect(drag.takeSecond(finger(3, 0, 0))).toBe(false);
    // A quarter turn counter-clockwise: from right of the first finger to above it.
    drag.follow(finger(2, 100, 0));
    expect(drag.wish(1)).toMatchObject({ dx: 0, dy: 0, isFinely: true });
    expect(drag.wish(1).turn).toBeCloseTo(90, 9);
    expect(drag.letGoSecond(1)).toBe(false);
    expect(drag.letGoSecond(2)).toBe(true);
    drag.follow(finger(1, 150, 100));
    expect(drag.wish(1).turn).toBeCloseTo(90, 9);
    expect(drag.wish(1).dx).toBe(50);
    // And once more, on top of it.
    drag.takeSecond(finger(2, 250, 100));
    drag.follow(finger(2, 150, 200));
    expect(drag.wish(1).turn).toBeCloseTo(0, 9);
  });

  it('is turned by its handle about its middle, and stays where it is', () => {
    const drag = new HandDrag(mouse(200, 100), { x: 100, y: 100 });
    expect(drag.takeSecond(finger(2, 0, 0))).toBe(false);
    drag.follow(mouse(100, 200));
    expect(drag.wish(3)).toMatchObject({ dx: 0, dy: 0, isFinely: false });
    expect(drag.wish(3).turn).toBeCloseTo(-90, 9);
    drag.follow(mouse(100, 200, true));
    expect(drag.wish(3).isFinely).toBe(true);
  });
});
