/** Where lays are worked out, if not in this process: how many places there are can change at any time. */
export interface Places {
  /** Lays that can be under way at once. */
  readonly count: () => number;
  /** Whether the way there is open. */
  readonly isReachable: () => boolean;
}
