import { TABLE_KEY } from './designerTable.ts';
import type { StepLog } from './stepLog.ts';

/**
 * Takes what this browser kept of the work out of it, after signing out: whoever sits down here next finds nothing. Work
 * that no server has is left, for it is nowhere else; the copies of what the server said go with the session's end.
 */
export async function leaveNothing(
  steps: StepLog | null,
  storage: () => Storage = () => localStorage,
): Promise<void> {
  await steps?.forgetAll().catch(() => {
    // A database that can't be opened shows nothing to others either.
  });
  try {
    const kept = storage();
    for (const key of Object.keys(kept)) if (key.startsWith(TABLE_KEY)) kept.removeItem(key);
  } catch {
    // As above.
  }
}
