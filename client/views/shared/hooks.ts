import { createContext } from 'preact';
import { useContext, useEffect, useLayoutEffect, useState } from 'preact/hooks';
import type { Project } from '../../../pattern/exchange/project.ts';
import type { Spot } from '../../state/cures.ts';
import type { Door } from '../../state/door.ts';
import type { Route, StepName } from '../../state/route.ts';
import { writeRoute } from '../../state/route.ts';
import type { Session } from '../../state/session.ts';
import type { Store } from '../../state/store.ts';

export interface Bench {
  readonly session: Session;
  readonly route: Store<Route>;
  readonly door: Door;
}

const BenchContext = createContext<Bench | null>(null);
export const BenchProvider = BenchContext.Provider;

export function useBench(): Bench {
  const bench = useContext(BenchContext);
  if (!bench) throw new Error('useBench: no bench above this view');
  return bench;
}

export function useSession(): Session {
  return useBench().session;
}

/** The value of a store, redrawn whenever it changes. */
export function useStore<T>(store: Store<T>): T {
  const [, redraw] = useState(0);
  const drawn = store.value;
  useLayoutEffect(() => {
    const stop = store.watch(() => redraw((count) => count + 1));
    // It may have changed between the first drawing and the start of watching.
    if (store.value !== drawn) redraw((count) => count + 1);
    return stop;
  }, [store]);
  return drawn;
}

export function useProject(): Project {
  return useStore(useSession().history).present;
}

/** Goes to a step, or to one piece or cloth in it; the browser's back button returns. */
export function useGo(): (step: StepName, open?: string | null, at?: Spot) => void {
  const { route } = useBench();
  return (step, open = null, at) => {
    location.hash = writeRoute({ projectId: route.value.projectId, step, open, at: at ?? null });
  };
}

/** Address of a step for a link; of a place on it, where that is told. */
export function useAddress(): (step: StepName, open?: string | null, at?: Spot) => string {
  const route = useStore(useBench().route);
  return (step, open = null, at) => writeRoute({ projectId: route.projectId, step, open, at: at ?? null });
}

/** Whether the window matches a media query, redrawn when that changes. */
function useMedia(query: string): boolean {
  const [matches, setMatches] = useState(() => matchMedia(query).matches);
  useEffect(() => {
    const list = matchMedia(query);
    const look = (): void => setMatches(list.matches);
    look();
    list.addEventListener('change', look);
    return () => list.removeEventListener('change', look);
  }, [query]);
  return matches;
}

/** Wide enough for tables and two columns. */
export function useWide(): boolean {
  return useMedia('(min-width: 46rem)');
}
