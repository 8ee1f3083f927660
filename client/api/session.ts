import { type SessionState, sessionStateSchema } from '../../pattern/exchange/signIn.ts';
import { call, request } from './http.ts';

/** Whether this server asks for a password, and whether it has been given here. */
export function readSession(): Promise<SessionState> {
  return call('GET', '/api/session', sessionStateSchema);
}

/** Signs in; the session is a cookie that no script can read. @throws HttpProblem 401 for a wrong password, 429, Unreachable */
export async function signIn(secret: string): Promise<void> {
  await request('POST', '/api/session', { secret });
}

export async function signOut(): Promise<void> {
  await request('DELETE', '/api/session');
}
