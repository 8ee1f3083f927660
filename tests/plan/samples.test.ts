import { describe, expect, it } from 'vitest';
import type { Item, Layout, Problem } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { clothLaySchema } from '../../pattern/exchange/project.ts';
import { SAMPLES } from './sampleLays.ts';

/** Drawings are judged on lays that could be cut: the samples pass the same checker as the engine's layouts. */
describe.each(Object.entries(SAMPLES))('the sample %s', (_name, make) => {
  const { lay } = make();

  it('is a well-formed lay', () => {
    expect(() => clothLaySchema.parse(lay)).not.toThrow();
  });

  it('lays no piece over another, outside the cloth or on a flaw', () => {
    for (const [index, segment] of lay.segments.entries()) {
      const items: Item[] = segment.placed.map((placed, i) => ({
        id: String(i),
        outline: placed.outline,
        quantity: 1,
        poses: [{ rotation: 0, mirrored: false }],
      }));
      const problem: Problem = {
        name: `segment ${index}`,
        containers: [
          segment.outline
            ? { kind: 'sheet', id: 'c', quantity: 1, outline: segment.outline, blocked: segment.flaws ?? [] }
            : { kind: 'strip', id: 'c', width: segment.widthMm, maxLength: segment.lengthMm },
        ],
        items,
        gap: 0,
      };
      const layout: Layout = {
        placements: items.map(({ id }) => ({
          item: id,
          copy: 0,
          container: 'c',
          containerCopy: 0,
          rotation: 0,
          mirrored: false,
          x: 0,
          y: 0,
        })),
        unplaced: [],
        length: segment.outline ? 0 : Math.max(...segment.placed.flatMap((p) => p.outline.map(([x]) => x))),
      };
      expect(verify(problem, layout)).toEqual([]);
    }
  });
});
