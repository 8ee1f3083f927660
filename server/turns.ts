/**
 * Whose waiting work comes next: of the clients with the fewest runs under way the one that was served longest ago,
 * and of its work what was asked for first. So nobody waits for another's whole heap.
 * @param waiting in the order asked for
 * @param running the client of each run under way
 * @param served grows with each start; clients that never had one come first
 */
export function nextInTurn<Work extends { readonly client: string }>(
  waiting: readonly Work[],
  running: readonly string[],
  served: ReadonlyMap<string, number>,
): Work | undefined {
  const rank = ({ client }: Work): [number, number] => [
    running.filter((other) => other === client).length,
    served.get(client) ?? 0,
  ];
  let best: Work | undefined;
  for (const work of waiting) {
    if (best === undefined) best = work;
    else {
      const [runs, last] = rank(work);
      const [bestRuns, bestLast] = rank(best);
      if (runs < bestRuns || (runs === bestRuns && last < bestLast)) best = work;
    }
  }
  return best;
}
