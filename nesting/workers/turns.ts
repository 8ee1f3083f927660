/** What the pool has to know about a task to decide whose turn it is. */
export interface Turn {
  readonly state: 'waiting' | 'paused' | 'running';
  /** Number of the thread within its solve: the first alone gives a first layout. */
  readonly thread: number;
  readonly solve: { readonly id: number; readonly usedMs: number };
}

/**
 * Which tasks run next: those of the solves that have used least, and at equal use those that have not begun, so that
 * every solve has a first layout soon. No more than `maxOpen` tasks are begun and unfinished at once (each holds a
 * thread and its tables); places among these are kept for first threads.
 *
 * @param tasks all unfinished tasks
 * @param slots how many may run at once
 */
export function nextTurns<T extends Turn>(tasks: readonly T[], slots: number, maxOpen: number): T[] {
  let open = tasks.filter(({ state }) => state !== 'waiting').length;
  let firstWaiting = tasks.filter(({ state, thread }) => state === 'waiting' && thread === 0).length;
  const chosen: T[] = [];
  for (const task of [...tasks].sort(inTurn)) {
    if (chosen.length === slots) break;
    if (task.state === 'waiting') {
      const keptFree = task.thread === 0 ? 0 : firstWaiting;
      if (open + keptFree >= maxOpen) continue;
      open++;
      if (task.thread === 0) firstWaiting--;
    }
    chosen.push(task);
  }
  return chosen;
}

function inTurn(a: Turn, b: Turn): number {
  return (
    a.solve.usedMs - b.solve.usedMs ||
    Number(a.state !== 'waiting') - Number(b.state !== 'waiting') ||
    a.thread - b.thread ||
    a.solve.id - b.solve.id
  );
}
