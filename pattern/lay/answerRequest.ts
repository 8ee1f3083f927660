import type { Solve, StopSignal } from '../../nesting/index.ts';
import type { LayRequest } from '../exchange/lay.ts';
import { layProject } from './layProject.ts';
import type { LayProgress } from './runLay.ts';
import { howManySets } from './sets/howManySets.ts';
import { whatToBuy } from './shop/whatToBuy.ts';

/** Does what a request asks for: lays the project, or finds something out by laying it. */
export function answerRequest(
  request: LayRequest,
  solve: Solve,
  report: (progress: LayProgress) => void,
  signal: StopSignal,
): Promise<LayProgress> {
  const { question } = request;
  switch (question?.kind) {
    case 'sets':
      return howManySets(request, question, solve, report, signal);
    case 'buy':
      return whatToBuy(request, question, solve, report, signal);
    case undefined:
      return layProject(request, solve, report, signal);
  }
}
