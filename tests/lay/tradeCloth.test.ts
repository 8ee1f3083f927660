/**
 * Figures that the trade publishes about cloth, held against lays. A published figure is a check, not an oracle: where
 * one is known to be wrong, it is shown wrong here.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { reserveOf } from '../../pattern/cloths/measures.ts';
import { PRESETS } from '../../pattern/cloths/presets.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { clothSchema, pieceSchema } from '../../pattern/exchange/project.ts';
import { clothFaults } from '../../pattern/lay/clothFaults.ts';
import { demandsFor } from '../../pattern/lay/demands.ts';
import { splitOver } from '../../pattern/pieces/splitOver.ts';
import { box, INCH, layOf, smallProject } from '../support/layOf.ts';

const YARD = 914.4;
const roll = (widthMm: number, over: object = {}): object => ({
  kind: 'roll',
  widthMm,
  shopStepMm: 1,
  ...over,
});

async function laid(project: ReturnType<typeof smallProject>) {
  const { results, notices } = await layOf(project, { maxSteps: 60 });
  return { lay: results[0]!, notices };
}

describe('shrinkage, before layout', () => {
  // Arithmetic on https://designandmake.net/glossary/shrinkage/: buy = need ÷ (1 − s), not need × (1 + s).
  it.each([
    [3, 5, 3.158],
    [4, 10, 4.444],
  ])('%d yd at %d %% is %d yd to buy', async (yards, percent, expected) => {
    const { lay } = await laid(
      smallProject({
        cloth: roll(1000, { shrinkAlongPercent: percent }),
        pieces: [{ name: 'p', outline: box(900, yards * YARD), plain: 1 }],
      }),
    );
    expect(lay.usedMm / YARD).toBeCloseTo(expected, 3);
    expect(lay.washedMm! / YARD).toBeCloseTo(yards, 6);
    expect(lay.usedMm / YARD).not.toBeCloseTo(yards * (1 + percent / 100), 3);
  });

  // 60 in cloth came out of one wash 56¼ in wide (6.25 %): https://peschelpress.com/cutting-large-pieces-of-fabric
  it('three pieces of 19 in lie abreast on 60 in before washing, not after', async () => {
    const used = async (shrinkAcrossPercent: number): Promise<number> => {
      const { lay } = await laid(
        smallProject({
          cloth: roll(60 * INCH, { shrinkAcrossPercent }),
          pieces: [{ name: 'p', outline: box(19 * INCH, 10 * INCH), plain: 3 }],
        }),
      );
      return lay.usedMm / INCH;
    };
    expect(await used(0)).toBeCloseTo(10, 3);
    expect(await used(6.25)).toBeCloseTo(20, 3);
  });

  it('a shrinkage of 100 % is refused with a word on what to do', () => {
    const read = clothSchema.safeParse({
      kind: 'roll',
      id: 'c',
      name: 'c',
      materialId: 'm',
      widthMm: 1000,
      shrinkAlongPercent: 100,
    });
    expect(read.success).toBe(false);
    expect(read.error!.issues[0]!.message).toMatch(/wash it first/);
  });
});

describe('a reserve', () => {
  const bought = async (over: object) => {
    const pieces = [{ name: 'p', outline: box(900, 1000), plain: 1 }];
    return (await laid(smallProject({ cloth: roll(1000, over), pieces }))).lay;
  };

  it('is bought beyond the need, a share and a length together, and rounded up with it', async () => {
    // 1000 mm for the piece and 20 for squaring need 1020; a tenth and 50 more are 1172, in steps of 100.
    const lay = await bought({ squaringMm: 20, reservePercent: 10, reserveMm: 50, shopStepMm: 100 });
    expect(lay.usedMm).toBeCloseTo(1020, 6);
    expect(lay.buyMm).toBe(1200);
    expect((await bought({ squaringMm: 20, shopStepMm: 100 })).buyMm).toBe(1100);
  });

  it('is as much as there is, where the shop has too little left, and no reason to refuse', async () => {
    const lay = await bought({ reservePercent: 50, availableMm: 1200 });
    expect(lay.verdict).toBe('fits');
    expect(lay.buyMm).toBe(1200);
  });

  it('property: never less than the need, never more than need, reserve and one step', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1e5, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 5000, noNaN: true }),
        fc.option(fc.double({ min: 1, max: 2e5, noNaN: true })),
        (needed, reservePercent, reserveMm, availableMm) => {
          const reserve = reserveOf({ reservePercent, reserveMm, availableMm }, needed);
          expect(reserve).toBeGreaterThanOrEqual(0);
          expect(reserve).toBeLessThanOrEqual((needed * reservePercent) / 100 + reserveMm);
          if (availableMm !== null && reserve > 0)
            expect(needed + reserve).toBeLessThanOrEqual(availableMm + 1e-6);
          expect(reserveOf({ reservePercent, reserveMm, availableMm }, 0)).toBe(0);
        },
      ),
    );
  });
});

describe('width is not length', () => {
  // Going from 45 in to 90 in is not simply half: https://info.fabrics.net/i-need-less-fabric/ (figures: arithmetic).
  it('three pieces of 40 × 30 in need 90 in of 45 in cloth and 60 of 90 in cloth, not 45', async () => {
    const used = async (width: number): Promise<number> => {
      const { lay } = await laid(
        smallProject({
          cloth: roll(width * INCH),
          pieces: [{ name: 'p', outline: box(40 * INCH, 30 * INCH), plain: 3 }],
        }),
      );
      return lay.usedMm / INCH;
    };
    expect(await used(45)).toBeCloseTo(90, 3);
    expect(await used(90)).toBeCloseTo(60, 3);
  });

  // 43 in usable of 44, ½ in lost in squaring reproduce a published table of squares from a yard:
  // https://www.sylviasquiltdepot.com/yardage---for-cutting-squares.htm
  it.each([
    [4, 80],
    [5, 56],
    [6, 35],
  ])('squares of %d in: %d from a yard of 44 in cloth that is squared first', async (size, count) => {
    const fits = async (plain: number): Promise<boolean> => {
      const { lay } = await laid(
        smallProject({
          cloth: roll(44 * INCH, {
            usableWidthMm: 43 * INCH,
            squaringMm: 0.5 * INCH,
            availableMm: 36 * INCH,
          }),
          pieces: [{ name: 'sq', outline: box(size * INCH, size * INCH), plain }],
        }),
      );
      return lay.verdict === 'fits';
    };
    expect(await fits(count)).toBe(true);
    // A single square more begins another row of cloth that is not there.
    expect(await fits(count + 1)).toBe(false);
  });

  it('squaring at both ends and the margin come off the length', async () => {
    const { lay } = await laid(
      smallProject({
        cloth: roll(1000, { squaringMm: 15, squaringEndMm: 25, edgeMarginMm: 5 }),
        pieces: [{ name: 'p', outline: box(900, 500), plain: 1 }],
      }),
    );
    expect(lay.usedMm).toBeCloseTo(550, 6);
  });
});

describe('bias', () => {
  /** A strip from selvedge to selvedge at 45°, its ends along them; both slants, of which one suits a hand. */
  const strips = (plain: number, lie: 'biasLeft' | 'biasRight', slant: 1 | -1) =>
    smallProject({
      cloth: roll(31 * INCH + 1e-3, { availableMm: 51 * INCH, foldable: false }),
      pieces: [
        {
          name: 'strip',
          outline: [
            [0, 0],
            [31 * Math.SQRT2 * INCH, 0],
            [(31 * Math.SQRT2 + slant * 2.5) * INCH, 2.5 * INCH],
            [slant * 2.5 * INCH, 2.5 * INCH],
          ],
          plain,
          piece: { grainDeg: 0, topDeg: 0, lie },
        },
      ],
    });

  // A bias strip takes its width ÷ cos 45° of selvedge. For 20 in of selvedge on cloth 31 in wide a tutorial counts 8
  // strips of 2½ in and 352 in of binding (https://www.quiltingboard.com/8276918-post1.html), which divides by the width
  // itself: 5 strips of 43.8 in begin there, 219 in.
  it('five full-length strips of 2½ in begin on 20 in of selvedge, not the published eight', async () => {
    const five = await laid(strips(5, 'biasRight', 1));
    expect(five.lay.verdict).toBe('fits');
    // The first reaches 31 in along, the others begin 2½ in ÷ cos 45° further on each.
    expect(five.lay.usedMm / INCH).toBeCloseTo(31 + 5 * 2.5 * Math.SQRT2, 2);
    for (const { grainDeg } of five.lay.segments[0]!.placed) expect([135, 315]).toContain(grainDeg);
    for (const count of [6, 8])
      expect((await laid(strips(count, 'biasRight', 1))).lay.verdict).not.toBe('fits');
  });

  it('to the left the same strip, slanted the other way', async () => {
    const five = await laid(strips(5, 'biasLeft', -1));
    expect(five.lay.verdict).toBe('fits');
    for (const { grainDeg } of five.lay.segments[0]!.placed) expect([45, 225]).toContain(grainDeg);
  });
});

