import type { ClothLay, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { drawLay } from '../plan/index.ts';
import { cleanText, isolate } from '../plan/text.ts';
import { planWords } from '../plan/words/index.ts';
import type { ShownUnits } from '../units/index.ts';
import { chalkTable } from './chalkTable.ts';
import { orderSheets } from './cutting/orderSheets.ts';
import { layPositions } from './positions.ts';
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
    const positions =
      stretch && chalkTable(stretch, words.positions.title(name), { lay, project, ...options });
    return [{ drawing, bookmark: name }, ...orderSheets(lay, project, i, options, positions)];
  });
  return [...parts, ...printSheets(lay, project, options)];
}

/** The cloth's name with how it is spread, as a title. */
export function clothName(lay: ClothLay, project: Project, language: Language = USUAL_LANGUAGE): string {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const name = isolate(cleanText(cloth?.name ?? lay.clothId));
  return cloth?.kind === 'remnant' ? name : `${name}, ${planWords(language).spreadTitles[lay.spread]}`;
}
