/** Is it enough, and what would make it so: small cloths of ours whose answers can be worked out by hand. */
import { describe, expect, it } from 'vitest';
import { shortened } from '../../pattern/enough/concessions.ts';
import {
  choiceOf,
  concede,
  concessionsFor,
  type EnoughProgress,
  isItEnough,
} from '../../pattern/enough/index.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { pieceSize } from '../../pattern/pieces/index.ts';
import { box, smallProject, solveChecked } from '../support/layOf.ts';

async function asked(project: Project, maxSteps = 30): Promise<EnoughProgress> {
  const seen: EnoughProgress[] = [];
  const request = { project, choice: choiceOf(project, 'cloth'), seconds: 20, seed: 1, maxSteps };
  const last = await isItEnough(request, solveChecked, (p) => seen.push(p), new AbortController().signal);
  expect(seen.at(-1)).toEqual(last);
  // What was found is told as it is found, and never taken back.
  seen.forEach((progress, i) => {
    const next = seen[i + 1];
    if (next) expect(next.remedies.length).toBeGreaterThanOrEqual(progress.remedies.length);
  });
  return last;
}
const remnant = (width: number, height: number, more: object = {}) => ({
  kind: 'remnant',
  outline: box(width, height),
  ...more,
});
const kinds = ({ remedies }: EnoughProgress): string[] => remedies.map(({ concession }) => concession.kind);