describe('pre-cut cloth', () => {
  // A fat quarter of a yard is named 18 × 22 in; 16 squares of 4½ in come from it, and from 18 × 20 in, but 12 from
  // 17.9 in (arithmetic on https://bloomeriefabrics.com/en-au/pages/a-practical-guide-to-pre-cut-fabric-sizes).
  it.each([
    [18, 22, 16],
    [18, 20, 16],
    [17.9, 20, 12],
  ])('a fat quarter of %d × %d in gives %d squares of 4½ in', async (along, across, count) => {
    const fits = async (plain: number): Promise<string> => {
      const { lay } = await laid(
        smallProject({
          cloth: { kind: 'remnant', outline: box(along * INCH, across * INCH) },
          pieces: [{ name: 'sq', outline: box(4.5 * INCH, 4.5 * INCH), plain }],
        }),
      );
      return lay.verdict;
    };
    expect(await fits(count)).toBe('fits');
    expect(await fits(count + 1)).not.toBe('fits');
  });

  // Ten-inch squares whose pinked edges can't be counted on give three strips of 2½ in instead of four, so 32 strips
  // need 11 squares instead of 8: http://delawarequilts.blogspot.com/2013/04/buyers-beware.html
  it('32 strips need 8 ten-inch squares at four each, 11 at three each', async () => {
    const sheets = async (quantity: number, edgeMarginMm: number): Promise<string> => {
      const { lay } = await laid(
        smallProject({
          cloth: {
            kind: 'remnant',
            outline: box(10 * INCH, 10 * INCH),
            quantity,
            edgeMarginMm,
            turn: 'quarter',
          },
          pieces: [{ name: 'strip', outline: box(9.5 * INCH, 2.5 * INCH), plain: 32 }],
        }),
      );
      return lay.verdict;
    };
    expect(await sheets(8, 0)).toBe('fits');
    expect(await sheets(10, 3)).not.toBe('fits');
    expect(await sheets(11, 3)).toBe('fits');
  });

  it('several sheets alike are segments of one lay, each piece whole on one of them', async () => {
    const { lay } = await laid(
      smallProject({
        cloth: { kind: 'remnant', outline: box(457, 1397), quantity: 3 },
        pieces: [{ name: 'p', outline: box(600, 400), plain: 5 }],
      }),
    );
    expect(lay.segments.map(({ placed }) => placed.length)).toEqual([2, 2, 1]);
    expect(lay.segments.flatMap(({ placed }) => placed.map(({ copy }) => copy)).sort()).toEqual([
      1, 2, 3, 4, 5,
    ]);
  });
});

