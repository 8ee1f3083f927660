import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** A session that nobody uses ends after this … */
export const IDLE_MS = 7 * 86_400_000;
/** … and every session after this: then the password is asked for again. */
export const LONGEST_MS = 30 * 86_400_000;
/** Sessions at the same time; the one that was idle longest makes room. */
const MOST_SESSIONS = 500;

interface SessionFacts {
  readonly begunAt: number;
  usedAt: number;
}

/** 128 bits, as many as OWASP ASVS 4.0.3 asks of a session token (3.2.2 wants 64). */
export function randomSecret(): string {
  return randomBytes(16).toString('base64url');
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/** Compares without telling by its duration how much is right. */
export function isSame(one: string, other: string): boolean {
  return timingSafeEqual(digest(one), digest(other));
}

/**
 * Who is signed in. Sessions live in memory, by the hash of their token: a restart ends them all, and nothing on the
 * disk lets anyone in.
 */
export class Sessions {
  readonly #sessions = new Map<string, SessionFacts>();
  readonly #now: () => number;

  /** @param now milliseconds, by which sessions grow old */
  constructor(now: () => number = Date.now) {
    this.#now = now;
  }

  /** Begins a session and gives its token; it is shown to the browser alone. */
  begin(): string {
    this.#forget();
    const token = randomBytes(32).toString('base64url');
    const now = this.#now();
    this.#sessions.set(keyOf(token), { begunAt: now, usedAt: now });
    return token;
  }

  /** Key of the session with this token, by which its work is counted; undefined where there is none (any more). */
  use(token: string | undefined): string | undefined {
    if (token === undefined || token === '') return undefined;
    const key = keyOf(token);
    const session = this.#sessions.get(key);
    if (session === undefined) return undefined;
    const now = this.#now();
    if (isOver(session, now)) {
      this.#sessions.delete(key);
      return undefined;
    }
    session.usedAt = now;
    return key;
  }

  end(token: string | undefined): void {
    if (token !== undefined) this.#sessions.delete(keyOf(token));
  }

  get count(): number {
    return this.#sessions.size;
  }

  #forget(): void {
    const now = this.#now();
    for (const [key, session] of this.#sessions) if (isOver(session, now)) this.#sessions.delete(key);
    if (this.#sessions.size < MOST_SESSIONS) return;
    const [oldest] = [...this.#sessions].sort(([, one], [, other]) => one.usedAt - other.usedAt);
    if (oldest !== undefined) this.#sessions.delete(oldest[0]);
  }
}

function keyOf(token: string): string {
  return digest(token).toString('base64url');
}

function isOver({ begunAt, usedAt }: SessionFacts, now: number): boolean {
  return now - usedAt > IDLE_MS || now - begunAt > LONGEST_MS;
}
