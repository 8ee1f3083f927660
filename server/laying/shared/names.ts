/**
 * What lies in Redis, and under which names. They hold the program's version: a machine with another one must not work
 * on lays whose shapes it doesn't know.
 */
export interface SharedNames {
  /** Everything of the queue itself begins with it. */
  readonly prefix: string;
  readonly queue: string;
  /** Set of the ids of machines that work. */
  readonly workers: string;
  /** How many lays one of them works on at once; gone soon after it has. */
  readonly worker: (id: string) => string;
  /** Newest state of a lay, its last one, and whether it is to end, as JSON. */
  readonly progress: (job: string) => string;
  readonly result: (job: string) => string;
  readonly stop: (job: string) => string;
  /** On which the ids of lays that are to end are called out. */
  readonly stops: string;
}

/** The names for one version of the program; versions side by side keep out of each other's way. */
export function sharedNames(version: string): SharedNames {
  const prefix = 'clothlay';
  const of = (name: string): string => `${prefix}:${version}:${name}`;
  return {
    prefix,
    queue: `lays-${version}`,
    workers: of('workers'),
    worker: (id) => of(`worker:${id}`),
    progress: (job) => of(`progress:${job}`),
    result: (job) => of(`result:${job}`),
    stop: (job) => of(`stop:${job}`),
    stops: of('stops'),
  };
}

/** What a machine leaves as the end of a lay. */
export type SharedResult<Progress> =
  | { readonly done: Progress }
  | {
      readonly failed: { readonly name: string; readonly message: string; readonly code: string | undefined };
    };

/** What a job of the queue holds. */
export interface SharedJob {
  /** The request as JSON. */
  readonly request: string;
}

/** Results and states are forgotten by Redis after so long, s. */
export const KEPT_SECONDS = 3_600;