describe('is it enough?', () => {
  it('a remnant that holds everything: yes, and nothing is asked', async () => {
    const project = smallProject({
      pieces: [{ name: 'Flap', outline: box(100, 60), plain: 2 }],
      cloth: remnant(130, 110),
    });
    expect(await asked(project)).toMatchObject({ judgement: { verdict: 'fits' }, remedies: [], of: 0 });
  });

  it('a gap too wide by two millimetres: less gap is found, the least that is needed', async () => {
    // Two flaps side by side take 200 mm and the gap; there are 206 mm.
    const project = smallProject({
      pieces: [{ name: 'Flap', outline: box(60, 100), plain: 2 }],
      cloth: remnant(206, 60, { gapMm: 8 }),
    });
    const found = await asked(project);
    expect(found.judgement?.verdict).not.toBe('fits');
    const gap = found.remedies.find(({ concession }) => concession.kind === 'gap');
    expect(gap?.concession).toMatchObject({ kind: 'gap', toMm: 6 });
    expect(gap?.results[0]?.verdict).toBe('fits');
    expect(gap?.conceded.project.cloths[0]?.gapMm).toBe(6);
  });

  it('a piece too long by 8 mm: that much shorter, or laid the other way, or joined', async () => {
    const project = smallProject({
      pieces: [{ name: 'Strap', outline: box(30, 208), plain: 1 }],
      cloth: remnant(200, 220),
    });
    const found = await asked(project);
    expect(found.judgement?.verdict).toBe('cannot fit');
    expect(found.judgement?.missing).toEqual([{ pieceId: 'Strap', copies: 1 }]);
    expect(kinds(found)).toEqual(['join', 'crosswise', 'shorter']);
    const shorter = found.remedies.find(({ concession }) => concession.kind === 'shorter');
    expect(shorter?.concession).toMatchObject({ byMm: 8 });
  });

  it('a nap that wastes cloth: pieces may point either way', async () => {
    // Two right-angled triangles make the rectangle only if one of them is turned end for end.
    const triangle = [
      [0, 0],
      [100, 0],
      [0, 60],
    ] as const;
    const project = smallProject({
      pieces: [{ name: 'Wedge', outline: triangle, plain: 2, piece: { grainDeg: 0, topDeg: 0 } }],
      cloth: remnant(101, 61, { nap: 'oneWay' }),
    });
    const found = await asked(project, 120);
    expect(found.judgement?.verdict).not.toBe('fits');
    expect(kinds(found)).toContain('eitherWay');
  });

  it('another cloth of the material, or of another one, that is at hand', async () => {
    const base = smallProject({
      pieces: [
        { name: 'Flap', outline: box(60, 100), plain: 1 },
        { name: 'Tab', outline: box(40, 90), plain: 1 },
      ],
      cloth: remnant(100, 60),
    });
    const [first] = base.cloths;
    const project: Project = {
      ...base,
      materials: [...base.materials, { id: 'other', name: 'other', role: 'main' }],
      cloths: [
        first!,
        { ...first!, id: 'second', name: 'second' },
        { ...first!, id: 'third', name: 'third', materialId: 'other' },
      ],
      layChoices: [{ materialId: 'cloth', clothIds: ['c'], spread: 'single' }],
    };
    const found = await asked(project);
    expect(kinds(found)).toContain('alsoCloth');
    const other = found.remedies.find(({ concession }) => concession.kind === 'otherMaterial');
    expect(other?.conceded.project.cutList.find(({ materialId }) => materialId === 'other')).toMatchObject({
      plain: 1,
    });
    // Shown with the layouts of both materials.
    expect(new Set(other?.results.map(({ materialId }) => materialId))).toEqual(new Set(['cloth', 'other']));
  });

  it('more area than there is: nothing is tried that leaves it so', async () => {
    const project = smallProject({
      pieces: [{ name: 'Flap', outline: box(60, 100), plain: 3 }],
      cloth: remnant(120, 100, { gapMm: 2, edgeMarginMm: 1, nap: 'oneWay' }),
    });
    const found = await asked(project);
    expect(found.judgement?.verdict).toBe('cannot fit');
    expect(found.of).toBe(1);
    expect(kinds(found)).toEqual([]);
  });

  it('doubled cloth that is too short: opened out', async () => {
    // Three panels of 400 × 300 lie abreast on 1200, or two deep where one of them has no partner.
    const roll = { kind: 'roll', widthMm: 1200, availableMm: 320 };
    const single = smallProject({
      pieces: [{ name: 'Panel', outline: box(400, 300), plain: 3 }],
      cloth: roll,
    });
    const layChoices = [{ materialId: 'cloth', clothIds: ['c'], spread: 'folded' as const }];
    const found = await asked({ ...single, layChoices });
    expect(found.judgement?.verdict).not.toBe('fits');
    expect(kinds(found)).toEqual(['unfold']);
    expect(found.remedies[0]?.results[0]).toMatchObject({ verdict: 'fits', spread: 'single' });
  });

  it('a margin too wide by a few millimetres: as much less as is needed', async () => {
    // 210 mm less twice the margin must leave 200.
    const project = smallProject({
      pieces: [{ name: 'Panel', outline: box(200, 300), plain: 1 }],
      cloth: remnant(400, 210, { edgeMarginMm: 10, turn: 'grain' }),
    });
    const margin = (await asked(project)).remedies.find(({ concession }) => concession.kind === 'margin');
    expect(margin?.concession).toMatchObject({ toMm: 5 });
  });

  it('a strap that would fit a slanting strip of cloth: a tilt, no more than it takes', async () => {
    // The strip rises by 25 in 1009 mm: 1.4°. No strap of a metre lies straight on it.
    const outline = [
      [0, 0],
      [21, 0],
      [1030, 45],
      [1030, 70],
      [1000, 70],
      [0, 25],
    ];
    const project = smallProject({
      pieces: [{ name: 'Strap', outline: box(20, 1000), plain: 1 }],
      cloth: { kind: 'remnant', outline },
    });
    const found = await asked(project);
    const tilt = found.remedies.find(({ concession }) => concession.kind === 'tilt');
    expect(tilt?.results[0]?.verdict).toBe('fits');
    expect(tilt?.concession).toSatisfy(({ toDeg }: { toDeg: number }) => toDeg > 1 && toDeg <= 3);
  });

  it('stops when told, with what it has', async () => {
    const project = smallProject({
      pieces: [{ name: 'Strap', outline: box(30, 208), plain: 1 }],
      cloth: remnant(200, 220),
    });
    const abort = new AbortController();
    const request = { project, choice: choiceOf(project, 'cloth'), seconds: 20, seed: 1, maxSteps: 30 };
    const last = await isItEnough(
      request,
      solveChecked,
      ({ tried }) => tried > 0 && abort.abort(),
      abort.signal,
    );
    expect(last.tried).toBeLessThan(last.of);
  });
});

