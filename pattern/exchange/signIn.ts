import { z } from 'zod';

/** What travels between the page and the server about signing in. */

/** Body of `POST /api/session`. */
export const signInSchema = z.object({ secret: z.string().min(1).max(1_000) });

/** Answer of `GET /api/session`. */
export const sessionStateSchema = z.object({
  /** A password is asked for. */
  required: z.boolean(),
  /** It has been given, or none is asked for. */
  signedIn: z.boolean(),
});
export type SessionState = z.infer<typeof sessionStateSchema>;
