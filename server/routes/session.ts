import { sessionStateSchema, signInSchema } from '../../pattern/exchange/signIn.ts';
import { type Access, cookieToken, identityOf, setSessionCookie } from '../http/access.ts';
import { type Operation, operation } from '../http/operation.ts';
import { Problem } from '../http/problem.ts';
import { isSame } from '../http/sessions.ts';

/** Signing in and out; on an open door there is nothing to sign in to. */
export function sessionOperations(access: Access | undefined): Operation[] {
  return [
    operation(
      {
        method: 'get',
        path: '/api/session',
        isOpen: true,
        id: 'readSession',
        summary: 'Tell whether a password is asked for, and whether this browser has given it',
        answers: { 200: { description: 'Both', schema: sessionStateSchema } },
      },
      ({ request }, response) => {
        response.json({
          required: access !== undefined,
          signedIn: access === undefined || identityOf(request, access) !== undefined,
        });
      },
    ),
    operation(
      {
        method: 'post',
        path: '/api/session',
        isOpen: true,
        id: 'signIn',
        summary: 'Sign in with the password, or with the key printed when the server started',
        body: signInSchema,
        answers: { 204: { description: 'Signed in: the session is in a cookie' } },
        problems: [401, 429],
      },
      ({ body, request }, response) => {
        if (access !== undefined) {
          if (!isSame(body.secret, access.secret)) throw wrongPassword();
          access.sessions.end(cookieToken(request));
          setSessionCookie(request, response, access.sessions.begin());
        }
        response.status(204).end();
      },
    ),
    operation(
      {
        method: 'delete',
        path: '/api/session',
        isOpen: true,
        id: 'signOut',
        summary: 'Sign out',
        answers: { 204: { description: 'Signed out' } },
      },
      ({ request }, response) => {
        access?.sessions.end(cookieToken(request));
        if (access !== undefined) setSessionCookie(request, response, undefined);
        response.status(204).end();
      },
    ),
  ];
}

function wrongPassword(): Problem {
  return new Problem({
    status: 401,
    kind: 'wrong-password',
    title: 'Wrong password',
    detail: 'This is not the password of this server.',
  });
}