describe('cloth marked from the back', () => {
  // An asymmetric flap traced on the back unflipped ends with its notch on the other side:
  // https://kayapapayadesign.com/blogs/news/tips-for-working-with-vinyl-and-faux-leather
  it('keeps the hands of the cut list: the plan is mirrored when it is drawn, not the pieces', async () => {
    const flap = [
      [0, 0],
      [200, 0],
      [200, 120],
      [60, 120],
      [0, 60],
    ] as const;
    const { lay, notices } = await laid(
      smallProject({
        cloth: roll(500, { cutFromBack: true, foldable: false, turn: 'quarter' }),
        pieces: [{ name: 'flap', outline: flap, plain: 2 }],
      }),
    );
    expect(notices).toEqual([]);
    for (const { mirrored, hand } of lay.segments[0]!.placed)
      expect([mirrored, hand]).toEqual([false, 'plain']);
  });
});

describe('a one-piece body on a one-way print', () => {
  // Two halves of T + B/2 + seam each instead of 2 T + B: the print stands upright on both sides (the tote body formula
  // length = 2 T + B + seams of http://patchworkpie.blogspot.com/2008/02/tote-bags-hidden-in-plain-site.html).
  it('is told, and split into two pieces with one more allowance each', () => {
    const [tall, bottom, seam] = [380, 120, 10];
    const body = pieceSchema.parse({
      id: 'body',
      name: 'Body',
      outline: box(300, 2 * tall + bottom),
      turnsOver: true,
    });
    const split = splitOver(body, seam)!;
    expect(split.perPiece).toBe(2);
    const ys = split.halves[0]!.outline.map(([, y]) => y);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(tall + bottom / 2 + seam, 6);

    const project = smallProject({
      cloth: roll(1400, { printUp: 'away' }),
      pieces: [{ name: 'body', outline: box(300, 880), plain: 1, piece: { turnsOver: true } }],
    });
    const [cloth] = project.cloths;
    const faults = clothFaults(cloth!, demandsFor(project, 'cloth').demands, 'cm');
    expect(faults.map(({ code, pieceId }) => [code, pieceId])).toEqual([['upsideDownBack', 'body']]);
  });

  it('two unlike halves become two pieces, each with its top up', () => {
    const body = pieceSchema.parse({
      id: 'body',
      name: 'Body',
      // Narrower at the back's rim.
      outline: [
        [20, 0],
        [280, 0],
        [300, 400],
        [300, 800],
        [0, 800],
        [0, 400],
      ],
    });
    const split = splitOver(body, 10)!;
    expect(split.perPiece).toBe(1);
    for (const { outline } of split.halves) {
      const ys = outline.map(([, y]) => y);
      expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(410, 6);
    }
    const tops = split.halves.map(({ outline }) => {
      const top = Math.max(...outline.map(([, y]) => y));
      const xs = outline.filter(([, y]) => y > top - 1e-6).map(([x]) => x);
      return Math.max(...xs) - Math.min(...xs);
    });
    expect(tops).toEqual([300, 260]);
  });
});

