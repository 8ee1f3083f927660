import { t } from '../strings/index.ts';
import { faultText, Unreachable } from './http.ts';

/** Why a call to the server failed, in words. */
export function explain(error: unknown): string {
  return error instanceof Unreachable ? t.session.unreachable : faultText(error);
}
