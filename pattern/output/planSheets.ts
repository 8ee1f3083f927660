import type { ClothLay, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { type Drawing, drawLay } from '../plan/index.ts';
import { cleanText, isolate } from '../plan/text.ts';
import { planWords } from '../plan/words/index.ts';
import { formatLength, type ShownUnits } from '../units/index.ts';
import { orderSheets } from './cutting/orderSheets.ts';
import { pageSubtitle } from './pages.ts';
import { drawTable } from './pageTable.ts';
import { chalkLength, layPositions, type StretchPositions } from './positions.ts';
import { printSheets } from './printSheets.ts';
import type { Sheet } from './sheet.ts';
import { outputWords } from './words/index.ts';

export interface PlanSheetOptions {
  readonly page: 'a4' | 'letter';
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
}

/**
 * What one cloth is cut from: a plan for each way in which it is spread, and after each the order of cutting and the
 * positions to chalk; last, where there is a picture of its repeat, how the print will look on the pieces. A cloth
 * without a piece on it gives its plan alone, which says why.
 */
export function planSheets(lay: ClothLay, project: Project, options: PlanSheetOptions): Sheet[] {
  const { language = USUAL_LANGUAGE } = options;
  const words = outputWords(language);
  const several = lay.segments.length > 1;
  const stretches = layPositions(lay, project);
  const plans = several
    ? lay.segments.map((_, segment) => drawLay(lay, project, { ...options, segment }))
    : [drawLay(lay, project, options)];
  const parts = plans.flatMap((drawing, i): Sheet[] => {
    const whole = clothName(lay, project, language);
    const name = several ? words.part(whole, i + 1) : whole;
    const stretch = stretches[i];
    const tables =
      stretch && stretch.pieces.length > 0
        ? drawPositions(stretch, words.positions.title(name), lay, project, options)
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
export function clothName(lay: ClothLay, project: Project, language: Language = USUAL_LANGUAGE): string {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const name = isolate(cleanText(cloth?.name ?? lay.clothId));
  return cloth?.kind === 'remnant' ? name : `${name}, ${planWords(language).spreadTitles[lay.spread]}`;
}

/** Table of the positions of one stretch, as many pages as it takes. */
export function drawPositions(
  stretch: StretchPositions,
  title: string,
  lay: ClothLay,
  project: Project,
  { page, units, language = USUAL_LANGUAGE }: PlanSheetOptions,
): Drawing[] {
  const words = outputWords(language).positions;
  const { along, across } = outputWords(language);
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const fromWords = { box: words.ofRemnant, fold: words.fromFold, selvedge: words.fromSelvedge };
  const notes = [
    fromWords[stretch.from],
    ...(stretch.squaringMm > 0 ? [words.squared(formatLength(stretch.squaringMm, units, language))] : []),
    words.how,
  ];
  const chalk = (mm: number) => chalkLength(mm, units, language);
  return drawTable(
    {
      title,
      subtitle: pageSubtitle(project, units, language),
      notes,
      groups: [
        { title: words.nearest[stretch.from === 'box' ? 'left' : 'cutEnd'], from: 3, to: 4 },
        { title: words.farthest, from: 5, to: 6 },
        { title: words.nearest[stretch.from], from: 7, to: 8 },
        { title: words.farthest, from: 9, to: 10 },
      ],
      columns: [
        { title: '', share: 8, strong: true },
        { title: words.piece, share: 30 },
        { title: words.hand, share: 14 },
        ...[0, 1].flatMap(() => [
          { title: along, share: 13, align: 'end', strong: true } as const,
          { title: across, share: 13, align: 'end' } as const,
        ]),
        ...[0, 1].flatMap(() => [
          { title: along, share: 13, align: 'end' } as const,
          { title: across, share: 13, align: 'end', strong: true } as const,
        ]),
      ],
      rows: stretch.pieces.map(({ tag, name, hand, near, far, low, high }) => [
        tag,
        isolate(name),
        planWords(language).hand(hand, cloth).short,
        ...[near, far, low, high].flatMap((point) => [chalk(point.along), chalk(point.across)]),
      ]),
    },
    page,
    language,
  );
}