describe('a strap on a one-way print', () => {
  // A strap of 20 × 6 in becomes two halves of 6 × 19 in, half the length and 1½ widths for a slanted join:
  // https://www.andriedesigns.com/create-a-strap-with-directional-fabric/
  it('is split into two halves, published: L/2 + 1½ w each', () => {
    const strap = pieceSchema.parse({
      id: 'strap',
      name: 'Strap',
      outline: box(6 * INCH, 20 * INCH),
      turnsOver: true,
      turnsAt: 'top',
    });
    const split = splitOver(strap, 1.5 * 6 * INCH)!;
    expect(split.perPiece).toBe(2);
    const [xs, ys] = [0, 1].map((axis) => split.halves[0]!.outline.map((point) => point[axis]!));
    expect((Math.max(...ys!) - Math.min(...ys!)) / INCH).toBeCloseTo(19, 6);
    expect((Math.max(...xs!) - Math.min(...xs!)) / INCH).toBeCloseTo(6, 6);
  });

  it('has the tops of its halves at the new seam, those of a body away from it', () => {
    // Pointed at both ends: the point is the end that is not sewn.
    const outline = [
      [0, 50],
      [20, 0],
      [40, 50],
      [40, 550],
      [20, 600],
      [0, 550],
    ];
    for (const turnsAt of ['bottom', 'top'] as const) {
      const piece = pieceSchema.parse({ id: 's', name: 'S', outline, turnsOver: true, turnsAt });
      const [half] = splitOver(piece, 10)!.halves;
      // Upright, its top above.
      const ys = half!.outline.map(([, y]) => y);
      const end = half!.outline.find(([x]) => Math.abs(x) % 40 === 20)!;
      expect(end[1]).toBeCloseTo(turnsAt === 'top' ? Math.min(...ys) : Math.max(...ys), 6);
    }
  });

  it('is told to split, at the top; one by formula is told that it may matter', () => {
    const faultsOf = (piece: object) => {
      const project = smallProject({
        cloth: roll(1400, { printUp: 'away' }),
        pieces: [{ name: 'strap', outline: box(60, 880), plain: 1, piece }],
      });
      return clothFaults(project.cloths[0]!, demandsFor(project, 'cloth').demands, 'cm');
    };
    const [told] = faultsOf({ turnsOver: true, turnsAt: 'top' });
    expect(told).toMatchObject({ code: 'upsideDownBack', pieceId: 'strap' });
    expect(told!.text).toContain('top');
    const source = { kind: 'shape', shape: 'strap', measures: { width: 15, length: 860, seam: 10 } };
    expect(faultsOf({ source })).toMatchObject([{ level: 'info', code: 'strapTurns' }]);
  });
});

