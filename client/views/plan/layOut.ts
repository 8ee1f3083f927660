import { Store } from '../../state/store.ts';
import { useSession, useStore } from '../shared/hooks.ts';

/** How long to look for better layouts, for each cloth and spread. */
const EFFORT_SECONDS = { short: 3, usual: 10, long: 60, longest: 300 } as const;
export type Effort = keyof typeof EFFORT_SECONDS;
export const EFFORTS: readonly Effort[] = ['short', 'usual', 'long', 'longest'];

/** Kept while the maker goes to other steps. */
export const effortChosen = new Store<Effort>('usual');
/** Each asking anew begins elsewhere, so that another try may find something better. */
let seed = 1;

/** Starts a lay of some materials with the effort chosen. */
export function useLayOut(): (materialIds: readonly string[]) => void {
  const session = useSession();
  const effort = useStore(effortChosen);
  return (materialIds) => {
    if (materialIds.length === 0) return;
    session.attempt(() =>
      session.lay.start(session.project, session.projectId, materialIds, EFFORT_SECONDS[effort], seed++),
    );
  };
}
