import { describe, expect, it } from 'vitest';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import { setsTimes } from '../../pattern/cutList/index.ts';
import { joinedParts } from '../../pattern/cutList/joins.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import {
  type Cloth,
  type ClothLay,
  type CutRow,
  clothSchema,
  type Joins,
  type Project,
  projectSchema,
} from '../../pattern/exchange/project.ts';
import { takeUp } from '../../pattern/lay/hand/handLay.ts';
import { layProject } from '../../pattern/lay/layProject.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';
import { areaOf, pieceOf, rectangle } from '../pattern/pieces/shapes.ts';
import { solveChecked } from '../support/layOf.ts';

const roll = (id: string, materialId: string, widthMm: number, more: object = {}): Cloth =>
  clothSchema.parse({ kind: 'roll', id, name: id, materialId, widthMm, shopStepMm: 10, ...more });

const row = (pieceId: string, materialId: string, plain: number, more: Partial<CutRow> = {}): CutRow => ({
  pieceId,
  materialId,
  plain,
  mirrored: 0,
  onFold: 0,
  ...more,
});

function project(
  pieces: Record<string, [across: number, along: number]>,
  cutList: readonly CutRow[],
  cloths: readonly Cloth[],
  more: Partial<Project> = {},
): Project {
  const materials = [...new Set(cloths.map(({ materialId }) => materialId))];
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: 'test',
    pieces: Object.entries(pieces).map(([id, [across, along]]) => ({
      ...pieceOf(rectangle(across, along)),
      id,
      name: id,
    })),
    materials: materials.map((id) => ({ id, name: id })),
    cutList,
    cloths,
    ...more,
  });
}

const never = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} };

function lay(of: Project): Promise<LayProgress> {
  const request = layRequestSchema.parse({ project: of, seconds: 1, maxSteps: 300 });
  return layProject(request, solveChecked, () => {}, never);
}

const placed = (lays: readonly ClothLay[], materialId: string): string[] =>
  lays
    .filter((one) => one.materialId === materialId)
    .flatMap(({ segments }) => segments.flatMap((segment) => segment.placed.map(({ pieceId }) => pieceId)))
    .sort();

const joins = (more: Partial<Joins> = {}): Joins => ({
  most: 3,
  allowanceMm: 10,
  slant: 'straight',
  wholeMiddleMm: 0,
  ...more,
});

