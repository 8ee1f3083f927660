/** What the pool has to know about a task to decide whose turn it is. */
export interface Turn {
  readonly state: 'waiting' | 'paused' | 'running';
  /** Number of the thread within its solve. */
  readonly thread: number;
  readonly solve: { readonly id: number; readonly usedMs: number; readonly best: unknown };
}

/** A solve that has no layout to show yet may run so far ahead of the others, in ms. */
const FIRST_LAYOUT_CREDIT_MS = 1_000;

/**
 * Which tasks run next. First threads come first, those of the solves that have used least, with a credit for solves
 * that have nothing to show yet; a further thread begins only where a processor would be idle otherwise, so that
 * many solves at once go on with one thread each.
 *
 * @param tasks all unfinished tasks
 * @param slots how many may run at once
 * @param maxOpen how many may be begun and unfinished; each holds a thread and its tables
 */
export function nextTurns<T extends Turn>(tasks: readonly T[], slots: number, maxOpen: number): T[] {
  let open = tasks.filter(({ state }) => state !== 'waiting').length;
  const chosen: T[] = [];
  for (const task of [...tasks].sort(inTurn)) {
    if (chosen.length === slots) break;
    if (task.state === 'waiting' && open >= maxOpen) continue;
    if (task.state === 'waiting') open++;
    chosen.push(task);
  }
  return chosen;
}

function inTurn(a: Turn, b: Turn): number {
  return (
    Number(isUnbegunHelper(a)) - Number(isUnbegunHelper(b)) ||
    usedWithCredit(a) - usedWithCredit(b) ||
    Number(a.state !== 'waiting') - Number(b.state !== 'waiting') ||
    a.thread - b.thread ||
    a.solve.id - b.solve.id
  );
}

const isUnbegunHelper = ({ state, thread }: Turn) => state === 'waiting' && thread > 0;

const usedWithCredit = ({ solve, thread }: Turn) =>
  solve.usedMs - (solve.best === null && thread === 0 ? FIRST_LAYOUT_CREDIT_MS : 0);