describe('concessions', () => {
  const project = smallProject({
    pieces: [{ name: 'Panel', outline: box(100, 200), plain: 1 }],
    cloth: remnant(100, 100, { gapMm: 2, edgeMarginMm: 3, nap: 'oneWay' }),
  });
  const choice = choiceOf(project, 'cloth');

  it('are only those that make sense, cheapest first, and each can be made', () => {
    const all = concessionsFor(project, choice, ['Panel']);
    expect(all.map(({ kind }) => kind)).toEqual([
      'gap',
      'margin',
      'tilt',
      'crosswise',
      'eitherWay',
      'shorter',
    ]);
    for (const concession of all) {
      const conceded = concede(project, choice, concession);
      expect(conceded).not.toBeNull();
      expect(conceded?.project).not.toEqual(project);
    }
    const free = {
      ...project,
      cloths: project.cloths.map((cloth) => ({ ...cloth, turn: 'free' as const, gapMm: 0 })),
    };
    expect(concessionsFor(free, choice, []).map(({ kind }) => kind)).toEqual([
      'margin',
      'eitherWay',
      'shorter',
    ]);
  });

  it('come to nothing when the piece or cloth has gone', () => {
    expect(concede(project, choice, { kind: 'gap', clothId: 'gone', toMm: 0 })).toBeNull();
    expect(concede(project, choice, { kind: 'crosswise', pieceId: 'gone' })).toBeNull();
    expect(concede(project, choice, { kind: 'shorter', pieceId: 'Panel', byMm: 500 })).toBeNull();
  });

  it('make a piece shorter along its grain by just so much', () => {
    const [piece] = project.pieces;
    expect(pieceSize(shortened(piece!, 12.5)!).alongMm).toBeCloseTo(187.5, 9);
    expect(pieceSize(shortened(piece!, 12.5)!).acrossMm).toBeCloseTo(100, 9);
  });

  it('interfacing narrower than the piece: butted from two widths, or at the fold line', async () => {
    const narrow = (pieces: Parameters<typeof smallProject>[0]['pieces']): Project => {
      const project = smallProject({
        pieces,
        cloth: { kind: 'roll', widthMm: 450, selvedgeMm: 0, squaringMm: 0, turn: 'grain' },
      });
      return { ...project, materials: [{ ...project.materials[0]!, role: 'interfacing' }] };
    };
    const panel = await asked(narrow([{ name: 'Panel', outline: box(600, 700), plain: 1 }]));
    expect(panel.judgement?.verdict).toBe('cannot fit');
    const [first] = panel.remedies;
    expect(first?.concession).toMatchObject({ kind: 'join', divides: 'width', allowanceMm: 0 });
    // Two halves of 300 mm do not lie beside each other on 450: one behind the other.
    expect(first?.results[0]?.usedMm).toBeCloseTo(1400, 3);
    const half = await asked(
      narrow([{ name: 'Half', outline: box(300, 700), onFold: 1, piece: { foldEdge: 3 } }]),
    );
    const butted = half.remedies.find(({ concession }) => concession.kind === 'join');
    const placed = butted?.results[0]?.segments.flatMap((segment) => segment.placed);
    expect(placed?.map(({ part }) => part)).toEqual([
      { n: 1, of: 2 },
      { n: 2, of: 2 },
    ]);
  });
});