describe('pieces joined from lengths', () => {
  const strap = pieceOf(rectangle(40, 1000));
  const area = (parts: ReturnType<typeof joinedParts>): number =>
    parts!.reduce((sum, part) => sum + areaOf(part), 0);

  it('adds its allowance at both ends of each join, √2 times as much along where the join is at 45°', () => {
    for (const count of [1, 2, 3]) {
      expect(area(joinedParts(strap, joins(), count))).toBeCloseTo(40 * (1000 + count * 20), 6);
      const slanted = joinedParts(strap, joins({ slant: 'diagonal' }), count);
      expect(area(slanted)).toBeCloseTo(40 * (1000 + count * 20 * Math.SQRT2), 6);
      expect(slanted).toHaveLength(count + 1);
    }
  });

  it('keeps joins out of the middle that is to be whole, and says where there is no room for them', () => {
    const [low, high] = joinedParts(strap, joins({ wholeMiddleMm: 400 }), 1)!;
    // 300 mm from an end, and 10 mm of allowance on each side.
    expect([areaOf(low!), areaOf(high!)].sort((a, b) => a - b)).toEqual([40 * 310, 40 * 710]);
    expect(joinedParts(strap, joins({ wholeMiddleMm: 1200 }), 1)).toBeNull();
  });

  it('divides the shorter side where it is asked to', () => {
    const panel = pieceOf(rectangle(600, 700), {});
    const [left, right] = joinedParts(panel, joins({ divides: 'width', allowanceMm: 0 }), 1)!;
    expect(
      [left, right].map((part) => boundingBox(part!.outline).maxX - boundingBox(part!.outline).minX),
    ).toEqual([300, 300]);
  });

  it('of a half piece makes two mirrored halves, each with its allowance beyond the fold line', () => {
    // The fold edge is the left one; the piece tapers away from it.
    const half = pieceOf(
      [
        [0, 0],
        [100, 0],
        [60, 200],
        [0, 200],
      ],
      { foldEdge: 3 },
    );
    const [own, other] = joinedParts(half, joins({ allowanceMm: 10 }), 1)!;
    expect(boundingBox(own!.outline)).toMatchObject({ minX: -10, maxX: 100 });
    expect(boundingBox(other!.outline)).toMatchObject({ minX: -100, maxX: 10 });
    expect(area([own!, other!])).toBeCloseTo(2 * (16_000 + 10 * 200), 6);
    expect(signedArea(other!.outline)).toBeGreaterThan(0);
    expect(
      joinedParts(half, joins({ allowanceMm: 0 }), 1)!.map(({ outline }) => signedArea(outline)),
    ).toEqual([16_000, 16_000]);
    expect(joinedParts(half, joins(), 2)).toBeNull();
  });

  it('makes as few joins as buy the least cloth, and names them', async () => {
    const one = project(
      { strap: [40, 1000] },
      [row('strap', 'main', 1, { joins: joins({ most: 1 }) })],
      [roll('c', 'main', 500)],
    );
    const { results, notices } = await lay(one);
    expect(results[0]).toMatchObject({ verdict: 'fits', usedMm: 510 });
    expect(results[0]!.segments[0]!.placed.map(({ part }) => part)).toEqual([
      { n: 1, of: 2 },
      { n: 2, of: 2 },
    ]);
    expect(notices.map(({ text }) => text)).toContain('strap is joined from 2 lengths.');
    expect(typeof takeUp(one, results[0]!)).toBe('object');
    // Beside a panel that is as long as the strap a join would save nothing.
    const beside = project(
      { strap: [40, 1000], panel: [400, 1000] },
      [row('strap', 'main', 1, { joins: joins() }), row('panel', 'main', 1)],
      [roll('c', 'main', 500)],
    );
    const whole = await lay(beside);
    expect(whole.results[0]!.usedMm).toBeCloseTo(1000, 3);
    expect(whole.results[0]!.segments[0]!.placed.every(({ part }) => part === undefined)).toBe(true);
  });

  it('joins where the whole would not fit a remnant', async () => {
    const remnant = clothSchema.parse({
      kind: 'remnant',
      id: 'r',
      name: 'r',
      materialId: 'main',
      outline: rectangle(600, 90),
    });
    const { results } = await lay(
      project({ strap: [40, 1000] }, [row('strap', 'main', 1, { joins: joins() })], [remnant]),
    );
    expect(results[0]).toMatchObject({ verdict: 'fits', unplaced: [] });
    expect(results[0]!.segments[0]!.placed).toHaveLength(2);
  });
});

