import type { ClothLay, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { isolate } from '../plan/text.ts';
import { planWords } from '../plan/words/index.ts';
import { formatLength, type ShownUnits } from '../units/index.ts';
import { pageSubtitle } from './pages.ts';
import type { PageTable } from './pageTable.ts';
import { chalkLength, type StretchPositions } from './positions.ts';
import { outputWords } from './words/index.ts';

interface ChalkTableOptions {
  readonly lay: ClothLay;
  readonly project: Project;
  readonly units: ShownUnits;
  readonly language?: Language;
}

/** Where the pieces of one stretch are chalked: for each the four points at which it touches its place. */
export function chalkTable(
  { from, squaringMm, pieces }: StretchPositions,
  title: string,
  { lay, project, units, language = USUAL_LANGUAGE }: ChalkTableOptions,
): PageTable {
  const { positions: words, along, across } = outputWords(language);
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const chalk = (mm: number) => chalkLength(mm, units, language);
  const measured = { box: words.ofRemnant, fold: words.fromFold, selvedge: words.fromSelvedge };
  /** @param isAlong which of the two lengths makes the point what it is */
  const point = (isAlong: boolean) => [
    { title: along, share: 13, align: 'end', strong: isAlong } as const,
    { title: across, share: 13, align: 'end', strong: !isAlong } as const,
  ];
  return {
    title,
    subtitle: pageSubtitle(project, units, language),
    notes: [
      measured[from],
      ...(squaringMm > 0 ? [words.squared(formatLength(squaringMm, units, language))] : []),
      words.how,
    ],
    groups: [
      { title: words.nearest[from === 'box' ? 'left' : 'cutEnd'], from: 3, to: 4 },
      { title: words.farthest, from: 5, to: 6 },
      { title: words.nearest[from], from: 7, to: 8 },
      { title: words.farthest, from: 9, to: 10 },
    ],
    columns: [
      { title: '', share: 8, strong: true },
      { title: words.piece, share: 27 },
      { title: words.hand, share: 17 },
      ...point(true),
      ...point(true),
      ...point(false),
      ...point(false),
    ],
    rows: pieces.map(({ tag, name, hand, near, far, low, high }) => [
      tag,
      isolate(name),
      planWords(language).hand(hand, cloth).short,
      ...[near, far, low, high].flatMap((at) => [chalk(at.along), chalk(at.across)]),
    ]),
  };
}
