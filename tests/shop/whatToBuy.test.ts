import { describe, expect, it } from 'vitest';
import { type LayRequestInput, layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';
import { answerRequest } from '../../pattern/lay/answerRequest.ts';
import { pieceFromRectangle } from '../../pattern/measurements/index.ts';
import { box, INCH, solveChecked } from '../support/layOf.ts';

type Wanted = readonly [name: string, along: number, across: number, plain: number];

function project(
  wanted: readonly Wanted[],
  cloths: readonly object[] = [],
  units: 'cm' | 'in' = 'cm',
): Project {
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: 'picnic roll',
    units,
    pieces: wanted.map(([name, alongMm, acrossMm]) =>
      pieceFromRectangle({ id: name, name, alongMm, acrossMm }),
    ),
    materials: [{ id: 'main', name: 'Canvas' }],
    cutList: wanted.map(([name, , , plain]) => ({ pieceId: name, materialId: 'main', plain })),
    cloths: cloths.map((cloth, i) => ({ id: `own${i}`, name: `Own ${i}`, materialId: 'main', ...cloth })),
  });
}

const never = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} };
type Offers = Extract<NonNullable<LayRequestInput['question']>, { kind: 'buy' }>['offers'];

async function ask(of: Project, offers: Offers) {
  let packed = 0;
  const request = layRequestSchema.parse({
    project: of,
    seconds: 0.5,
    maxSteps: 400,
    question: { kind: 'buy', materialId: 'main', offers },
  });
  const answer = await answerRequest(
    request,
    (problem, options) => {
      packed += 1;
      return solveChecked(problem, options);
    },
    () => {},
    never,
  );
  return { ...answer, buy: answer.buy!, packed };
}

const roll = (id: string, widthMm: number, priceCentsPerMetre: number | null, more: object = {}) =>
  ({ kind: 'roll', id, name: id, widthMm, priceCentsPerMetre, ...more }) as const;