describe('pieces that may come from elsewhere', () => {
  const cloths = [roll('canvas', 'main', 500), roll('cotton', 'lining', 500)];
  const pieces: Record<string, [number, number]> = {
    panel: [400, 300],
    facing: [80, 140],
    pocket: [200, 200],
  };
  const elsewhere = ['main'];

  it('go where there is room without taking more cloth, and are cut at home where there is none', async () => {
    // Beside the panel 100 × 300 are free: room for two facings of 80 × 140, not for the third.
    const three = project(
      pieces,
      [row('panel', 'main', 1), row('pocket', 'lining', 2), row('facing', 'lining', 3, { elsewhere })],
      cloths,
    );
    const { results, notices } = await lay(three);
    expect(placed(results, 'main')).toEqual(['facing', 'facing', 'panel']);
    expect(placed(results, 'lining')).toEqual(['facing', 'pocket', 'pocket']);
    const main = results.find(({ materialId }) => materialId === 'main')!;
    expect(main.usedMm).toBeCloseTo(300, 3);
    expect(main.verdict).toBe('fits');
    expect(main.segments[0]!.placed.filter(({ guestOf }) => guestOf === 'lining')).toHaveLength(2);
    expect(notices.map(({ code }) => code)).toContain('fromElsewhere');
    expect(typeof takeUp(three, main)).toBe('object');
  });

  it('keep their sets apart: each set has its copies, whichever cloth they come from', async () => {
    const two = project(
      pieces,
      [row('panel', 'main', 1), row('facing', 'lining', 3, { elsewhere })],
      cloths,
      { sets: [{ id: 's', name: 'as drawn', times: 2, alongPercent: 100, acrossPercent: 100 }] },
    );
    const { results } = await lay(two);
    const sets = (materialId: string): string[] =>
      results
        .filter((one) => one.materialId === materialId)
        .flatMap(({ segments }) => segments.flatMap((segment) => segment.placed))
        .filter(({ pieceId }) => pieceId === 'facing')
        .map((one) => one.sets!.join());
    const [away, home] = [sets('main'), sets('lining')];
    expect(away.length).toBeGreaterThan(0);
    expect([...away, ...home].sort()).toEqual(['1', '1', '1', '2', '2', '2']);
  });

  it('stay at home when the other cloth is full, and prefer the first of several', async () => {
    const full = project(
      { ...pieces, panel: [500, 300] },
      [row('panel', 'main', 1), row('facing', 'lining', 1, { elsewhere })],
      cloths,
    );
    expect(placed((await lay(full)).results, 'lining')).toEqual(['facing']);
    const both = project(
      pieces,
      [
        row('panel', 'main', 1),
        row('panel', 'contrast', 1),
        row('facing', 'lining', 1, { elsewhere: ['contrast', 'main'] }),
      ],
      [...cloths, roll('twill', 'contrast', 500)],
    );
    const { results } = await lay(both);
    expect(placed(results, 'contrast')).toEqual(['facing', 'panel']);
    expect(placed(results, 'lining')).toEqual([]);
  });
});

describe('sets in one lay', () => {
  it('number each placed piece by its set, pairs by the two sets they serve', async () => {
    const three = project({ panel: [100, 200] }, [row('panel', 'main', 2)], [roll('c', 'main', 450)], {
      sets: [{ id: 's', name: 'as drawn', times: 3, alongPercent: 100, acrossPercent: 100 }],
    });
    expect(setsTimes(three)).toBe(3);
    const { results } = await lay(three);
    const sets = results[0]!.segments.flatMap((segment) => segment.placed.map((one) => one.sets?.join()));
    expect([...sets].sort()).toEqual(['1', '1', '2', '2', '3', '3']);
    const single = await lay(
      project({ panel: [100, 200] }, [row('panel', 'main', 2)], [roll('c', 'main', 450)]),
    );
    expect(single.results[0]!.segments[0]!.placed.every((one) => one.sets === undefined)).toBe(true);
  });

  it('go on with the next set where a second remnant takes the rest', async () => {
    const remnant = (id: string): Cloth =>
      clothSchema.parse({ kind: 'remnant', id, name: id, materialId: 'main', outline: rectangle(210, 110) });
    const four = project({ panel: [100, 100] }, [row('panel', 'main', 1)], [remnant('r'), remnant('q')], {
      sets: [{ id: 's', name: 'as drawn', times: 4, alongPercent: 100, acrossPercent: 100 }],
    });
    const { results } = await lay(four);
    const sets = results.map(({ segments }) =>
      segments.flatMap(({ placed }) => placed.flatMap((one) => one.sets)),
    );
    expect(sets).toEqual([
      [1, 2],
      [3, 4],
    ]);
  });

  it('point the same way within a set where sets may differ', async () => {
    const cloth = roll('c', 'main', 330, { nap: 'upAndDown' });
    const four = project(
      { panel: [100, 200], tab: [30, 60] },
      [row('panel', 'main', 2), row('tab', 'main', 1)],
      [cloth],
      {
        sets: [{ id: 's', name: 'as drawn', times: 4, alongPercent: 100, acrossPercent: 100 }],
      },
    );
    const { results } = await lay(four);
    const ways = new Map<number, Set<number>>();
    for (const one of results[0]!.segments.flatMap((segment) => segment.placed)) {
      for (const set of one.sets ?? [])
        ways.set(set, (ways.get(set) ?? new Set()).add(Math.round(one.topDeg)));
    }
    expect([...ways.keys()].sort()).toEqual([1, 2, 3, 4]);
    for (const way of ways.values()) expect(way.size).toBe(1);
  });
});
