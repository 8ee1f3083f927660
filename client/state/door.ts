import { Store } from './store.ts';

/** What stands between the page and the server. */
export type DoorState = 'open' | 'closed';

/** Closed as soon as any call is told to sign in first, open again after signing in. */
export class Door {
  readonly state = new Store<DoorState>('open');
  /** Whether there is a password at all, so that signing out makes sense. */
  readonly isGuarded = new Store(false);

  closes(): void {
    this.isGuarded.set(true);
    this.state.set('closed');
  }

  opens(): void {
    this.state.set('open');
  }
}

/** The key in an address such as `#key=…`, as the server prints it. */
export function keyInAddress(hash: string): string | null {
  return /^#key=([\w-]+)$/.exec(hash)?.[1] ?? null;
}
