import { describe, expect, it } from 'vitest';
import type { Problem } from '../../nesting/index.ts';
import { verify } from '../../nesting/verify/index.ts';
import { chalkLength, layPositions, planSheets } from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { nothingFits } from '../plan/extremeLays.ts';
import { twoSegments } from '../plan/sampleLays.ts';
import { SAMPLES } from './samples.ts';

/** A ring laid by the words of the table alone: mirrored, turned, and shifted until it touches two of its points. */
function laid(
  ring: readonly (readonly [number, number])[],
  piece: ReturnType<typeof layPositions>[number]['pieces'][number],
) {
  const angle = (piece.rotation * Math.PI) / 180;
  const turned = ring.map(([px, py]) => {
    const x = piece.mirrored ? -px : px;
    return [x * Math.cos(angle) - py * Math.sin(angle), x * Math.sin(angle) + py * Math.cos(angle)] as const;
  });
  const dx = piece.near.along - Math.min(...turned.map(([x]) => x));
  const dy = piece.low.across - Math.min(...turned.map(([, y]) => y));
  return { outline: turned.map(([x, y]) => [x + dx, y + dy] as const), dx, dy };
}

describe.each(SAMPLES)('positions on %s', (_name, make) => {
  const { lay, project } = make();
  const stretches = layPositions(lay, project);
  const outlineOf = (id: string) => project.pieces.find((piece) => piece.id === id)!.outline;

  it('list every placed piece once', () => {
    expect(stretches.map(({ pieces }) => pieces.length)).toEqual(
      lay.segments.map(({ placed }) => placed.length),
    );
    const tags = stretches.flatMap(({ pieces }) => pieces.map(({ tag }) => tag));
    expect(new Set(tags).size).toBe(tags.length);
  });

  it('are corners of the piece, so that two place it and a third checks', () => {
    for (const piece of stretches.flatMap(({ pieces }) => pieces)) {
      const { outline } = laid(outlineOf(piece.pieceId), piece);
      for (const point of [piece.near, piece.far, piece.low, piece.high]) {
        const nearest = Math.min(...outline.map(([x, y]) => Math.hypot(x - point.along, y - point.across)));
        expect(nearest).toBeLessThan(0.06);
      }
      const points = [piece.near, piece.far, piece.low, piece.high].map((p) => `${p.along} ${p.across}`);
      expect(new Set(points).size).toBeGreaterThanOrEqual(3);
    }
  });

  it('give a legal layout when the pieces are laid by them alone', () => {
    for (const { pieces, segment, from } of stretches) {
      const { widthMm, lengthMm, outline, flaws = [] } = lay.segments[segment]!;
      if (pieces.length === 0) continue;
      const problem: Problem = {
        name: 'reread',
        gap: 0,
        containers: [
          from === 'box' && outline
            ? { kind: 'sheet', id: 'c', quantity: 1, outline, blocked: flaws }
            : { kind: 'strip', id: 'c', width: 2 * widthMm + 100 },
        ],
        items: pieces.map((piece, i) => ({
          id: `i${i}`,
          outline: outlineOf(piece.pieceId),
          quantity: 1,
          poses: [{ rotation: piece.rotation, mirrored: piece.mirrored }],
        })),
      };
      const placements = pieces.map((piece, i) => {
        const { dx, dy } = laid(outlineOf(piece.pieceId), piece);
        const { rotation, mirrored } = piece;
        return { item: `i${i}`, copy: 0, container: 'c', containerCopy: 0, rotation, mirrored, x: dx, y: dy };
      });
      const length = from === 'box' ? 0 : Math.max(...pieces.map(({ far }) => far.along));
      expect(verify(problem, { placements, unplaced: [], length })).toEqual([]);
      expect(Math.max(...pieces.map(({ high }) => high.across))).toBeLessThanOrEqual(widthMm + 30);
      expect(length).toBeLessThanOrEqual(lay.usedMm + 0.01);
      expect(lengthMm).toBeGreaterThan(0);
    }
  });

  it('are on the pages after the plan, one row each', () => {
    const sheets = planSheets(lay, project, { page: 'a4', units: 'mm' });
    const words = sheets.flatMap(({ drawing }) =>
      flatItems(drawing).flatMap((item) => (item.kind === 'text' ? [item.text] : [])),
    );
    const rows = stretches.flatMap(({ pieces }) => pieces.map(({ tag }) => tag));
    for (const tag of rows) expect(words).toContain(tag);
    expect(
      sheets.flatMap(({ alsoHere = [] }) => alsoHere).filter((entry) => entry.endsWith(': positions')),
    ).toHaveLength(stretches.filter(({ pieces }) => pieces.length > 0).length);
  });
});

describe('lengths to chalk', () => {
  it('are given to a millimetre or a sixteenth of an inch', () => {
    expect(chalkLength(123.4, 'cm')).toBe('12.3');
    expect(chalkLength(125, 'cm')).toBe('12.5');
    expect(chalkLength(120, 'cm')).toBe('12.0');
    expect(chalkLength(123.5, 'mm')).toBe('124');
    expect(chalkLength(-0.2, 'mm')).toBe('0');
    expect(chalkLength(310, 'in')).toBe('12 3/16');
    expect(chalkLength(25.4, 'in')).toBe('1');
  });

  it('begin at the cut end before it is squared, and across from the fold where there is one', () => {
    const { lay, project } = twoSegments();
    const [folded, open] = layPositions(lay, project);
    expect([folded!.from, open!.from]).toEqual(['fold', 'selvedge']);
    expect(Math.min(...folded!.pieces.map(({ near }) => near.along))).toBeGreaterThanOrEqual(
      folded!.squaringMm,
    );
    const onFold = folded!.pieces.filter(({ hand }) => hand === 'fold');
    for (const piece of onFold) expect(piece.low.across).toBe(0);
  });

  it('are missing where nothing is placed, and the plan says why', () => {
    const { lay, project } = nothingFits();
    const sheets = planSheets(lay, project, { page: 'letter', units: 'in' });
    expect(sheets).toHaveLength(1);
  });
});