describe('up and down', () => {
  const triangle = [
    [0, 0],
    [10 * INCH, 0],
    [0, 20 * INCH],
  ] as const;
  const bags = (nap: string, times: number) => ({
    ...smallProject({
      cloth: roll(10 * INCH, { nap, foldable: false }),
      pieces: [{ name: 'tri', outline: triangle, plain: 1 }],
    }),
    sets: [{ id: 's', name: 'bag', times, alongPercent: 100, acrossPercent: 100 }],
  });

  // The marker mode "nap up and down" of apparel textbooks: each set consistent, sets may run opposite ways.
  it('two bags may point opposite ways where one-way nap may not', async () => {
    const used = async (nap: string): Promise<number> => {
      const { results } = await layOf(bags(nap, 2) as never, { maxSteps: 60 });
      expect(results[0]!.verdict).toBe('fits');
      return results[0]!.usedMm / INCH;
    };
    expect(await used('oneWay')).toBeCloseTo(40, 3);
    expect(await used('upAndDown')).toBeCloseTo(20, 3);
  });
});

describe('stretch alike', () => {
  it('all grain lines lie one way, whichever takes less', async () => {
    // Two strips 100 × 600 mm on cloth 650 mm wide: across they take 200 mm of length, along 600.
    const { lay } = await laid(
      smallProject({
        cloth: roll(650, { turn: 'quarter', stretchAlike: true, foldable: false }),
        pieces: [
          { name: 'a', outline: box(100, 600), plain: 2 },
          { name: 'b', outline: box(90, 300), plain: 1 },
        ],
      }),
    );
    const lines = lay.segments[0]!.placed.map(({ grainDeg }) => grainDeg % 180);
    expect(new Set(lines)).toEqual(new Set([90]));
    expect(lay.arrangement!.turn).toBe('cross');
    expect(lay.usedMm).toBeLessThan(300);
  });
});

describe('presets', () => {
  it('each makes a cloth that can be laid without a fault', () => {
    for (const { id, rules, roll: rollPart, sheet, source } of PRESETS) {
      const cloth = clothSchema.parse({
        id,
        name: id,
        materialId: 'm',
        ...rules,
        ...(sheet ? { kind: 'remnant', ...sheet } : { kind: 'roll', ...rollPart }),
      });
      expect(clothFaults(cloth, [], 'cm').filter(({ level }) => level === 'error')).toEqual([]);
      if (source) expect(source.address).toMatch(/^https?:\/\//);
    }
  });

  // Half a hide of 25 sq ft, from 50 told for a cow: https://www.keleenleathers.com/how-to-buy-leather/
  it('half a hide has the area it is sold by', () => {
    const hide = PRESETS.find(({ id }) => id === 'leather')!.sheet!.outline;
    const twice = hide.reduce((sum, [x, y], i) => {
      const [u, v] = hide[(i + 1) % hide.length]!;
      return sum + x * v - u * y;
    }, 0);
    expect(twice / 2 / (304.8 * 304.8)).toBeCloseTo(25, 1);
  });
});

describe('settings that cannot be', () => {
  const codes = async (over: object): Promise<string[]> => {
    const { notices } = await layOf(
      smallProject({ cloth: roll(1000, over), pieces: [{ name: 'p', outline: box(100, 100), plain: 1 }] }),
    );
    return notices.map(({ code }) => code);
  };

  it.each([
    ['a usable width beyond the whole', { usableWidthMm: 1100 }, 'usableTooWide'],
    ['a flaw beside the cloth', { flaws: [box(10, 10).map(([x, y]) => [x, y + 2000])] }, 'flawOutside'],
    ['a faded line beside the cloth', { fadedLines: [{ fromMm: 1200, toMm: 1210 }] }, 'flawOutside'],
    ['a repeat wider than the cloth', { repeat: { alongMm: 10, acrossMm: 1200 } }, 'repeatTooLarge'],
    ['nap up and down for one set', { nap: 'upAndDown' }, 'oneSet'],
  ])('%s is told before packing', async (_, over, code) => {
    expect(await codes(over)).toContain(code);
  });

  it('a choice of spread that the file does not know is refused at the door', () => {
    const { success } = layRequestSchema.safeParse({
      project: smallProject({ cloth: roll(100), pieces: [] }),
      choices: [{ materialId: 'cloth', spread: 'rolled' }],
    });
    expect(success).toBe(false);
  });
});
