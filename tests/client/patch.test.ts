import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply, diff, isSameJson } from '../../client/state/patch.ts';

/** JSON values that are often nearly alike: few keys, few words. */
const value = fc.letrec((tie) => ({
  any: fc.oneof({ maxDepth: 4 }, fc.constantFrom(null, true, 0, 1, 'a', 'b'), tie('list'), tie('object')),
  list: fc.array(tie('any'), { maxLength: 4 }),
  object: fc.dictionary(fc.constantFrom('x', 'y', 'z'), tie('any'), { maxKeys: 3, noNullPrototype: true }),
})).any;

describe('a patch', () => {
  it('makes the one value of the other, to the letter', () => {
    fc.assert(
      fc.property(value, value, (before, after) => {
        const text = JSON.stringify(before);
        expect(JSON.stringify(apply(before, diff(before, after)))).toBe(JSON.stringify(after));
        expect(JSON.stringify(apply(after, diff(after, before)))).toBe(text);
        expect(JSON.stringify(before)).toBe(text);
      }),
      { numRuns: 2000 },
    );
  });

  it('survives being stored as text', () => {
    fc.assert(
      fc.property(value, value, (before, after) => {
        const kept = JSON.parse(JSON.stringify(diff(before, after)));
        expect(apply(before, kept)).toEqual(after);
      }),
    );
  });

  it('is nothing between equal values, and small where little changed', () => {
    fc.assert(
      fc.property(value, (same) => {
        expect(diff(same, structuredClone(same))).toBeNull();
      }),
    );
    const long = Array.from({ length: 1000 }, (_, i) => ({ id: i, at: [i, i] }));
    const moved = long.map((entry) => (entry.id === 500 ? { ...entry, at: [1, 2] } : entry));
    expect(JSON.stringify(diff(long, moved)).length).toBeLessThan(80);
    expect(diff(long, long.slice(1))).toEqual({ at: 0, drop: 1, put: [] });
  });

  it('shares what it does not touch', () => {
    const before = { a: [1, 2], b: { c: 3 } };
    const after = apply(before, diff(before, { a: [1, 2], b: { c: 4 } })) as typeof before;
    expect(after.a).toBe(before.a);
  });

  it('tells equal from different, whatever the order of keys', () => {
    expect(isSameJson({ a: 1, b: [2] }, { b: [2], a: 1 })).toBe(true);
    expect(isSameJson({ a: 1 }, { a: 1, b: undefined })).toBe(false);
    expect(isSameJson([], {})).toBe(false);
    expect(isSameJson(null, {})).toBe(false);
  });
});