describe('what to buy', () => {
  it('compares widths by real layouts, not by area', async () => {
    // Two 40 cm panels side by side need 80 cm of width: a dear wide cloth beats a cheap narrow one.
    const { buy } = await ask(project([['panel', 300, 400, 2]]), [
      roll('narrow', 750, 1000),
      roll('wide', 1400, 1500),
    ]);
    expect(
      buy.baskets.map(({ lines, costCents }) => [lines[0]!.name, lines[0]!.lengthMm, costCents]),
    ).toEqual([
      ['wide', 300, 450],
      ['narrow', 600, 600],
    ]);
    expect(buy.tried).toBe(buy.of);
  });

  // Needing 61 cm: in steps of 25 cm 75 cm, in steps of 10 cm 70 cm; 24.02 in is 3/4 yd (27 in), because 2/3 yd misses
  // by 0.02 in: rounding is up, with nothing let pass. Steps of sale: firesidefabrics.co.uk, "How fabric is sold", and
  // sewmucheasier.com, "Pre-cut fabric explained"; the figures are our arithmetic.
  it('rounds up to the shop’s step, never down, and shows the spare', async () => {
    const cut = project([['panel', 610, 1000, 1]]);
    const lengths = async (stepMm: number) => {
      const { buy } = await ask(cut, [roll('a', 1120, 1000, { stepMm })]);
      const [line] = buy.baskets[0]!.lines;
      return [line!.lengthMm, Math.round(line!.spareMm)];
    };
    expect(await lengths(250)).toEqual([750, 140]);
    expect(await lengths(100)).toEqual([700, 90]);
    const inches = project([['panel', 24.02 * INCH, 1000, 1]], [], 'in');
    const { buy } = await ask(inches, [
      roll('third', 1120, 1000, { stepMm: 12 * INCH }),
      roll('quarter', 1120, 1000, { stepMm: 9 * INCH }),
    ]);
    expect(buy.baskets.map(({ lines }) => Math.round(lines[0]!.lengthMm / INCH))).toEqual([27, 36]);
  });

  // 5 m of border ÷ 1.10 m = 4.54, so 5 strips of 12 cm: 60 cm (eternalmaker.com, "Fabric measuring tips").
  it('buys whole strips for a border', async () => {
    const { buy } = await ask(project([['strip', 120, 1100, 5]]), [roll('a', 1100, 1000)]);
    expect(buy.baskets[0]!.lines[0]!.lengthMm).toBe(600);
  });

  // Six pads of 24 in take 2 yd of 54 in cloth, two across by three rows (Cortina Leathers, "Hide types and sizes",
  // cortinaleathers.gomediahost.com).
  it('lays six pads two across on 54 inch cloth', async () => {
    const pads = project([['pad', 24 * INCH, 24 * INCH, 6]], [], 'in');
    const { buy } = await ask(pads, [roll('a', 54 * INCH, 1000, { stepMm: 9 * INCH })]);
    expect(buy.baskets[0]!.lines[0]!.lengthMm / INCH).toBeCloseTo(72, 6);
  });

  it('uses what is there first, and buys nothing where that is enough', async () => {
    const cut = project([['panel', 300, 400, 2]], [{ kind: 'remnant', outline: box(320, 420) }]);
    const { buy } = await ask(cut, [roll('a', 1000, 1000)]);
    expect(buy.baskets[0]!.lines.map(({ offerId, lengthMm }) => [offerId, lengthMm])).toEqual([
      [null, 0],
      ['a', 300],
    ]);
    const enough = project([['panel', 300, 400, 2]], [{ kind: 'remnant', outline: box(320, 820) }]);
    const { buy: none } = await ask(enough, [roll('a', 1000, 1000)]);
    expect(none.baskets).toMatchObject([{ costCents: 0, lines: [{ offerId: null }] }]);
  });

  it('sells whole sheets, as few as serve', async () => {
    const quarter = {
      kind: 'sheet',
      id: 'fq',
      name: 'Fat quarter',
      alongMm: 500,
      acrossMm: 550,
      priceCents: 350,
    } as const;
    const { buy } = await ask(project([['panel', 480, 300, 3]]), [quarter]);
    expect(buy.baskets[0]).toMatchObject({ costCents: 1050, lines: [{ count: 3, lengthMm: 0 }] });
    const { buy: few } = await ask(project([['panel', 480, 300, 3]]), [{ ...quarter, left: 2 }]);
    expect(few.baskets).toEqual([]);
    expect(few.failed[0]!.names).toEqual(['Fat quarter']);
  });

  it('lays on lengths that are not joined one by one, and never across them', async () => {
    // 18 × 55 in pre-cuts of vinyl are "not continuous" (blackrabbitfabrics.ca): 1 m in two halves is no metre.
    const strap = project([['strap', 900, 100, 1]]);
    const { buy } = await ask(strap, [roll('a', 1000, 1000, { leftMm: [500, 500] }), roll('b', 1000, 3000)]);
    expect(buy.baskets.map(({ lines }) => lines[0]!.name)).toEqual(['b']);
    const panels = project([['panel', 450, 900, 2]]);
    const { buy: two } = await ask(panels, [roll('a', 1000, 1000, { leftMm: [500, 500], stepMm: 50 })]);
    expect(two.baskets[0]!.lines.map(({ lengthMm }) => lengthMm)).toEqual([450, 450]);
    expect(two.baskets[0]!.costCents).toBe(900);
  });

  it('finishes what one shop has left with another offer where that is cheaper', async () => {
    const cut = project([['panel', 450, 900, 3]]);
    const { buy } = await ask(cut, [roll('left', 1000, 500, { leftMm: [950] }), roll('dear', 1000, 2000)]);
    const [best, next] = buy.baskets;
    expect(best!.lines.map(({ name, lengthMm }) => [name, lengthMm])).toEqual([
      ['left', 900],
      ['dear', 500],
    ]);
    expect(best!.costCents).toBe(450 + 1000);
    expect(next!.costCents).toBeGreaterThan(best!.costCents);
  });

  it('sells the rest of a bolt that is shorter than a step', async () => {
    const { buy } = await ask(project([['panel', 950, 900, 1]]), [roll('a', 1000, 1000, { leftMm: [980] })]);
    expect(buy.baskets[0]!.lines[0]).toMatchObject({ lengthMm: 980, costCents: 980 });
  });

  it('refuses offers without a price, no offers, and nothing to cut, before any packing', async () => {
    const cut = project([['panel', 300, 400, 2]]);
    const codes = async (of: Project, offers: Offers) => {
      const { notices, packed, buy } = await ask(of, offers);
      expect([packed, buy.baskets]).toEqual([0, []]);
      return notices.map(({ code }) => code);
    };
    expect(await codes(cut, [roll('a', 1000, null), roll('b', 1000, 900)])).toEqual(['noPrice']);
    expect(await codes(cut, [])).toEqual(['noOffers']);
    expect(await codes(project([['panel', 300, 400, 0]]), [roll('a', 1000, 900)])).toEqual(['nothingToCut']);
    expect(await codes(cut, [roll('a', 40, 900, { selvedgeMm: 20 })])).toEqual(['noUsableCloth']);
    expect(await codes(cut, [roll('a', 1000, 900), roll('a', 900, 900)])).toEqual(['offerTwice']);
  });

  it('shows no basket in which something could be left at the shop', async () => {
    const cut = project([['panel', 450, 900, 3]]);
    const scrap = {
      kind: 'sheet',
      id: 'scrap',
      name: 'Scrap',
      alongMm: 500,
      acrossMm: 550,
      priceCents: 1,
    } as const;
    const { buy } = await ask(cut, [roll('a', 1000, 1000), scrap]);
    expect(buy.baskets.map(({ lines }) => lines.map(({ name }) => name))).toEqual([['a']]);
  });

  it('shows at most three runners-up, cheapest first', async () => {
    const offers = [5, 4, 3, 2, 1, 6].map((n) => roll(`o${n}`, 1000 + n, 1000 * n));
    const { buy } = await ask(project([['panel', 300, 400, 2]]), offers);
    expect(buy.baskets.map(({ lines }) => lines[0]!.name)).toEqual(['o1', 'o2', 'o3', 'o4']);
  });
});
