import type { StepName } from '../state/route.ts';
import { type LazyView, lazyView } from './shared/lazyView.tsx';

/** The steps of the work: each is a file of its own, so that the first one shown need not wait for the others. */
export const STEP_VIEWS: Readonly<Record<StepName, LazyView<object>>> = {
  pieces: lazyView(async () => (await import('./pieces/PiecesStep.tsx')).PiecesStep),
  cutlist: lazyView(async () => (await import('./cutlist/CutListStep.tsx')).CutListStep),
  cloths: lazyView(async () => (await import('./cloths/ClothsStep.tsx')).ClothsStep),
  plan: lazyView(async () => (await import('./plan/PlanStep.tsx')).PlanStep),
  cut: lazyView(async () => (await import('./cutting/CuttingStep.tsx')).CuttingStep),
};
