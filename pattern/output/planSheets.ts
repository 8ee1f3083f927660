import type { ClothLay, Project } from '../exchange/project.ts';
import { type Drawing, drawLay } from '../plan/index.ts';
import { cleanText, isolate } from '../plan/text.ts';
import { handWords, SPREAD_TITLES } from '../plan/words.ts';
import { formatLength, type ShownUnits } from '../units/index.ts';
import { orderSheets } from './cutting/orderSheets.ts';
import { drawTable } from './pageTable.ts';
import { chalkLength, layPositions, type StretchPositions } from './positions.ts';
import { printSheets } from './printSheets.ts';
import type { Sheet } from './sheet.ts';

export interface PlanSheetOptions {
  readonly page: 'a4' | 'letter';
  readonly units: ShownUnits;
}

/**
 * What one cloth is cut from: a plan for each way in which it is spread, and after each the order of cutting and the
 * positions to chalk; last, where there is a picture of its repeat, how the print will look on the pieces. A cloth
 * without a piece on it gives its plan alone, which says why.
 */
export function planSheets(lay: ClothLay, project: Project, options: PlanSheetOptions): Sheet[] {
  const several = lay.segments.length > 1;
  const stretches = layPositions(lay, project);
  const plans = several
    ? lay.segments.map((_, segment) => drawLay(lay, project, { ...options, segment }))
    : [drawLay(lay, project, options)];
  const parts = plans.flatMap((drawing, i): Sheet[] => {
    const name = clothName(lay, project) + (several ? `, part ${i + 1}` : '');
    const stretch = stretches[i];
    const tables =
      stretch && stretch.pieces.length > 0
        ? drawPositions(stretch, `${name}: positions`, lay, project, options)
        : [];
    return [
      { drawing, bookmark: name },
      ...orderSheets(lay, project, i, options),
      ...tables.map(
        (table, n): Sheet => (n === 0 ? { drawing: table, bookmark: table.title } : { drawing: table }),
      ),
    ];
  });
  return [...parts, ...printSheets(lay, project, options)];
}

/** The cloth's name with how it is spread, as a title. */
export function clothName(lay: ClothLay, project: Project): string {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const name = isolate(cleanText(cloth?.name ?? lay.clothId));
  return cloth?.kind === 'remnant' ? name : `${name}, ${SPREAD_TITLES[lay.spread]}`;
}

const FROM_WORDS = { selvedge: 'the selvedge', fold: 'the fold', box: 'the lower edge' } as const;

/** Table of the positions of one stretch, as many pages as it takes. */
export function drawPositions(
  stretch: StretchPositions,
  title: string,
  lay: ClothLay,
  project: Project,
  { page, units }: PlanSheetOptions,
): Drawing[] {
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const from = FROM_WORDS[stretch.from];
  const end = stretch.from === 'box' ? 'the left edge' : 'the cut end';
  const notes = [
    stretch.from === 'box'
      ? 'Measured from two lines at right angles that just touch the remnant at its left and lower edge, as the rulers of the plan.'
      : `Along is measured from the cut end, across from ${from === 'the fold' ? from : 'the selvedge at the lower edge of the plan'}, as by the rulers of the plan.`,
    ...(stretch.squaringMm > 0
      ? [
          `Along begins at the cut end before it is squared. Measured from the squared end, every length along is ${formatLength(stretch.squaringMm, units)} less.`,
        ]
      : []),
    'Each piece touches its place at four points. Chalk two of them, lay the piece on, check with a third.',
  ];
  const chalk = (mm: number) => chalkLength(mm, units);
  return drawTable(
    {
      title,
      subtitle: `${isolate(cleanText(project.name))} · ${units === 'in' ? 'inches, to 1/16' : `${units}, to 1 mm`}`,
      notes,
      groups: [
        { title: `Nearest ${end}`, from: 3, to: 4 },
        { title: `Farthest from it`, from: 5, to: 6 },
        { title: `Nearest ${from}`, from: 7, to: 8 },
        { title: `Farthest from it`, from: 9, to: 10 },
      ],
      columns: [
        { title: '', share: 8, strong: true },
        { title: 'Piece', share: 30 },
        { title: 'Hand', share: 14 },
        ...[0, 1].flatMap(() => [
          { title: 'along', share: 13, align: 'end', strong: true } as const,
          { title: 'across', share: 13, align: 'end' } as const,
        ]),
        ...[0, 1].flatMap(() => [
          { title: 'along', share: 13, align: 'end' } as const,
          { title: 'across', share: 13, align: 'end', strong: true } as const,
        ]),
      ],
      rows: stretch.pieces.map(({ tag, name, hand, near, far, low, high }) => [
        tag,
        isolate(name),
        handWords(hand, cloth).short,
        ...[near, far, low, high].flatMap((point) => [chalk(point.along), chalk(point.across)]),
      ]),
    },
    page,
  );
}
