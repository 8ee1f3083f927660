/** Where the maker is: a step of the work, perhaps one thing in it. Kept in the address, so that back and reload work. */

export const STEPS = ['pieces', 'cutlist', 'cloths', 'plan', 'cut'] as const;
export type StepName = (typeof STEPS)[number];

export interface Route {
  /** Empty until a project is open. */
  readonly projectId: string;
  readonly step: StepName;
  /** Id of the piece or cloth that is open in the step. */
  readonly open: string | null;
  /** A place on the step that is pointed at once, when the maker arrives. */
  readonly at?: string | null;
}

export function readRoute(hash: string): Route {
  const [projectId = '', step = '', open = '', at = ''] = hash
    .replace(/^#\/?/, '')
    .split('/')
    .map((part) => safeDecode(part));
  return {
    projectId,
    step: STEPS.find((name) => name === step) ?? 'pieces',
    open: open === '' ? null : open,
    ...(at === '' ? {} : { at }),
  };
}

export function writeRoute(route: Route): string {
  const { projectId, step, open, at } = route;
  const parts = [projectId, step, ...(open === null && !at ? [] : [open ?? '']), ...(at ? [at] : [])];
  return `#/${parts.map(encodeURIComponent).join('/')}`;
}

function safeDecode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return '';
  }
}
