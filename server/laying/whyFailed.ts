/** What an error says of itself, whichever thread or machine it comes from. */
export function codeOf(error: unknown): unknown {
  if (!(error instanceof Error)) return undefined;
  const { code, facts } = error as Error & {
    readonly code?: unknown;
    readonly facts?: { readonly code?: unknown };
  };
  return code ?? facts?.code;
}

/** Whether a lay ended because it was told to, and could not be waited for. */
export function wasStopped(error: unknown): boolean {
  return codeOf(error) === 'stopped';
}

/** One sentence or two for whoever asked for the lay; what was found before stays with it. */
export function whyFailed(error: unknown): string {
  switch (codeOf(error)) {
    case 'outOfMemory':
      return 'The lay needed more memory than one may take and was ended. Lay fewer pieces at a time, or make their outlines simpler.';
    case 'crashed':
    case 'died':
      return 'What was at work on this lay broke down more than once, and the lay was given up. Try it again; the server log has the rest.';
    case 'closed':
      return 'The server is shutting down.';
    default:
      return 'The lay could not be worked out because of a fault in the program; it is in the server log.';
  }
}
