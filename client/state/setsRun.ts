import type { LayChoice, Project } from '../../pattern/exchange/project.ts';
import type { SetsVary } from '../../pattern/exchange/setsQuestion.ts';
import { QuestionRun, type QuestionState } from './questionRun.ts';

/** What was asked, so that the answer can be shown and taken over whatever was changed meanwhile. */
export interface SetsAsked {
  readonly project: Project;
  readonly materialId: string;
  readonly vary: SetsVary | null;
}

export type SetsRunState = QuestionState<SetsAsked>;

/** Time for each number of sets that is tried, in seconds; a try ends as soon as everything has its place. */
const SECONDS_A_TRY = 6;

/** Asks the server how many sets a cloth gives. */
export class SetsRun extends QuestionRun<SetsAsked> {
  ask(asked: SetsAsked, choice: LayChoice, seed: number): Promise<void> {
    return this.put(asked, {
      project: { ...asked.project, plans: [] },
      choices: [choice],
      seconds: SECONDS_A_TRY,
      seed,
      question: { kind: 'sets', vary: asked.vary },
    });
  }
}
