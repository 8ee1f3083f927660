import type { LayChoice, Project } from '../../pattern/exchange/project.ts';
import type { Offer } from '../../pattern/exchange/whatToBuy.ts';
import { QuestionRun } from './questionRun.ts';

/** What was asked, so that baskets can be drawn and taken over. */
export interface BuyAsked {
  readonly project: Project;
  readonly materialId: string;
}

/** Time for each way to buy, in seconds. */
const SECONDS_A_WAY = 2;

/** Asks the server for the cheapest way to buy the cloth of a material. */
export class BuyRun extends QuestionRun<BuyAsked> {
  ask(asked: BuyAsked, choice: LayChoice, offers: readonly Offer[]): Promise<void> {
    const { project, materialId } = asked;
    return this.put(asked, {
      project: { ...project, plans: [] },
      choices: [choice],
      seconds: SECONDS_A_WAY,
      question: { kind: 'buy', materialId, offers },
    });
  }
}
